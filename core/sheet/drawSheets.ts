/** The printed sheets of a plan: cover, yard page, seats, index, maps, tables, lists; as PDF, maps also as SVG, points as CSV. */

import { progressOf } from "../bench/progress.ts";
import type { CurvatureField } from "../curvature/principalCurvatures.ts";
import { type Job, within } from "../job.ts";
import type { LogEntry } from "../plan/commission.ts";
import type { Plan } from "../plan/planFile.ts";
import type { TriangleMesh } from "../scan/mesh.ts";
import type { Vec3 } from "../vector.ts";
import { writeCover } from "./cover.ts";
import { cutPages } from "./cutPages.ts";
import { blockExtent, type ViewAxes } from "./faces.ts";
import { newFlow, type SheetPage } from "./flow.ts";
import type { Fonts } from "./fontMetrics.ts";
import type { Ground } from "./hatching.ts";
import { leftPage } from "./leftPage.ts";
import { listedPoints } from "./listedPoints.ts";
import { type MapPage, type MapScale, mapPages, mapScale } from "./maps.ts";
import { numberIndex } from "./numberIndex.ts";
import { PAPER_SIZES } from "./paper.ts";
import { writeCsv } from "./pointsCsv.ts";
import { pointTables } from "./pointTables.ts";
import { writeSeats } from "./seatPages.ts";
import { type FontFiles, readFonts, writePdf } from "./sheetPdf.ts";
import { writeSvg } from "./svgWriter.ts";
import { type DrawnViews, drawViews } from "./views.ts";
import { type LeastBlock, writeYardPage } from "./yardPage.ts";

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
	/** The least block for this figure, for the yard. */
	readonly least?: LeastBlock | null;
	readonly fonts: FontFiles;
}

export interface SheetMap {
	/** "front", "front-2" where a view needs more than one sheet, "view-a" for an added one, … */
	readonly name: string;
	/** The side that it shows, or the name of an added view; the same on all its sheets. */
	readonly view: string;
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
	const { views, maps } = yield* within(drawMaps(input, fonts), 0, 0.73);
	const pages = putTogether(fonts, plan, frontPages(fonts, plan, mesh, views, input.least ?? null), maps);
	yield { stage: STAGE, share: 0.75 };
	const set = { what: "sheets", subject: `Point map and drilling tables, ${plan.points.length} points` };
	const pdf = yield* within(writePdf(fonts, input.fonts, plan, pages, set), 0.75, 1);
	return {
		pdf,
		csv: writeCsv(plan),
		maps: maps.map(({ name, view, drawing }) => ({ name, view, fileName: `map-${name}.svg`, svg: writeSvg(drawing) })),
		pages: pages.length,
	};
}

/** The sheets of only what is left: what is done and left, then maps, tables and index of those points alone. */
export function* drawLeft(input: SheetInput, log: readonly LogEntry[], day: string): Job<Uint8Array> {
	const fonts = readFonts(input.fonts);
	const { left } = progressOf(input.plan, log);
	const plan = { ...input.plan, points: [...left] };
	const { maps } = yield* within(drawMaps({ ...input, plan }, fonts), 0, 0.73);
	const pages = putTogether(fonts, plan, leftPage(fonts, input.plan, log, day), maps);
	yield { stage: STAGE, share: 0.75 };
	const set = { what: "what is left", subject: `Points left to drill, ${left.length}` };
	return yield* within(writePdf(fonts, input.fonts, plan, pages, set), 0.75, 1);
}

function* drawMaps(input: SheetInput, fonts: Fonts): Job<{ views: DrawnViews; maps: MapPage[] }> {
	const { plan } = input;
	yield { stage: STAGE, share: 0.02 };
	const scaleOf = (axes: ViewAxes): MapScale => {
		const { x0, y0, x1, y1 } = blockExtent(plan.stone.extent_mm as Vec3, axes);
		return mapScale(PAPER_SIZES[plan.sheet.paper], x1 - x0, y1 - y0);
	};
	const views = yield* within(
		drawViews(input, (axes) => scaleOf(axes).ratio),
		0.02,
		0.82,
	);
	const maps: MapPage[] = [];
	for (const [i, view] of views.maps.entries()) {
		maps.push(...mapPages(fonts, plan, view, views.linesOf(view), scaleOf(view.axes)));
		yield { stage: STAGE, share: 0.82 + (0.18 * (i + 1)) / views.maps.length };
	}
	return { views, maps };
}

/** What comes before the first number: cover, yard page, seats, cuts. */
function frontPages(
	fonts: Fonts,
	plan: Plan,
	mesh: TriangleMesh,
	views: DrawnViews,
	least: LeastBlock | null,
): SheetPage[] {
	const paper = PAPER_SIZES[plan.sheet.paper];
	const [front, left, top] = (["front", "left", "top"] as const).map(views.linesFrom);
	const cover = newFlow(fonts, paper, "Cover");
	writeCover(cover, plan, { front, top });
	const yard = newFlow(fonts, paper, "For the yard", 0);
	writeYardPage(yard, plan, { front, left }, least);
	const seats = newFlow(fonts, paper, "Seats and faces");
	writeSeats(seats, plan);
	return [...cover.pages, ...yard.pages, ...written(seats.pages), ...cutPages(fonts, plan, mesh, paper)];
}

const written = (pages: readonly SheetPage[]): readonly SheetPage[] =>
	pages.some((p) => p.drawing.shapes.length > 0) ? pages : [];

/**
 * All pages in their order: the index stands before what it points to. Its length does not hang on what it says, so the maps'
 * page numbers are known before tables and lists name them, and theirs before the index does.
 */
function putTogether(fonts: Fonts, plan: Plan, front: readonly SheetPage[], maps: readonly MapPage[]): SheetPage[] {
	const paper = PAPER_SIZES[plan.sheet.paper];
	const indexLength = numberIndex(fonts, plan, paper, () => ({ map: "", table: "" })).length;
	const firstMap = front.length + indexLength + 1;
	const mapOf = new Map<number, number>();
	for (const [i, map] of maps.entries())
		for (const number of map.numbers) if (!mapOf.has(number)) mapOf.set(number, firstMap + i);
	const pageWords = (page: number | undefined): string => (page === undefined ? "–" : String(page));
	const mapPage = (number: number): string => pageWords(mapOf.get(number));

	const tables = pointTables(fonts, plan, paper, { mapPage });
	const lists = newFlow(fonts, paper, "Undercuts and places by eye");
	const listed = listedPoints(lists, plan, { mapPage });
	const firstTable = firstMap + maps.length;
	const firstList = firstTable + tables.pages.length;
	const index = numberIndex(fonts, plan, paper, (number) => {
		const inTable = tables.pageOf.get(number);
		const inList = listed.get(number);
		const table = inTable !== undefined ? firstTable + inTable : inList !== undefined ? firstList + inList : undefined;
		return { map: mapPage(number), table: pageWords(table) };
	});
	return [...front, ...index, ...maps, ...tables.pages, ...written(lists.pages)];
}
