/** The cut along one hole as a drawing: the whole hole from skin to target, and close by its end, with the numbers. */

import type { Drill } from "../drilling/drill.ts";
import {
	angleText,
	depthNumber,
	finely,
	type LengthUnit,
	lengthNumber,
	lengthText,
	MM_PER,
	sizeText,
} from "../text/format.ts";
import type { Window } from "./clip.ts";
import { type Drawing, dimension, disc, type Line, line, newDrawing, type Pen, rect, text } from "./drawing.ts";
import { areasWithin, type HoleSection, linesWithin } from "./holeSection.ts";
import { BODY, body, bodyBold, hairline, INK, LEADING, PAPER, quiet, RADDLE, SLATE, strong, TINT } from "./style.ts";

/** The numbers that stand beside the picture; mm and degrees. */
export interface SectionNumbers {
	readonly number: number;
	readonly round: string;
	readonly face: string;
	readonly drill: Drill;
	readonly allowance: number;
	readonly stop: number;
	readonly depth: number;
	readonly clearance: number;
	readonly tilt: number;
	readonly lean: readonly [number, number];
	readonly aimSafe: number;
	/** Stone behind the target; null where none was found. */
	readonly thickness: number | null;
}

const WIDTH = 112;
const TALL = 86;
/** Panels: the whole hole, and close by. */
const WHOLE = { x: 1, width: 33 };
const CLOSE = { x: 36, width: 75 };
const TOP = 15;

const surface: Pen = { colour: INK, width: 0.45 };
const allowancePen: Pen = { colour: RADDLE, width: 0.4, dash: [1.6, 1] };
const holePen: Pen = { colour: SLATE, width: 0.5 };
const aimPen: Pen = { colour: SLATE, width: 0.25, dash: [0.6, 0.8] };
const skinPen: Pen = { colour: INK, width: 0.7 };

export function sectionPicture(section: HoleSection, numbers: SectionNumbers, units: LengthUnit): Drawing {
	const drawing = newDrawing(WIDTH, TOP + TALL + 52, `point ${numbers.number}, cut along the hole`);
	text(drawing, 1, 5, `Point ${numbers.number}`, { ...bodyBold, size: 4.6 });
	text(drawing, 1, 10.6, `${numbers.round}, through the ${numbers.face}`, quiet);
	wholeHole(drawing, section, numbers, units);
	closeBy(drawing, section, numbers, units);
	legend(drawing, TOP + TALL + 7);
	for (const [i, words] of told(section, numbers, units).entries())
		text(drawing, 1, TOP + TALL + 26 + i * BODY * LEADING, words, body);
	return drawing;
}

/** From the plane of the cut to the paper, y upwards. */
interface View {
	readonly window: Window;
	readonly scale: number;
	at(x: number, y: number): [number, number];
}

function viewInto(panel: { x: number; width: number }, window: Window): View {
	const scale = Math.min(panel.width / window.width, TALL / window.height);
	const middle = panel.x + panel.width / 2 - scale * (window.x + window.width / 2);
	const foot = TOP + TALL + scale * window.y;
	return { window, scale, at: (x, y) => [middle + scale * x, foot - scale * y] };
}

const onPaper = (view: View, lines: readonly Line[]): Line[] =>
	lines.map((l) => {
		const moved = new Float64Array(l.length);
		for (let i = 0; i < l.length; i += 2) moved.set(view.at(l[i], l[i + 1]), i);
		return moved;
	});

function drawLines(to: Drawing, view: View, lines: readonly Line[], pen: Pen): void {
	const within = onPaper(view, linesWithin(lines, view.window));
	if (within.length > 0) to.shapes.push({ kind: "lines", lines: within, pen });
}

/** What both panels show. */
function drawCut(to: Drawing, view: View, section: HoleSection): void {
	const stone = areasWithin(section.inside, view.window);
	if (stone.length > 0) to.shapes.push({ kind: "lines", lines: onPaper(view, stone), closed: true, fill: TINT });
	const hole = areasWithin([section.asAimed], view.window);
	to.shapes.push({ kind: "lines", lines: onPaper(view, hole), closed: true, fill: PAPER });
	drawLines(to, view, section.model, surface);
	drawLines(to, view, [section.worstAim], aimPen);
	drawLines(to, view, [section.asAimed], holePen);
	drawLines(
		to,
		view,
		section.skin.map((side) => side.line),
		skinPen,
	);
}

function frame(to: Drawing, view: View): void {
	const { x, y, width, height } = view.window;
	const [left, top] = view.at(x, y + height);
	rect(to, left, top, width * view.scale, height * view.scale, { pen: hairline });
}

function wholeHole(to: Drawing, section: HoleSection, { depth }: SectionNumbers, units: LengthUnit): void {
	const beyond = 0.06 * section.entry + 4;
	const height = section.entry + 3 * beyond;
	const width = (height * WHOLE.width) / TALL;
	const view = viewInto(WHOLE, { x: -width / 2, y: -2 * beyond, width, height });
	drawCut(to, view, section);
	const [x] = view.at(-section.widest, 0);
	const beside = Math.max(WHOLE.x + 4, x - 4);
	dimension(
		to,
		{ colour: SLATE, width: 0.18 },
		[beside, view.at(0, section.entry)[1]],
		[beside, view.at(0, section.tip)[1]],
		`depth ${depthNumber(depth, units)}`,
		body,
	);
	frame(to, view);
}

function closeBy(to: Drawing, section: HoleSection, numbers: SectionNumbers, units: LengthUnit): void {
	const view = viewInto(CLOSE, section.close);
	drawCut(to, view, section);
	drawLines(to, view, section.allowance, allowancePen);
	const [x, y] = view.at(0, 0);
	const [, tip] = view.at(0, section.tip);
	line(
		to,
		{ colour: SLATE, width: 0.15, dash: [3, 1, 0.6, 1] },
		x,
		y,
		x,
		view.at(0, section.close.y + section.close.height)[1],
	);
	disc(to, x, y, 1, { fill: INK });
	const free = section.decides !== null && section.decides.x > 0 ? -1 : 1;
	text(to, x + free * 2.2, y + 4.2, "target", { ...body, anchor: free > 0 ? "start" : "end" });
	// The stop stands between the centre line and the side of the hole.
	const aside = view.at(-numbers.drill.holeRadius * 0.5, 0)[0];
	const stopWords = `stop ${lengthNumber(numbers.stop, finely(units))}`;
	if (Math.abs(tip - y) > 4) {
		dimension(to, { colour: INK, width: 0.2 }, [aside, tip], [aside, y], Math.abs(tip - y) > 18 ? stopWords : "", body);
		if (Math.abs(tip - y) <= 18) text(to, aside - 1.4, (tip + y) / 2 + 1.1, stopWords, { ...body, anchor: "end" });
	}
	if (section.decides) {
		const [dx, dy] = view.at(section.decides.x, section.decides.y);
		disc(to, dx, dy, 1.3, { pen: { colour: RADDLE, width: 0.45 }, fill: PAPER });
	}
	frame(to, view);
	const bar = barLength(section.close.width, units);
	const left = CLOSE.x + 3;
	const foot = TOP + TALL - 3;
	line(to, strong, left, foot, left + bar * view.scale, foot);
	text(to, left, foot - 1.4, sizeText(bar, units, units === "mm" ? 0 : 1), body);
}

/** Lengths that read well, in the unit itself. */
const BARS: Readonly<Record<LengthUnit, readonly number[]>> = {
	mm: [1, 2, 5, 10, 20, 50, 100],
	in: [0.05, 0.1, 0.2, 0.5, 1, 2, 5],
	in16: [1 / 16, 1 / 8, 1 / 4, 1 / 2, 1, 2, 4],
};

/** One of them that is about a quarter of the view, mm. */
function barLength(width: number, units: LengthUnit): number {
	const bars = BARS[units].map((bar) => bar * MM_PER[units]);
	return bars.findLast((bar) => bar <= width / 4) ?? bars[0];
}

function legend(to: Drawing, y: number): void {
	const entries: readonly (readonly [string, Pen])[] = [
		["finished surface", surface],
		["allowance over it", allowancePen],
		["hole as aimed", holePen],
		["at worst aim", aimPen],
		["skin of the stone", skinPen],
	];
	for (const [i, [words, pen]] of entries.entries()) {
		const x = 1 + (i % 2) * (WIDTH / 2);
		const at = y + Math.floor(i / 2) * 5;
		line(to, pen, x, at - 1.1, x + 6, at - 1.1);
		text(to, x + 7.5, at, words, quiet);
	}
	const [x, at] = [1 + WIDTH / 2, y + 10];
	disc(to, x + 3, at - 1.1, 1.3, { pen: { colour: RADDLE, width: 0.45 }, fill: PAPER });
	text(to, x + 7.5, at, "what stops the drill", quiet);
}

function told(section: HoleSection, n: SectionNumbers, units: LengthUnit): string[] {
	const mm = (value: number, digits = 1): string => lengthText(value, finely(units), digits);
	const why = section.decides
		? section.decides.atWorstAim
			? "Deeper, it would touch the ringed place at worst aim."
			: "Deeper, it would break the allowance at the ringed place."
		: "It stands farther back than the surface asks: the part is thin.";
	return [
		`Drill ${sizeText(n.drill.diameter, units)}, hole ${sizeText(2 * n.drill.holeRadius, units)}; skin to tip ${mm(n.depth, 2)}, printed ${depthNumber(n.depth, units)}.`,
		`Least stone between hole and surface ${mm(n.clearance, 2)}, asked ${mm(n.allowance)}.`,
		`At worst aim the tip could go ${mm(Math.max(0, section.worstSpare), 2)} deeper; safe to ±${angleText(n.aimSafe)}.`,
		`Lean ${angleText(n.lean[0])} along u, ${angleText(n.lean[1])} along v; ${angleText(n.tilt)} from square to the surface.`,
		...(n.thickness === null ? [] : [`${mm(n.thickness + n.stop, 0)} of stone behind the floor of the hole.`]),
		why,
	];
}
