/** The placement drawing: the figure in the block from the front and from above, with dimensions and the marked corner. */

import type { Plan } from "../plan/planFile.ts";
import { lengthNumber, lengthText, unitWord } from "../text/format.ts";
import { type Drawing, dimension, disc, line, rect, text } from "./drawing.ts";
import { edgesSeen } from "./faceDrawing.ts";
import { FACE_VIEWS, shownSets } from "./faces.ts";
import type { FigureLines } from "./figureLines.ts";
import type { Flow } from "./flow.ts";
import { wrapText } from "./fontMetrics.ts";
import { RATIOS } from "./maps.ts";
import { inView } from "./projection.ts";
import { BODY, body, bodyBold, INK, PAPER, quiet, RADDLE, rule, SLATE, strong } from "./style.ts";

/** Room beside a view for its dimensions, mm. */
const BESIDE = 19;
const TALLEST = 92;

export function drawPlacement(
	flow: Flow,
	plan: Plan,
	views: { readonly front: FigureLines; readonly top: FigureLines },
): void {
	const [length, width, height] = plan.stone.extent_mm;
	const room = (flow.columnWidth - 4 * BESIDE) / 2;
	const most = Math.max(length / room, height / TALLEST, width / TALLEST);
	const ratio = RATIOS.find((r) => r >= most) ?? Math.ceil(most / 100) * 100;
	const tall = Math.max(height, width) / ratio;
	const words = `Scale 1:${ratio}. The red spot is the marked corner: bed, front and left meet there. Red figures: gaps between figure and skin, each where the line stands; ${gaps(plan)}.`;
	const told = wrapText(flow.fonts, words, flow.columnWidth, BODY);
	const s = flow.take(tall + 33 + BODY * 1.34 * told.length);
	const half = flow.columnWidth / 2;
	const foot = s.y + 10 + tall;
	oneView(s.on, plan, "front", views.front, s.x + half / 2 - length / ratio / 2, foot, ratio, height);
	oneView(s.on, plan, "top", views.top, s.x + half * 1.5 - length / ratio / 2, foot, ratio, width);
	text(s.on, s.x + half / 2, s.y + 4.4, "from the front", { ...bodyBold, anchor: "middle" });
	text(s.on, s.x + half * 1.5, s.y + 4.4, "from above (front edge below)", { ...bodyBold, anchor: "middle" });
	const y = s.y + 10 + tall + 19;
	for (const [i, l] of told.entries()) text(s.on, s.x, y + BODY + i * BODY * 1.34, l, quiet);
}

const gaps = (plan: Plan): string =>
	plan.stone.perFace.map((f) => `${f.face} ${lengthNumber(f.gap_mm, plan.sheet.units)}`).join(", ") +
	(plan.stone.perFace.length > 0 ? ` ${unitWord(plan.sheet.units)}` : "not listed");

function oneView(
	on: Drawing,
	plan: Plan,
	face: "front" | "top",
	lines: FigureLines,
	x: number,
	foot: number,
	ratio: number,
	tall: number,
): void {
	const units = plan.sheet.units;
	const w = plan.stone.extent_mm[0] / ratio;
	const h = tall / ratio;
	const at = (px: number, py: number): readonly [number, number] => [x + px / ratio, foot - py / ratio];
	const onPaper = (all: readonly Float64Array[]): Float64Array[] =>
		all.map((p) => {
			const q = new Float64Array(p.length);
			for (let i = 0; i < p.length; i += 2) [q[i], q[i + 1]] = at(p[i], p[i + 1]);
			return q;
		});
	on.shapes.push({ kind: "lines", lines: onPaper(lines.outline), pen: { colour: INK, width: 0.22 } });
	const edges = edgesSeen(plan, FACE_VIEWS[face]);
	if (edges) on.shapes.push({ kind: "lines", lines: onPaper(edges), pen: strong });
	rect(on, x, foot - h, w, h, { pen: edges ? rule : strong });
	disc(on, x, foot, 1.5, { fill: RADDLE });
	const look = { ...body, colour: SLATE };
	dimension(on, rule, [x, foot + 11.5], [x + w, foot + 11.5], lengthText(plan.stone.extent_mm[0], units, 0), look);
	dimension(on, rule, [x - 11.5, foot], [x - 11.5, foot - h], lengthText(tall, units, 0), look);
	// Gaps between figure and block, where the outermost places of the figure stand.
	const [left, low, right, high] = lines.extremes;
	const red = { ...body, colour: RADDLE };
	const pen = { colour: RADDLE, width: 0.3 };
	const gap = (from: readonly [number, number], until: readonly [number, number]): void => {
		on.shapes.push({ kind: "lines", lines: [[...at(...from), ...at(...until)]], pen });
	};
	const mm = (v: number): string => lengthNumber(v, units);
	gap([0, left[1]], left);
	text(on, x - 1.2, at(0, left[1])[1] + 1.1, mm(left[0]), { ...red, anchor: "end" });
	gap([plan.stone.extent_mm[0], right[1]], right);
	text(on, x + w + 1.2, at(0, right[1])[1] + 1.1, mm(plan.stone.extent_mm[0] - right[0]), red);
	gap([low[0], 0], low);
	text(on, Math.max(at(low[0], 0)[0], x + 10), foot + 4.2, mm(low[1]), { ...red, anchor: "middle" });
	gap([high[0], tall], high);
	text(on, at(high[0], 0)[0], foot - h - 1.4, mm(tall - high[1]), { ...red, anchor: "middle" });
	line(on, pen, x, foot + 1.5, x, foot + 13);
	text(on, x - 1, foot + 16.4, "marked corner", { ...red, bold: true });
	for (const set of shownSets(plan))
		for (const d of set.datums) {
			const [dx, dy] = inView(FACE_VIEWS[face], d.stone_mm);
			const [px, py] = at(dx, dy);
			disc(on, px, py, 1.9, { fill: PAPER, pen: { colour: RADDLE, width: 0.3 } });
			text(on, px, py + 1.15, d.name, { size: BODY, colour: RADDLE, bold: true, anchor: "middle" });
		}
}
