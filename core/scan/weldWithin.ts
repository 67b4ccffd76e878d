/** Welding of vertices that lie close together without being equal. */

import type { Job } from "../job.ts";

/** Vertices handled between two yields. */
const SLICE = 1 << 16;
const NONE = 0xffffffff;

/**
 * The vertex that each vertex becomes: itself, or the nearest earlier vertex that stays and lies within `distance` of it
 * (ties to the earliest). Vertices that stay keep their place, so that no chain of small steps moves anything further
 * than `distance`.
 */
export function* weldWithin(positions: Float64Array, distance: number): Job<Uint32Array> {
	const n = positions.length / 3;
	const becomes = new Uint32Array(n);
	if (!(distance > 0)) {
		for (let v = 0; v < n; v++) becomes[v] = v;
		return becomes;
	}
	// Cells twice as wide as the distance: whatever is near lies in the eight cells around the nearest corner of the grid.
	const cell = 2 * distance;
	let size = 128;
	while (size < n) size *= 2;
	const head = new Uint32Array(size).fill(NONE);
	const next = new Uint32Array(n);
	const within = distance * distance;
	for (let from = 0; from < n; from += SLICE) {
		for (let v = from; v < Math.min(from + SLICE, n); v++) {
			const x = positions[3 * v];
			const y = positions[3 * v + 1];
			const z = positions[3 * v + 2];
			const i = Math.round(x / cell);
			const j = Math.round(y / cell);
			const k = Math.round(z / cell);
			let best = NONE;
			let least = within;
			for (let corner = 0; corner < 8; corner++) {
				const slot = slotOf(i - (corner & 1), j - ((corner >> 1) & 1), k - (corner >> 2), size);
				for (let w = head[slot]; w !== NONE; w = next[w]) {
					const dx = positions[3 * w] - x;
					const dy = positions[3 * w + 1] - y;
					const dz = positions[3 * w + 2] - z;
					const d = dx * dx + dy * dy + dz * dz;
					if (d < least || (d === least && w < best)) {
						least = d;
						best = w;
					}
				}
			}
			becomes[v] = best === NONE ? v : best;
			if (best !== NONE) continue;
			const slot = slotOf(Math.floor(x / cell), Math.floor(y / cell), Math.floor(z / cell), size);
			next[v] = head[slot];
			head[slot] = v;
		}
		yield { stage: "welding what lies close together", share: from / n };
	}
	return becomes;
}

/** Place of a cell in a hash table of a power of two; different cells may share one, the distance decides. */
function slotOf(i: number, j: number, k: number, size: number): number {
	let h = Math.imul(i | 0, 0x9e3779b1) ^ Math.imul(j | 0, 0x85ebca6b) ^ Math.imul(k | 0, 0xc2b2ae35);
	h = Math.imul(h ^ (h >>> 15), 0x2c1b3c6d);
	return (h ^ (h >>> 13)) & (size - 1);
}
