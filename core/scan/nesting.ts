/** Which shells lie inside others. */

import type { Job } from "../job.ts";
import { crossInto } from "./measures.ts";
import type { TriangleMesh } from "./mesh.ts";
import type { Shells } from "./shells.ts";

/** Triangles handled between two yields, each of which may meet several of the shells asked for. */
const SLICE = 1 << 16;

/**
 * For each of the shells `asked` 1 when it lies within an odd number of sheets of the shells without open
 * edges (1 in `closed`) other than itself, else 0. From a point of it, well inside one of its triangles, the sheets above are counted.
 */
export function* nestedShells(
	mesh: TriangleMesh,
	shells: Shells,
	closed: Uint8Array,
	asked: readonly number[],
): Job<Uint8Array> {
	const { positions: p, triangles } = mesh;
	const n = triangles.length / 3;
	const x = new Float64Array(asked.length);
	const y = new Float64Array(asked.length);
	const z = new Float64Array(asked.length);
	const query = new Int32Array(shells.count).fill(-1);
	asked.forEach((s, i) => {
		query[s] = i;
	});
	for (let t = n - 1; t >= 0; t--) {
		const i = query[shells.of[t]];
		if (i < 0) continue;
		const [a, b, c] = [3 * triangles[3 * t], 3 * triangles[3 * t + 1], 3 * triangles[3 * t + 2]];
		// Weights without a common pattern, so that the line upwards does not run through edges of a regular mesh.
		x[i] = 0.3107 * p[a] + 0.3761 * p[b] + 0.3132 * p[c];
		y[i] = 0.3107 * p[a + 1] + 0.3761 * p[b + 1] + 0.3132 * p[c + 1];
		z[i] = 0.3107 * p[a + 2] + 0.3761 * p[b + 2] + 0.3132 * p[c + 2];
	}
	const byX = Uint32Array.from(asked, (_, i) => i).sort((i, j) => x[i] - x[j] || i - j);
	const crossings = new Uint8Array(asked.length);
	const range = (from: number, to: number): void => {
		for (let t = from; t < to; t++) {
			const s = shells.of[t];
			if (closed[s] === 0) continue;
			const a = triangles[3 * t];
			const b = triangles[3 * t + 1];
			const c = triangles[3 * t + 2];
			const lowX = Math.min(p[3 * a], p[3 * b], p[3 * c]);
			const highX = Math.max(p[3 * a], p[3 * b], p[3 * c]);
			for (let k = firstAtLeast(x, byX, lowX); k < byX.length && x[byX[k]] <= highX; k++) {
				const i = byX[k];
				if (asked[i] !== s && liesUnder(p, a, b, c, x[i], y[i], z[i])) crossings[i] ^= 1;
			}
		}
	};
	for (let from = 0; from < n; from += SLICE) {
		range(from, Math.min(from + SLICE, n));
		yield { stage: "looking which shells are hollows", share: from / n };
	}
	return crossings;
}

function firstAtLeast(values: Float64Array, order: Uint32Array, low: number): number {
	let from = 0;
	let to = order.length;
	while (from < to) {
		const middle = (from + to) >> 1;
		if (values[order[middle]] < low) from = middle + 1;
		else to = middle;
	}
	return from;
}

const square = new Float64Array(3);

/** Whether the vertical line through (x, y) meets the triangle above z. */
function liesUnder(p: Float64Array, a: number, b: number, c: number, x: number, y: number, z: number): boolean {
	const ab = leftOf(p, a, b, x, y);
	const bc = leftOf(p, b, c, x, y);
	const ca = leftOf(p, c, a, x, y);
	if (ab !== bc || bc !== ca) return false;
	crossInto(square, p, a, b, c);
	const over = square[0] * (p[3 * a] - x) + square[1] * (p[3 * a + 1] - y) + square[2] * (p[3 * a + 2] - z);
	return square[2] > 0 ? over > 0 : over < 0;
}

/**
 * The side of the edge on which (x, y) lies, worked out from the lower vertex to the higher one, so that the two
 * triangles of an edge always agree and a line through it counts one of them only.
 */
function leftOf(p: Float64Array, a: number, b: number, x: number, y: number): boolean {
	const low = 3 * Math.min(a, b);
	const high = 3 * Math.max(a, b);
	const side = (p[high] - p[low]) * (y - p[low + 1]) - (p[high + 1] - p[low + 1]) * (x - p[low]);
	return side >= 0 === a < b;
}
