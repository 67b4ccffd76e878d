/** Ground that is marked on the maps by hatching: where form is worked by eye, where no drill reaches, where none may. */

import type { Drawing, Pen } from "./drawing.ts";
import type { ScreenGrid } from "./screenGrid.ts";
import { INK, RADDLE, SLATE } from "./style.ts";

/** Each kind has its own slope or spacing, so that they can be told apart without colour. */
const GROUND_KINDS = ["by eye", "flat join cuts in", "undercut", "do not drill", "bridge"] as const;
export type GroundKind = (typeof GROUND_KINDS)[number];

/** Part of the figure's surface: 1 for each vertex that belongs to it. */
export interface Ground {
	readonly kind: GroundKind;
	readonly at: Uint8Array;
}

interface Hatch {
	/** y over x of the lines: 1 rises to the right, −1 falls; both for crossed ones. */
	readonly slopes: readonly (1 | -1)[];
	/** Between two lines, mm on the paper. */
	readonly spacing: number;
	readonly pen: Pen;
	readonly words: string;
}

export const HATCHES: Readonly<Record<GroundKind, Hatch>> = {
	"by eye": { slopes: [1], spacing: 2.2, pen: { colour: SLATE, width: 0.16 }, words: "by eye" },
	"flat join cuts in": {
		slopes: [1],
		spacing: 2.2,
		pen: { colour: SLATE, width: 0.16, dash: [1.2, 1] },
		words: "a flat join would cut in: read the curve",
	},
	undercut: { slopes: [-1], spacing: 2.2, pen: { colour: SLATE, width: 0.16 }, words: "no drill line reaches" },
	"do not drill": { slopes: [1, -1], spacing: 1.8, pen: { colour: RADDLE, width: 0.25 }, words: "DO NOT DRILL HERE" },
	bridge: { slopes: [1, -1], spacing: 3, pen: { colour: INK, width: 0.16 }, words: "bridge: stone left standing" },
};

/** Looks along a hatch line, mm of stone; shorter pieces are left out. */
const STEP = 0.8;
const SHORTEST = 1.6;

/** Hatch lines over what is seen of the ground, x0, y0, x1, y1 in mm of the view plane; extent and spacing as below. */
export function hatchLines(
	grid: ScreenGrid,
	triangles: Uint32Array,
	at: Uint8Array,
	slope: 1 | -1,
	spacing: number,
	within: readonly [number, number, number, number],
): Float64Array[] {
	const marked = (x: number, y: number): boolean => {
		const f = grid.frontmost(x, y);
		// Two of three corners: a patch of one vertex is noise.
		return f >= 0 && at[triangles[3 * f]] + at[triangles[3 * f + 1]] + at[triangles[3 * f + 2]] >= 2;
	};
	return hatchWhere(marked, slope, spacing, within);
}

/**
 * Hatch lines over the places of the view plane that are marked. `within` is where marked places are looked for: least x and y,
 * greatest x and y; `spacing` and the extent are mm of stone.
 */
export function hatchWhere(
	marked: (x: number, y: number) => boolean,
	slope: 1 | -1,
	spacing: number,
	within: readonly [number, number, number, number],
): Float64Array[] {
	const [x0, y0, x1, y1] = within;
	const lines: Float64Array[] = [];
	// Lines y = slope · x + c, at distances of `spacing`: c changes by spacing·√2. Whole multiples keep neighbours in step.
	const stride = spacing * Math.sqrt(2);
	const cs = [y0 - slope * x0, y0 - slope * x1, y1 - slope * x0, y1 - slope * x1];
	const step = STEP / Math.sqrt(2);
	for (let k = Math.ceil(Math.min(...cs) / stride); k * stride <= Math.max(...cs); k++) {
		const c = k * stride;
		const ends = [(y0 - c) * slope, (y1 - c) * slope];
		const from = Math.max(x0, Math.min(...ends));
		const until = Math.min(x1, Math.max(...ends));
		let start = Number.NaN;
		for (let x = from; ; x += step) {
			const on = x <= until && marked(x, slope * x + c);
			if (on && Number.isNaN(start)) start = x;
			if (!on && !Number.isNaN(start)) {
				const end = x - step;
				if ((end - start) * Math.sqrt(2) >= SHORTEST)
					lines.push(Float64Array.of(start, slope * start + c, end, slope * end + c));
				start = Number.NaN;
			}
			if (x > until) break;
		}
	}
	return lines;
}

/** A swatch for the legend, its middle at (x, y). */
export function hatchSwatch(on: Drawing, x: number, y: number, kind: GroundKind): void {
	const { slopes, spacing, pen } = HATCHES[kind];
	const [w, h] = [2.1, 1.4];
	const lines: number[][] = [];
	for (const slope of slopes)
		for (let c = -w - h; c <= w + h; c += spacing * 0.7) {
			// On paper y runs down: a line that rises to the right has y = −slope · x + c.
			const ends = [slope * (c - h), slope * (c + h)];
			const a = Math.max(-w, Math.min(...ends));
			const b = Math.min(w, Math.max(...ends));
			if (b - a > 0.3) lines.push([x + a, y - slope * a + c, x + b, y - slope * b + c]);
		}
	on.shapes.push({ kind: "lines", lines, pen });
	on.shapes.push({
		kind: "lines",
		lines: [[x - w, y - h, x + w, y - h, x + w, y + h, x - w, y + h]],
		closed: true,
		pen: { colour: pen.colour, width: 0.12 },
	});
}
