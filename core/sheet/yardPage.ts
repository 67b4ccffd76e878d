/** The yard page: which stone to order or to pick, how it lies, where it must be sound, what it weighs, how it is lifted. */

import { THIN_MM } from "../drilling/thinParts.ts";
import { FILTER_KG } from "../finish/lifting.ts";
import type { Plan } from "../plan/planFile.ts";
import { LEAST_OTHERS, leastProof } from "../text/fitWords.ts";
import { finely, lengthNumber, lengthText, massRangeText, orderNumber, sizeText, unitWord } from "../text/format.ts";
import { LIFTING, OVER_HANDS, YARD_LOOKS } from "../text/yardWords.ts";
import { place, type Vec3 } from "../vector.ts";
import { type Drawing, dimension, disc, line, polygon, rect, text } from "./drawing.ts";
import { blockExtent, FACE_VIEWS } from "./faces.ts";
import { fact, noted } from "./facts.ts";
import type { FigureLines } from "./figureLines.ts";
import type { Flow } from "./flow.ts";
import { hatchWhere } from "./hatching.ts";
import { cornerMark, paperFrame, type ToPaper } from "./mapPicture.ts";
import { RATIOS } from "./maps.ts";
import { body, bodyBold, INK, quiet, RADDLE, rule, SLATE, strong } from "./style.ts";
import { bedWords, drawNature, flawWords, natureKey } from "./yardNature.ts";

/** The least block that the figure needs; null where it was not worked out. */
export interface LeastBlock {
	/** Sides of the block of least volume with the margins in, mm. */
	readonly sides: Vec3;
	/** Sides to order: rounded up to what a yard saws, mm. */
	readonly sawn: Vec3;
	readonly certified: boolean;
}

export interface YardViews {
	readonly front: FigureLines;
	readonly left: FigureLines;
}

/** Room beside a view for its dimensions, and its greatest height, mm. */
const BESIDE = 16;
const TALLEST = 96;

export function writeYardPage(flow: Flow, plan: Plan, views: YardViews, least: LeastBlock | null): void {
	flow.heading("The stone for this figure");
	whichStone(flow, plan, least);
	flow.heading("Where it must be sound", TALLEST + 20);
	drawViews(flow, plan, views);
	flow.heading("What to look for, and how it is lifted", 20);
	for (const { about, words } of YARD_LOOKS) noted(flow, about, words);
	noted(flow, "Slings", LIFTING);
}

function whichStone(flow: Flow, plan: Plan, least: LeastBlock | null): void {
	const { stone } = plan;
	const { units } = plan.sheet;
	const threeSides = (v: readonly number[], write: (mm: number) => string): string =>
		`${v.map(write).join(" × ")} ${unitWord(units)}`;
	const ordered = (mm: number): string => (stone.blockAssumed ? orderNumber(mm, units) : lengthNumber(mm, units, 0));
	flow.gap(1);
	fact(flow, "Kind", stone.kind);
	fact(
		flow,
		stone.blockAssumed ? "Order" : "This block",
		`${threeSides(stone.extent_mm, ordered)} (length × width × height as it is carved)${stone.blockAssumed ? ", the smallest that a yard saws" : ""}`,
	);
	if (least) {
		fact(
			flow,
			"Least volume",
			`${threeSides(least.sides, (mm) => lengthNumber(mm, finely(units)))}, margins in, ${leastProof(least.certified)}; sawn ${threeSides(least.sawn, (mm) => orderNumber(mm, units))}. ${LEAST_OTHERS}`,
		);
	}
	fact(
		flow,
		"Weight dry",
		`${massRangeText(...stone.stone_kg)}${Math.max(...stone.stone_kg) > FILTER_KG.men ? `; ${OVER_HANDS}` : ""}`,
	);
	const wet = stone.stoneWet_kg;
	fact(
		flow,
		"Weight wet",
		wet ? `up to ${massRangeText(wet[1], wet[1])}` : "not known for this stone: ask how much water it takes up",
	);
	fact(flow, "Way up", "the bed face lies under the figure's foot; the arrow points up");
	fact(flow, "Natural bed", bedWords(plan));
	for (const { about, words } of flawWords(plan)) fact(flow, about, words);
}

function drawViews(flow: Flow, plan: Plan, views: YardViews): void {
	const [length, width, height] = plan.stone.extent_mm;
	const room = (flow.columnWidth - 4 * BESIDE) / 2;
	const most = Math.max(Math.max(length, width) / room, height / TALLEST);
	const ratio = RATIOS.find((r) => r >= most) ?? Math.ceil(most / 100) * 100;
	const tall = height / ratio;
	const s = flow.take(tall + 21);
	const half = flow.columnWidth / 2;
	for (const [i, face] of (["front", "left"] as const).entries()) {
		const middle = s.x + half * (i + 0.5);
		text(s.on, middle, s.y + 4.4, `from the ${face}`, { ...bodyBold, anchor: "middle" });
		oneView(s.on, plan, face, views[face], middle, s.y + 9, ratio);
	}
	flow.paragraph(
		`Scale 1:${ratio}. Hatched: the figure; sound stone here, and none of it within a crack's reach. Crosses: parts under ${sizeText(THIN_MM, plan.sheet.units, 0)} thick, the soundest stone of all. ${natureKey(plan)} Arrow: way up. Red corner: the marked corner.`,
		quiet,
	);
}

function oneView(
	on: Drawing,
	plan: Plan,
	face: "front" | "left",
	lines: FigureLines,
	middle: number,
	top: number,
	ratio: number,
): void {
	const { units } = plan.sheet;
	const extent = blockExtent(plan.stone.extent_mm as Vec3, FACE_VIEWS[face]);
	const [wide, tall] = [extent.x1 - extent.x0, extent.y1 - extent.y0];
	const [w, h] = [wide / ratio, tall / ratio];
	const room = { x0: middle - w / 2, y0: top, x1: middle + w / 2, y1: top + h };
	const to = paperFrame(room, extent, ratio);
	const [left, low, right, high] = lines.extremes;
	const within = [left[0], low[1], right[0], high[1]] as const;
	const inFigure = (x: number, y: number): boolean => lines.grid.frontmost(x, y) >= 0;
	const hatched = hatchWhere(inFigure, 1, 2.4 * ratio, within).map((l) => onPaper(l, to));
	on.shapes.push({ kind: "lines", lines: hatched, pen: { colour: SLATE, width: 0.13 } });
	on.shapes.push({ kind: "lines", lines: lines.outline.map((l) => onPaper(l, to)), pen: { colour: INK, width: 0.25 } });
	rect(on, room.x0, room.y0, w, h, { pen: strong });
	thinParts(on, plan, face, to);
	cornerMark(on, face === "front" ? room.x0 : room.x1, room.y1, 2.6, -1, face === "front" ? 1 : -1);
	drawNature(on, plan, face, room, to);
	const look = { ...body, colour: SLATE };
	dimension(on, rule, [room.x0, room.y1 + 7], [room.x1, room.y1 + 7], lengthText(wide, units, 0), look);
	dimension(on, rule, [room.x0 - 5, room.y1], [room.x0 - 5, room.y0], lengthText(tall, units, 0), look);
	const [cx, cy] = [middle, (room.y0 + room.y1) / 2];
	const pen = { colour: INK, width: 0.3 };
	line(on, pen, cx - 2, cy, cx + 2, cy);
	line(on, pen, cx, cy - 2, cx, cy + 2);
	disc(on, cx, cy, 1.2, { pen });
	for (const x of [room.x0 + w / 4, room.x1 - w / 4])
		polygon(on, [x, room.y1 + 0.6, x + 1.5, room.y1 + 3, x - 1.5, room.y1 + 3], { fill: INK });
}

const onPaper = (l: Float64Array, to: ToPaper): Float64Array => {
	const moved = new Float64Array(l.length);
	for (let i = 0; i < l.length; i += 2) [moved[i], moved[i + 1]] = to(l[i], l[i + 1]);
	return moved;
};

function thinParts(on: Drawing, plan: Plan, face: "front" | "left", to: ToPaper): void {
	const view = FACE_VIEWS[face];
	const pen = { colour: RADDLE, width: 0.35 };
	for (const p of plan.points) {
		if (p.thickness_mm === null || p.thickness_mm >= THIN_MM) continue;
		const [sx, sy, sz] = place(plan.stone.placement, p.model_mm as Vec3);
		const across = view.right[0] * sx + view.right[1] * sy + view.right[2] * sz;
		const [x, y] = to(across, sz);
		line(on, pen, x - 0.8, y - 0.8, x + 0.8, y + 0.8);
		line(on, pen, x - 0.8, y + 0.8, x + 0.8, y - 0.8);
	}
}
