/** Where on a face a field of stop cuts takes most out of the hollows. */

import type { Job } from "../job.ts";

export interface DepthGrid {
	/** Rows follow each other from kerf to kerf, columns along the kerfs. */
	readonly rows: number;
	readonly columns: number;
	/** mm */
	readonly cell: number;
	/** Of the grid's first corner from the face's zero corner, across and along the kerfs, mm. */
	readonly low: readonly [number, number];
	/** How deep each cell may be sawn; 0 off the face. */
	readonly safe: Float64Array;
	/** How deep the grown hull lies, beyond which no through cut reaches; Infinity where there is none. */
	readonly entered: Float64Array;
}

export interface StopWindow {
	/** First row; columns from and up to. */
	readonly first: number;
	readonly from: number;
	readonly to: number;
	/** Depth of each strip of `apart` rows, mm. */
	readonly strips: readonly number[];
	/** Stone that it takes out of the hollows, mm³. */
	readonly value: number;
}

/** Shortest window, cells. */
const SHORTEST = 6;

/** The window of strips, each `apart` rows wide and at least `least` deep all over, that takes most from under the grown hull. */
export function* bestWindow(grid: DepthGrid, apart: number, least: number): Job<StopWindow | null> {
	const { rows, columns, safe, entered, cell } = grid;
	let best: StopWindow | null = null;
	const floor = new Float64Array(rows);
	const values = new Float64Array(rows);
	const depths = new Float64Array(rows);
	for (let from = 0; from + SHORTEST <= columns; from++) {
		yield { stage: "looking for stop cuts", share: from / columns };
		floor.fill(Number.POSITIVE_INFINITY);
		for (let to = from + 1; to <= columns; to++) {
			for (let row = 0; row < rows; row++) floor[row] = Math.min(floor[row], safe[row * columns + to - 1]);
			if (to - from < SHORTEST || (to - from) % 2 === 1) continue;
			for (let row = 0; row + apart <= rows; row++) {
				let depth = Number.POSITIVE_INFINITY;
				for (let k = 0; k < apart; k++) depth = Math.min(depth, floor[row + k]);
				depths[row] = depth;
				values[row] = 0;
				if (depth < least) continue;
				for (let k = 0; k < apart; k++)
					for (let column = from; column < to; column++)
						values[row] += Math.max(0, depth - entered[(row + k) * columns + column]) * cell * cell;
			}
			const run = bestRun(rows, apart, depths, values, least);
			if (run !== null && (best === null || run.value > best.value)) {
				const strips = Array.from({ length: run.count }, (_, i) => depths[run.first + i * apart]);
				best = { first: run.first, from, to, strips, value: run.value };
			}
		}
	}
	return best;
}

/** The run of strips one beside the other with the greatest value; strips at either end give something. */
function bestRun(
	rows: number,
	apart: number,
	depths: Float64Array,
	values: Float64Array,
	least: number,
): { first: number; count: number; value: number } | null {
	let best: { first: number; count: number; value: number } | null = null;
	for (let phase = 0; phase < apart; phase++) {
		let first = -1;
		let value = 0;
		for (let row = phase; row + apart <= rows; row += apart) {
			if (depths[row] < least || (first < 0 && values[row] === 0)) {
				first = -1;
				value = 0;
				continue;
			}
			if (first < 0) first = row;
			value += values[row];
			if (values[row] > 0 && (best === null || value > best.value))
				best = { first, count: (row - first) / apart + 1, value };
		}
	}
	return best;
}
