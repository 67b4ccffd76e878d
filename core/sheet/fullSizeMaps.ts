/** The numbered maps at full size, each over as many sheets as it needs. */

import { type Job, within } from "../job.ts";
import type { Vec3 } from "../vector.ts";
import { drawBlockAslant } from "./aslant.ts";
import { newDrawing } from "./drawing.ts";
import type { SheetInput } from "./drawSheets.ts";
import { blockExtent } from "./faces.ts";
import type { SheetPage } from "./flow.ts";
import { drawBlock, drawFigureLines, drawNumbers, paperFrame, placeNumbers, wordBoxes } from "./mapPicture.ts";
import { PAPER_SIZES } from "./paper.ts";
import { readFonts, writePdf } from "./sheetPdf.ts";
import { drawSpared } from "./sparedGround.ts";
import { tilePages } from "./tiles.ts";
import { drawViews } from "./views.ts";

const AROUND = 14;
const STAGE = "drawing the full-size maps";

/** A PDF of every map at 1:1; the same points on the same sides as on the small maps. */
export function* drawFullSizeMaps(input: SheetInput): Job<{ readonly pdf: Uint8Array; readonly pages: number }> {
	const { plan } = input;
	const fonts = readFonts(input.fonts);
	const { maps, linesOf } = yield* within(
		drawViews(input, () => 1),
		0,
		0.65,
	);
	const block = plan.stone.extent_mm as Vec3;
	const pages: SheetPage[] = [];
	for (const view of maps) {
		const extent = blockExtent(block, view.axes);
		const [width, height] = [extent.x1 - extent.x0, extent.y1 - extent.y0];
		const on = newDrawing(width + 2 * AROUND, height + 2 * AROUND, `${view.words}, full size`);
		const room = { x0: 1, y0: 1, x1: on.width - 1, y1: on.height - 1 };
		const toPaper = paperFrame(room, extent, 1);
		drawFigureLines(on, linesOf(view), toPaper);
		drawSpared(on, plan, view.axes, 1, toPaper);
		if (view.face === null) drawBlockAslant(on, block, view.axes, toPaper);
		else drawBlock(on, plan, view.face, toPaper);
		drawNumbers(on, view.shown, placeNumbers(fonts, view.shown, toPaper, room, wordBoxes(fonts, on)), toPaper);
		pages.push(...tilePages(fonts, PAPER_SIZES[plan.sheet.paper], on, "1:1"));
		yield { stage: STAGE, share: 0.7 };
	}
	const set = { what: "full-size maps", subject: `Point maps at full size, ${plan.points.length} points` };
	const pdf = yield* within(writePdf(fonts, input.fonts, plan, pages, set), 0.7, 1);
	return { pdf, pages: pages.length };
}
