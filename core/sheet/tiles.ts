/**
 * A drawing that is larger than the paper, at its own size over several sheets: neighbours overlap and carry the same register
 * marks, lettered alike, to be laid over one another; an index sketch says where each sheet belongs.
 */

import { cutOut } from "./clip.ts";
import { type Drawing, line, newDrawing, putOn, rect, text } from "./drawing.ts";
import type { SheetPage } from "./flow.ts";
import type { Fonts } from "./fontMetrics.ts";
import { type Frame, landscape, type PaperSize, pageFrame } from "./paper.ts";
import { bodyBold, hairline, heading, INK, quiet, RADDLE } from "./style.ts";

/** Room for the title and the index sketch, mm. */
const TITLE = 17;
/** How far neighbouring sheets overlap, mm. */
const OVERLAP = 14;

interface Tiling {
	readonly size: PaperSize;
	readonly frame: Frame;
	readonly columns: number;
	readonly rows: number;
}

function tiling(size: PaperSize, width: number, height: number): Tiling {
	const f = pageFrame(size);
	const frame = { x: f.x, y: f.y + TITLE, width: f.width, height: f.height - TITLE };
	const count = (whole: number, part: number): number =>
		Math.max(1, Math.ceil((whole - OVERLAP - 1e-9) / (part - OVERLAP)));
	return { size, frame, columns: count(width, frame.width), rows: count(height, frame.height) };
}

/** The sheets of a drawing, row by row from the upper left; the paper lies the way that needs fewer of them. */
export function tilePages(fonts: Fonts, paper: PaperSize, whole: Drawing, note: string): SheetPage[] {
	const upright = tiling(paper, whole.width, whole.height);
	const across = tiling(landscape(paper), whole.width, whole.height);
	const t = across.columns * across.rows < upright.columns * upright.rows ? across : upright;
	const stepX = t.frame.width - OVERLAP;
	const stepY = t.frame.height - OVERLAP;
	const marks = registerMarks(t, stepX, stepY, whole);
	const pages: SheetPage[] = [];
	for (let row = 0; row < t.rows; row++)
		for (let column = 0; column < t.columns; column++) {
			const { frame } = t;
			const window = { x: column * stepX, y: row * stepY, width: frame.width, height: frame.height };
			const on = newDrawing(t.size.width, t.size.height, whole.title);
			const part: Drawing = { ...whole, shapes: cutOut(fonts, whole, window) };
			putOn(on, part, frame.x - window.x, frame.y - window.y);
			rect(on, frame.x, frame.y, frame.width, frame.height, { pen: hairline });
			for (const m of marks)
				if (m.x >= window.x && m.x <= window.x + window.width && m.y >= window.y && m.y <= window.y + window.height)
					cross(on, frame.x + m.x - window.x, frame.y + m.y - window.y, m.letter);
			const index = row * t.columns + column + 1;
			const of = t.columns * t.rows;
			text(on, frame.x, frame.y - TITLE + 5, whole.title, heading);
			const where = of > 1 ? ` · sheet ${index} of ${of}, lay the lettered crosses over one another` : "";
			text(on, frame.x, frame.y - TITLE + 10.2, `${note}${where}`, quiet);
			bars(on, frame.x, frame.y);
			if (of > 1) indexSketch(on, frame.x + frame.width, frame.y - TITLE, t, row, column);
			pages.push({ drawing: on, bookmark: index === 1 ? whole.title : null });
		}
	return pages;
}

interface RegisterMark {
	readonly x: number;
	readonly y: number;
	readonly letter: string;
}

/** Two marks on every seam between two sheets, in the middle of their overlap. */
function registerMarks(t: Tiling, stepX: number, stepY: number, whole: Drawing): RegisterMark[] {
	const marks: { x: number; y: number }[] = [];
	// Along a seam: a quarter and three quarters of what the sheet shows there of the drawing.
	const along = (from: number, length: number, end: number): number[] => {
		const shown = Math.min(length, end - from);
		return [from + OVERLAP + (shown - OVERLAP) * 0.2, from + (shown - OVERLAP) * 0.8];
	};
	for (let row = 0; row < t.rows; row++)
		for (let c = 1; c < t.columns; c++)
			for (const y of along(row * stepY, t.frame.height, whole.height)) marks.push({ x: c * stepX + OVERLAP / 2, y });
	for (let r = 1; r < t.rows; r++)
		for (let column = 0; column < t.columns; column++)
			for (const x of along(column * stepX, t.frame.width, whole.width)) marks.push({ x, y: r * stepY + OVERLAP / 2 });
	return marks.map((m, i) => ({ ...m, letter: letters(i) }));
}

/** a, b, …, z, aa, ab, … */
function letters(i: number): string {
	const last = String.fromCharCode(97 + (i % 26));
	return i < 26 ? last : letters(Math.floor(i / 26) - 1) + last;
}

function cross(on: Drawing, x: number, y: number, letter: string): void {
	const pen = { colour: INK, width: 0.12 };
	line(on, pen, x - 4, y, x + 4, y);
	line(on, pen, x, y - 4, x, y + 4);
	text(on, x + 1, y - 1, letter, bodyBold);
}

/** 100 mm along the upper and the left edge of every sheet, outside its frame: both are measured before it is used. */
function bars(on: Drawing, x: number, y: number): void {
	const pen = { colour: INK, width: 0.2 };
	line(on, pen, x, y, x + 100, y);
	line(on, pen, x, y, x, y + 100);
	for (let i = 0; i <= 10; i++) {
		const tick = i % 5 === 0 ? 2.4 : 1.4;
		line(on, pen, x + 10 * i, y, x + 10 * i, y - tick);
		line(on, pen, x, y + 10 * i, x - tick, y + 10 * i);
	}
	text(on, x + 101.5, y - 1, "100 mm each way", quiet);
}

/** All sheets as small frames, this one filled; its right upper corner at (x, y). */
function indexSketch(on: Drawing, x: number, y: number, t: Tiling, row: number, column: number): void {
	const scale = Math.min(9.5 / (t.rows * t.frame.height), 26 / (t.columns * t.frame.width));
	const w = t.frame.width * scale;
	const h = t.frame.height * scale;
	for (let r = 0; r < t.rows; r++)
		for (let c = 0; c < t.columns; c++) {
			const here = r === row && c === column;
			rect(on, x - (t.columns - c) * w, y + 0.8 + r * h, w, h, {
				pen: { colour: INK, width: 0.15 },
				...(here ? { fill: RADDLE } : {}),
			});
		}
}
