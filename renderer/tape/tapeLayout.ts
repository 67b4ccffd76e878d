/** Where the strokes of the tape stand and what is under a place on it. Pixels, x to the right, y downwards. */

import type { Plan } from "../../core/plan/planFile.ts";

export interface TapeStroke {
	readonly x: number;
	/** Height of the stroke, pixels; an undercut has none. */
	readonly height: number;
}

export interface TapeLayout {
	readonly pitch: number;
	readonly strokes: readonly TapeStroke[];
	/** Depth that a stroke of full height stands for, mm. */
	readonly fullDepth: number;
	/** First place of each round's run in the order of work, with the room of the run. */
	readonly runs: readonly {
		readonly round: number;
		readonly lie: number | null;
		readonly from: number;
		readonly x: number;
		readonly width: number;
	}[];
}

const EDGE = 10;
const LEAST_STROKE = 3;

const roundUp = (value: number): number => {
	const ten = 10 ** Math.floor(Math.log10(Math.max(value, 1)));
	return ([1, 2, 2.5, 5, 10].find((m) => m * ten >= value) ?? 10) * ten;
};

/** The points of a plan, in the order of work, along `width` pixels with strokes of at most `height`. */
export function layTape(points: Plan["points"], width: number, height: number): TapeLayout {
	const pitch = points.length === 0 ? 0 : (width - 2 * EDGE) / points.length;
	const fullDepth = roundUp(points.reduce((most, point) => Math.max(most, point.depth_mm ?? 0), 0));
	const x = (i: number): number => EDGE + (i + 0.5) * pitch;
	const strokes = points.map((point, i) => ({
		x: x(i),
		height: point.depth_mm === null ? 0 : Math.max(LEAST_STROKE, (point.depth_mm / fullDepth) * height),
	}));
	const runs: TapeLayout["runs"][number][] = [];
	for (let i = 0; i < points.length; ) {
		let until = i + 1;
		while (until < points.length && points[until].round === points[i].round && points[until].lie === points[i].lie)
			until++;
		runs.push({ round: points[i].round, lie: points[i].lie, from: i, x: EDGE + i * pitch, width: (until - i) * pitch });
		i = until;
	}
	return { pitch, strokes, fullDepth, runs };
}

/** Index of the point under x, or null beyond the ends. */
export function tapeIndexAt(layout: TapeLayout, x: number): number | null {
	if (layout.pitch === 0) return null;
	const i = Math.floor((x - EDGE) / layout.pitch);
	return i >= 0 && i < layout.strokes.length ? i : null;
}

/** The nearest index, for a brush that runs over an end. */
export function tapeIndexNear(layout: TapeLayout, x: number): number {
	const i = layout.pitch === 0 ? 0 : Math.floor((x - EDGE) / layout.pitch);
	return Math.max(0, Math.min(layout.strokes.length - 1, i));
}
