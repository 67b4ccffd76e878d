/** The numbered maps at full size, each over as many sheets as it needs. */

import { type Job, within } from "../job.ts";
import { SIDE_WORDS } from "../text/sheetWords.ts";
import type { Vec3 } from "../vector.ts";
import { newDrawing } from "./drawing.ts";
import type { SheetInput } from "./drawSheets.ts";
import { FACE_ORDER, FACE_VIEWS, flatFace } from "./faces.ts";
import { drawFigure, type FigureLines, prepareFigure } from "./figureLines.ts";
import type { SheetPage } from "./flow.ts";
import { drawBlock, drawFigureLines, drawNumbers, paperFrame, placeNumbers } from "./mapPicture.ts";
import { placementOf, shareOutPoints } from "./mapViews.ts";
import { PAPER_SIZES } from "./paper.ts";
import { readFonts, writePdf } from "./sheetPdf.ts";
import { tilePages } from "./tiles.ts";

const AROUND = 14;
const STAGE = "drawing the full-size maps";

/** A PDF of every map at 1:1; the same points on the same sides as on the small maps. */
export function* drawFullSizeMaps(input: SheetInput): Job<{ readonly pdf: Uint8Array; readonly pages: number }> {
	const { plan, mesh } = input;
	const fonts = readFonts(input.fonts);
	const prepared = prepareFigure(mesh, input.normals, input.curvature ?? null, input.grounds ?? []);
	const figure = yield* within(prepared, 0.02, 0.1);
	const drawn: FigureLines[] = [];
	for (const [i, face] of FACE_ORDER.entries()) {
		const job = drawFigure(figure, FACE_VIEWS[face], placementOf(plan), 0.1);
		drawn.push(yield* within(job, 0.1 + 0.08 * i, 0.18 + 0.08 * i));
	}
	const linesFrom = (face: (typeof FACE_ORDER)[number]): FigureLines => drawn[FACE_ORDER.indexOf(face)];
	const block = plan.stone.extent_mm as Vec3;
	const pages: SheetPage[] = [];
	for (const view of shareOutPoints(plan, (face) => linesFrom(face).grid)) {
		const flat = flatFace(FACE_VIEWS[view.face], block);
		const words = `${SIDE_WORDS[view.face].seen}, full size`;
		const on = newDrawing(flat.width + 2 * AROUND, flat.height + 2 * AROUND, words);
		const room = { x0: 1, y0: 1, x1: on.width - 1, y1: on.height - 1 };
		const toPaper = paperFrame(room, flat, view.face, block, 1);
		drawFigureLines(on, linesFrom(view.face), toPaper);
		drawBlock(on, plan, flat, view.face, toPaper);
		drawNumbers(on, view.shown, placeNumbers(fonts, view.shown, toPaper, room), toPaper);
		pages.push(...tilePages(fonts, PAPER_SIZES[plan.sheet.paper], on, "1:1"));
		yield { stage: STAGE, share: 0.7 };
	}
	const set = { what: "full-size maps", subject: `Point maps at full size, ${plan.points.length} points` };
	const pdf = yield* within(writePdf(fonts, input.fonts, plan, pages, set), 0.7, 1);
	return { pdf, pages: pages.length };
}
