/** Relief patterns that repeat over a surface: overlapping scales and long stepped feathers, as heights in 0 … 1. */
import { clamp, hill, smoothStep } from "./field.ts";

/** How many rows a scale reaches over, its own included. */
const ROWS_COVERED = 1.75;

/**
 * Overlapping scales like roof shingles, tips towards growing v, every other row set off by half a column.
 * u counts columns, v rows. 1 is the raised tip, about 0.3 the ground from which a scale comes out under the row above.
 * `edge` is how steeply a tip drops, in half columns.
 */
export function scales(u: number, v: number, edge: number): number {
	const row = Math.floor(v);
	let height = 0.25;
	for (let j = row; j > row - 2; j--) {
		const l = (v - j) / ROWS_COVERED;
		if (l >= 1) continue;
		const c = u + (j & 1) * 0.5;
		const a = 2 * (c - Math.floor(c)) - 1;
		// Straight sides, then half an ellipse.
		const taper = clamp((l - 0.4) / 0.6, 0, 1);
		const inside = 1.02 * Math.sqrt(1 - taper * taper) - Math.abs(a);
		if (inside <= 0) continue;
		const shaft = 0.2 * hill(a, 0.16) * smoothStep(0.25, 0.5, l) * smoothStep(1, 0.8, l);
		const h = smoothStep(0, edge, inside) * ((0.3 + 0.7 * l) * (1 - 0.22 * a * a) - shaft);
		if (h > height) height = h;
	}
	return height;
}

/**
 * Long feathers side by side, each with its near edge over its neighbour and a shaft; u counts feathers across.
 * `edge` is the share of a feather's width over which it drops to the next.
 */
export function vanes(u: number, edge: number): number {
	const t = u - Math.floor(u);
	const rise = 0.25 + 0.75 * t;
	const shaft = 0.22 * hill(t - 0.55, 0.11);
	return t > 1 - edge ? 1 - 0.75 * smoothStep(1 - edge, 1, t) : rise - shaft;
}
