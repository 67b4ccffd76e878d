/** Which outlines are drawn heavy: those behind which the figure ends or drops away. */

import type { ScreenGrid } from "./screenGrid.ts";

/** How far to either side of an outline the depths are compared, and the step between them from which it is drawn heavy, mm. */
const BESIDE = 0.8;
const STEP_DOWN = 5;
/** A piece of one weight is at least this long, mm, so that the weight does not flicker. */
const WEIGHT_RUN = 4;

/** Parts outlines into those behind which the figure ends or drops away, and those of low relief before nearby ground. */
export function weighOutlines(
	grid: ScreenGrid,
	pieces: readonly Float64Array[],
): { heavy: Float64Array[]; light: Float64Array[] } {
	const heavy: Float64Array[] = [];
	const light: Float64Array[] = [];
	for (const p of pieces) {
		const steps = p.length / 2 - 1;
		const deep: boolean[] = [];
		const lengths: number[] = [];
		for (let i = 0; i < steps; i++) {
			const dx = p[2 * i + 2] - p[2 * i];
			const dy = p[2 * i + 3] - p[2 * i + 1];
			const length = Math.sqrt(dx * dx + dy * dy);
			const ux = length > 0 ? (BESIDE * dx) / length : 0;
			const uy = length > 0 ? (BESIDE * dy) / length : 0;
			const x = p[2 * i] + dx / 2;
			const y = p[2 * i + 1] + dy / 2;
			const a = grid.depth(x - uy, y + ux);
			const b = grid.depth(x + uy, y - ux);
			deep.push(a === -Infinity || b === -Infinity || Math.abs(a - b) > STEP_DOWN);
			lengths.push(length);
		}
		// Runs too short to stand alone take the weight of what comes before them.
		for (let start = 0; start < steps; ) {
			let end = start;
			let length = 0;
			while (end < steps && deep[end] === deep[start]) length += lengths[end++];
			if (length < WEIGHT_RUN && start > 0) deep.fill(deep[start - 1], start, end);
			start = end;
		}
		for (let start = 0; start < steps; ) {
			let end = start;
			while (end < steps && deep[end] === deep[start]) end++;
			(deep[start] ? heavy : light).push(p.slice(2 * start, 2 * end + 2));
			start = end;
		}
	}
	return { heavy, light };
}
