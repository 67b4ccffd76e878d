/** The printed sheets of a plan: cover, maps, faces, tables, lists; as PDF, with each map as SVG and the points as CSV. */

import type { CurvatureField } from "../curvature/principalCurvatures.ts";
import { type Job, within } from "../job.ts";
import type { FaceName } from "../plan/commission.ts";
import type { Plan } from "../plan/planFile.ts";
import type { TriangleMesh } from "../scan/mesh.ts";
import type { Vec3 } from "../vector.ts";
import { writeCover } from "./cover.ts";
import { cutPages } from "./cutPages.ts";
import { faceSketches } from "./faceSketches.ts";
import { FACE_ORDER, FACE_VIEWS, flatFace } from "./faces.ts";
import { drawFigure, type FigureLines, prepareFigure } from "./figureLines.ts";
import { newFlow, type SheetPage } from "./flow.ts";
import type { Ground } from "./hatching.ts";
import { listedPoints } from "./listedPoints.ts";
import { type MapPage, mapPages, mapScale } from "./maps.ts";
import { placementOf, shareOutPoints } from "./mapViews.ts";
import { PAPER_SIZES } from "./paper.ts";
import { writeCsv } from "./pointsCsv.ts";
import { pointTables } from "./pointTables.ts";
import { type FontFiles, readFonts, writePdf } from "./sheetPdf.ts";
import { writeSvg } from "./svgWriter.ts";

export interface SheetInput {
	readonly plan: Plan;
	/** Model frame, mm. */
	readonly mesh: TriangleMesh;
	/** x, y, z of each vertex's normal, smoothed over the smallest form; model frame. */
	readonly normals: Float64Array;
	/** Of the same mesh and smallest form; without it the maps show no creases. */
	readonly curvature?: CurvatureField;
	/** Ground to be hatched on the maps. */
	readonly grounds?: readonly Ground[];
	readonly fonts: FontFiles;
}

export interface SheetMap {
	/** "front", "front-2" where a view needs more than one sheet, … */
	readonly name: string;
	readonly fileName: string;
	readonly svg: string;
}

export interface Sheets {
	readonly pdf: Uint8Array;
	readonly csv: string;
	readonly maps: SheetMap[];
	readonly pages: number;
}

const STAGE = "drawing the sheets";

/**
 * Draws every page. The same input gives the same bytes everywhere: nothing is taken from a clock or from chance.
 * Refuses "sheet.font" where a font file cannot be read.
 */
export function* drawSheets(input: SheetInput): Job<Sheets> {
	const { plan, mesh } = input;
	if (input.normals.length !== mesh.positions.length)
		throw new Error(`normals: ${input.normals.length} numbers for ${mesh.positions.length} coordinates`);
	const fonts = readFonts(input.fonts);
	const paper = PAPER_SIZES[plan.sheet.paper];
	yield { stage: STAGE, share: 0.02 };

	const prepared = prepareFigure(mesh, input.normals, input.curvature ?? null, input.grounds ?? []);
	const figure = yield* within(prepared, 0.02, 0.1);
	const placement = placementOf(plan);
	const scales = (face: FaceName) => {
		const flat = flatFace(FACE_VIEWS[face], plan.stone.extent_mm as Vec3);
		return mapScale(paper, flat.width, flat.height);
	};
	const drawn = new Map<FaceName, FigureLines>();
	for (const [i, face] of FACE_ORDER.entries()) {
		const job = drawFigure(figure, FACE_VIEWS[face], placement, 0.1 * scales(face).ratio);
		drawn.set(face, yield* within(job, 0.1 + 0.08 * i, 0.18 + 0.08 * i));
	}
	const linesFrom = (face: FaceName): FigureLines => drawn.get(face) as FigureLines;
	const front = newFlow(fonts, paper, "Cover");
	writeCover(front, plan, { front: linesFrom("front"), top: linesFrom("top") });
	faceSketches(front, plan);

	const views = shareOutPoints(plan, (face) => linesFrom(face).grid);
	const maps: MapPage[] = [];
	for (const [i, view] of views.entries()) {
		maps.push(...mapPages(fonts, plan, view, linesFrom(view.face), scales(view.face)));
		yield { stage: STAGE, share: 0.6 + (0.15 * (i + 1)) / views.length };
	}
	const lists = newFlow(fonts, paper, "Undercuts and places by eye");
	listedPoints(lists, plan);
	const written = (pages: readonly SheetPage[]): readonly SheetPage[] =>
		pages.some((p) => p.drawing.shapes.length > 0) ? pages : [];
	const pages: SheetPage[] = [
		...front.pages,
		...cutPages(fonts, plan, mesh, paper),
		...maps,
		...pointTables(fonts, plan, paper),
		...written(lists.pages),
	];
	yield { stage: STAGE, share: 0.75 };
	const set = { what: "sheets", subject: `Point map and drilling tables, ${plan.points.length} points` };
	const pdf = yield* within(writePdf(fonts, input.fonts, plan, pages, set), 0.75, 1);
	return {
		pdf,
		csv: writeCsv(plan),
		maps: maps.map(({ name, drawing }) => ({ name, fileName: `map-${name}.svg`, svg: writeSvg(drawing) })),
		pages: pages.length,
	};
}
