/** Relief patterns that repeat over a surface: overlapping scales and long stepped feathers, as heights in 0 … 1. */
import { clamp, hill, smoothStep } from "./field.ts";

/** How many rows a scale reaches over, its own included. */
const ROWS_COVERED = 1.75;

/** A number in [−1, 1) that belongs to one scale: no two are cut alike. */
const ownNumber = (row: number, column: number): number => {
	let h = Math.imul(row, 0x9e3779b1) ^ Math.imul(column, 0x85ebca6b);
	h = Math.imul(h ^ (h >>> 15), 0x2c1b3c6d);
	return ((h ^ (h >>> 13)) >>> 0) / 2147483648 - 1;
};

/**
 * Overlapping scales like roof shingles, tips towards growing v, every other row set off by half a column.
 * u counts columns, v rows. 1 is the raised tip, about 0.3 the ground from which a scale comes out under the row above.
 * `columns` is how many make a full turn (0 where u never closes); `edge` how steeply a tip drops, in half columns;
 * `point` 0 gives round tips, 1 pointed ones.
 */
export function scales(u: number, v: number, columns: number, edge: number, point: number): number {
	const row = Math.floor(v);
	let height = 0.25;
	for (let j = row; j > row - 2; j--) {
		const c = u + (j & 1) * 0.5;
		const column = Math.floor(c);
		const own = ownNumber(j, columns > 0 ? column - columns * Math.floor(column / columns) : column);
		const l = (v - j) / (ROWS_COVERED + 0.1 * own);
		if (l >= 1) continue;
		const a = 2 * (c - column) - 1;
		// Straight sides, then half an ellipse or a pointed arch.
		const taper = clamp((l - 0.35) / 0.65, 0, 1);
		const round = Math.sqrt(1 - taper * taper);
		const inside = 1.02 * (round + point * (1 - taper * taper - round)) - Math.abs(a);
		if (inside <= 0) continue;
		const shown = smoothStep(0.3, 0.5, l);
		let h = (0.3 + 0.7 * l) * (1 - 0.24 * a * a) + 0.06 * own;
		h -= shown * smoothStep(1, 0.85, l) * 0.2 * hill(a, 0.15);
		h *= smoothStep(0, edge, inside);
		if (h > height) height = h;
	}
	return height;
}

/**
 * Long feathers side by side, each with its near edge over its neighbour and a cut for the shaft; u counts feathers
 * across, `edge` is the share of a feather's width over which it drops to the next.
 */
export function vanes(u: number, edge: number): number {
	const t = u - Math.floor(u);
	if (t > 1 - edge) return 1 - 0.75 * smoothStep(1 - edge, 1, t);
	return 0.25 + 0.75 * t - 0.26 * hill(t - 0.5, 0.14);
}
