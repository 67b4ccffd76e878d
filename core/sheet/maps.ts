/** The numbered maps: the figure seen square on from a side of the stone, every point with its mark and number. */

import type { FaceName } from "../plan/commission.ts";
import type { Plan } from "../plan/planFile.ts";
import { finely, lengthText, sizeText } from "../text/format.ts";
import type { Vec3 } from "../vector.ts";
import { drawBlockAslant, viewCompass, viewWords } from "./aslant.ts";
import { arrow, type Drawing, disc, line, newDrawing, rect, text } from "./drawing.ts";
import { blockExtent } from "./faces.ts";
import type { FigureLines } from "./figureLines.ts";
import type { SheetPage } from "./flow.ts";
import { type Fonts, textWidth } from "./fontMetrics.ts";
import { type GroundKind, HATCHES, hatchSwatch } from "./hatching.ts";
import type { Box, PlacedLabel } from "./labels.ts";
import {
	cornerMark,
	drawBlock,
	drawFigureLines,
	drawNumbers,
	paperFrame,
	placeNumbers,
	wordBoxes,
} from "./mapPicture.ts";
import { type MapView, properLeftSide, type ShownPoint } from "./mapViews.ts";
import { landscape, type PaperSize, pageFrame } from "./paper.ts";
import { drilledFromFaces } from "./pointColumns.ts";
import { drawMark } from "./roundMarks.ts";
import { drawSpared } from "./sparedGround.ts";
import { BODY, body, heading, INK, PAPER, quiet, RADDLE, rule, SLATE, strong } from "./style.ts";

/** Plain ratios of paper to stone, 1 : n. */
export const RATIOS: readonly number[] = [1, 2, 2.5, 3, 4, 5, 10, 15, 20, 25, 30, 40, 50, 100, 200];

/** Room of a map page for its title above, bars and legend below, the upright bar on the left, and arrows around the block. */
const TITLE = 21;
const LEGEND = 32;
const BAR = 11;
const AROUND = 10;

export interface MapScale {
	readonly size: PaperSize;
	/** mm of stone to a millimetre of paper. */
	readonly ratio: number;
}

/** The largest plain ratio at which a face of that size fits, and which way the paper then lies; portrait where both do. */
export function mapScale(paper: PaperSize, width: number, height: number): MapScale {
	const smallest = (size: PaperSize): number => {
		const room = drawingRoom(size);
		const most = Math.max(width / (room.x1 - room.x0 - 2 * AROUND), height / (room.y1 - room.y0 - 2 * AROUND));
		return RATIOS.find((r) => r >= most - 1e-9) ?? Math.ceil(most / 100) * 100;
	};
	const upright = smallest(paper);
	const across = smallest(landscape(paper));
	return across < upright ? { size: landscape(paper), ratio: across } : { size: paper, ratio: upright };
}

function drawingRoom(size: PaperSize): Box {
	const f = pageFrame(size);
	return { x0: f.x + BAR, y0: f.y + TITLE, x1: f.x + f.width, y1: f.y + f.height - LEGEND };
}

/** A finished map page. */
export interface MapPage extends SheetPage {
	/** "front", "front-2", … */
	readonly name: string;
	/** The side that it shows, or the name of an added view; the same on all its sheets. */
	readonly view: string;
	/** Of the points that it shows. */
	readonly numbers: readonly number[];
}

/**
 * The pages of one view: one where all its numbers find room, else several with a run of numbers each.
 */
export function mapPages(fonts: Fonts, plan: Plan, view: MapView, lines: FigureLines, scale: MapScale): MapPage[] {
	const room = drawingRoom(scale.size);
	const block = plan.stone.extent_mm as Vec3;
	const toPaper = paperFrame(room, blockExtent(block, view.axes), scale.ratio);
	const drawStone = (on: Drawing): void => {
		if (view.face === null) drawBlockAslant(on, block, view.axes, toPaper);
		else drawBlock(on, plan, view.face, toPaper);
	};
	const stoneAlone = newDrawing(scale.size.width, scale.size.height, view.words);
	drawStone(stoneAlone);
	const taken = wordBoxes(fonts, stoneAlone);
	const runs = shareIntoRuns(view.shown, (run) => placeNumbers(fonts, run, toPaper, room, taken));
	return runs.map(({ run, labels }, i) => {
		const name = i === 0 ? view.name : `${view.name}-${i + 1}`;
		const { words } = view;
		const title = `Map: ${view.face === null ? words : words.toLowerCase()}${runs.length === 1 ? "" : `, ${i + 1} of ${runs.length}`}`;
		const on = newDrawing(scale.size.width, scale.size.height, title);
		const what = runs.length === 1 ? "" : `${runWords(plan, run, view.shown)} · `;
		const facts = `${what}${run.length} points · scale 1:${scale.ratio} · contour lines every ${sizeText(lines.contourStep, plan.sheet.units, lines.contourStep < 5 ? 1 : 0)}`;
		mapTitle(on, fonts, room, words, facts, view);
		drawFigureLines(on, lines, toPaper);
		const spared = drawSpared(on, plan, view.axes, scale.ratio, toPaper);
		drawStone(on);
		drawProperSides(on, room, view.shown);
		drawNumbers(on, run, labels, toPaper);
		drawBars(on, plan, room, scale.ratio);
		drawLegend(on, fonts, plan, room, run, [...lines.hatched.map((h) => h.kind), ...spared]);
		return { drawing: on, bookmark: title, name, view: view.face ?? words, numbers: run.map((s) => s.point.number) };
	});
}

interface Run {
	readonly run: readonly ShownPoint[];
	readonly labels: readonly (PlacedLabel | null)[];
}

/** One map where all numbers find room; else whole rounds together as far as they do, and a round in parts where it must be. */
function shareIntoRuns(
	shown: readonly ShownPoint[],
	place: (run: readonly ShownPoint[]) => (PlacedLabel | null)[],
): Run[] {
	const tried = (run: readonly ShownPoint[]): Run => ({ run, labels: place(run) });
	const inOrder = [...shown].sort((a, b) => a.point.round - b.point.round || a.point.number - b.point.number);
	const rounds = [...new Set(inOrder.map((s) => s.point.round))];
	const runs: Run[] = [];
	let open: Run | null = null;
	for (const round of rounds) {
		const own = inOrder.filter((s) => s.point.round === round);
		const joined: Run = tried([...(open?.run ?? []), ...own]);
		if (wellPlaced(joined.labels)) {
			open = joined;
			continue;
		}
		if (open) runs.push(open);
		open = null;
		for (let parts = 1; ; parts++) {
			const each = Math.ceil(own.length / parts);
			const pieces: Run[] = [];
			for (let i = 0; i < own.length; i += each) pieces.push(tried(own.slice(i, i + each)));
			if (each > 1 && pieces.some((p) => !wellPlaced(p.labels))) continue;
			// The last piece may take the next round in.
			open = pieces.pop() ?? null;
			runs.push(...pieces);
			break;
		}
	}
	return open ? [...runs, open] : runs;
}

/** Rounds of a map that shows only some, with their numbers where it shows only part of a round. */
function runWords(plan: Plan, run: readonly ShownPoint[], all: readonly ShownPoint[]): string {
	const rounds = [...new Set(run.map((s) => s.point.round))];
	const words = rounds.map((round) => {
		const here = run.filter((s) => s.point.round === round).map((s) => s.point.number);
		const whole = all.filter((s) => s.point.round === round).length === here.length;
		return whole ? plan.rounds[round].name : `${plan.rounds[round].name} ${here[0]} to ${here[here.length - 1]}`;
	});
	return words.join(", ");
}

/** Every number has room, and few stand so far off that the eye loses them. */
function wellPlaced(labels: readonly (PlacedLabel | null)[]): boolean {
	let far = 0;
	for (const l of labels) {
		if (l === null) return false;
		if (l.leader) {
			const dx = l.leader[2] - l.leader[0];
			const dy = l.leader[3] - l.leader[1];
			if (dx * dx + dy * dy > 20 * 20) far++;
		}
	}
	return far <= 0.12 * labels.length + 1;
}

function mapTitle(on: Drawing, fonts: Fonts, room: Box, words: string, facts: string, view: MapView): void {
	const { face } = view;
	const x = room.x0 - BAR;
	const y = room.y0 - TITLE;
	text(on, x, y + 5.4, words, { ...heading, size: 6.4 });
	text(on, x, y + 11.4, facts, quiet);
	if (face === null) {
		text(on, x, y + 15, viewWords(view.axes.towards), quiet);
		viewCompass(on, fonts, room.x1, y, view.axes);
		return;
	}
	viewSketch(on, room.x1 - 17.8, y - 0.6, face);
	const note = face === "top" || face === "bed" ? "block from the front" : "block from above";
	text(on, room.x1 - 20 - textWidth(fonts, note, BODY), y + 8, note, quiet);
}

/** The block in plan (or from the front, for a view from above or below) with an arrow from where one looks. */
function viewSketch(on: Drawing, x: number, y: number, face: FaceName): void {
	const [w, h, reach] = [9, 6, 4.4];
	const [bx, by] = [x + reach, y + reach];
	rect(on, bx, by, w, h, { pen: rule });
	const away: Record<FaceName, readonly [number, number]> = {
		front: [0, 1],
		back: [0, -1],
		left: [-1, 0],
		right: [1, 0],
		top: [0, -1],
		bed: [0, 1],
	};
	const [dx, dy] = away[face];
	const [rx, ry] = [bx + (w / 2) * (1 + dx), by + (h / 2) * (1 + dy)];
	const pen = { colour: RADDLE, width: 0.5 };
	arrow(on, pen, rx + dx * reach, ry + dy * reach, rx + dx * 0.5, ry + dy * 0.5, 2);
	// The front edge of the plan is drawn heavier; in the view from the front it is the foot.
	line(on, strong, bx, by + h, bx + w, by + h);
	cornerMark(on, bx, by + h, 1.6, -1);
}

function drawProperSides(on: Drawing, room: Box, shown: readonly ShownPoint[]): void {
	const left = properLeftSide(shown);
	if (left === null) return;
	const y = room.y0 - 2.4;
	const [a, b] = left === "left" ? ["proper left", "proper right"] : ["proper right", "proper left"];
	text(on, room.x0 - BAR, y, `◂ ${a}`, quiet);
	text(on, room.x1, y, `${b} ▸`, { ...quiet, anchor: "end" });
}

/** A bar of 100 mm on the paper each way: measured before the sheet is trusted. */
function drawBars(on: Drawing, plan: Plan, room: Box, ratio: number): void {
	const x = room.x0 - BAR + 3;
	const y = room.y1 + 6;
	const pen = { colour: INK, width: 0.3 };
	const ticks = (i: number): number => (i % 5 === 0 ? 2 : 1.2);
	line(on, pen, x, y, x + 100, y);
	line(on, pen, x, y, x, y - 100);
	for (let i = 0; i <= 10; i++) {
		line(on, pen, x + 10 * i, y, x + 10 * i, y + ticks(i));
		line(on, pen, x, y - 10 * i, x - ticks(i), y - 10 * i);
	}
	const onStone = lengthText(100 * ratio, finely(plan.sheet.units), plan.sheet.units === "mm" ? 0 : 1);
	const words = `100 mm on the paper, each way: measure both. On the stone: ${onStone}`;
	text(on, x, y + 5.6, words, body);
}

function drawLegend(
	on: Drawing,
	fonts: Fonts,
	plan: Plan,
	room: Box,
	run: readonly ShownPoint[],
	kinds: readonly GroundKind[],
): void {
	const start = room.x0 - BAR + 3;
	let x = start;
	let y = room.y1 + 18;
	const entry = (draw: (x: number, y: number) => void, words: string): void => {
		const width = 4.6 + textWidth(fonts, words, BODY) + 6;
		if (x + width - 6 > room.x1) {
			x = start;
			y += 5;
		}
		draw(x + 1.5, y - 1.15);
		text(on, x + 4.6, y, words, body);
		x += width;
	};
	if (drilledFromFaces(plan))
		entry(
			(a, b) => disc(on, a, b, 0.7, { fill: SLATE }),
			"a mark is a place on the figure; the drill enters at the table's u, v",
		);
	for (const [i, round] of plan.rounds.entries())
		if (run.some((s) => s.point.round === i)) entry((a, b) => drawMark(on, a, b, i, null), round.name);
	const grey = (a: number, b: number, side: "left" | "right" | "middle"): void => {
		disc(on, a, b, 1.35, { pen: { colour: SLATE, width: 0.22 }, fill: PAPER });
		if (side === "right") disc(on, a, b, 0.5, { fill: SLATE });
		if (side === "middle") line(on, { colour: SLATE, width: 0.28 }, a - 0.55, b, a + 0.55, b);
	};
	for (const [side, words] of [
		["left", "open: proper left"],
		["right", "spot: proper right"],
		["middle", "bar: middle"],
	] as const)
		if (run.some((s) => s.point.side === side)) entry((a, b) => grey(a, b, side), words);
	if (run.some((s) => s.point.undercut))
		entry(
			(a, b) => drawMark(on, a, b, run.find((s) => s.point.undercut)?.point.round ?? 0, null, true),
			"crossed: undercut, no drill",
		);
	if (run.some((s) => !s.visible))
		entry((a, b) => text(on, a - 1.4, b + 1.2, "( )", quiet), "in brackets: behind other parts here");
	for (const kind of kinds) entry((a, b) => hatchSwatch(on, a, b, kind), HATCHES[kind].words);
}
