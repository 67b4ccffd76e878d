/** Where the strokes of the tape stand and what is under a place on it. Pixels, x to the right, y downwards. */

import type { PlanPoint } from "../../core/plan/planFile.ts";
import { type LengthUnit, MM_PER } from "../../core/text/length.ts";

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
	/** The runs of one round in one lie, with their room. */
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

/**
 * The points of a plan, in the order of work, along `width` pixels with strokes of at most `height`; the full stroke is a round
 * number of `unit`.
 */
export function layTape(
	points: readonly PlanPoint[],
	width: number,
	height: number,
	unit: LengthUnit = "mm",
): TapeLayout {
	const pitch = points.length === 0 ? 0 : (width - 2 * EDGE) / points.length;
	const deepest = points.reduce((most, point) => Math.max(most, point.depth_mm ?? 0), 0);
	const fullDepth = roundUp(deepest / MM_PER[unit]) * MM_PER[unit];
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

/** First and last shown place of a tape that is drawn out. */
export type TapeReach = readonly [number, number];

const LEAST_SHOWN = 12;

/** The reach after drawing the tape out (factor > 1) or in about a place in it, within `count` points. */
export function drawnOut(reach: TapeReach, count: number, factor: number, about: number): TapeReach {
	const long = reach[1] - reach[0] + 1;
	const wanted = Math.max(Math.min(LEAST_SHOWN, count), Math.min(count, Math.round(long / factor)));
	const share = long <= 1 ? 0.5 : (about - reach[0]) / (long - 1);
	return movedTo(Math.round(about - share * (wanted - 1)), wanted, count);
}

/** The reach moved so that `place` is in it. */
export function reachWith(reach: TapeReach, count: number, place: number): TapeReach {
	const long = Math.min(count, reach[1] - reach[0] + 1);
	if (place >= reach[0] && place <= reach[1] && reach[1] < count) return reach;
	return movedTo(place - Math.floor(long / 2), long, count);
}

/** The reach slid along by that many points. */
export const slid = (reach: TapeReach, count: number, by: number): TapeReach =>
	movedTo(reach[0] + by, Math.min(count, reach[1] - reach[0] + 1), count);

function movedTo(from: number, long: number, count: number): TapeReach {
	const start = Math.max(0, Math.min(count - long, from));
	return [start, start + long - 1];
}
