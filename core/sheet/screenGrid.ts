/**
 * Which triangle is seen at a place of a view, found exactly: triangles are sorted into the cells of a grid over the view
 * plane, and a place is tested against the triangles of its cell alone. No pixels, so no staircase and no resolution.
 */

import type { Projection } from "./projection.ts";

/** Cells that the grid has at most along its longer side, and triangles that it aims at in a cell. */
const MOST_CELLS = 700;
const TRIANGLES_PER_CELL = 4;

export interface ScreenGrid {
	/** True when some triangle covers (x, y) at a depth greater than z, mm (greater is nearer to the viewer). */
	covered(x: number, y: number, z: number): boolean;
	/** Index of the nearest triangle over (x, y), or −1. */
	frontmost(x: number, y: number): number;
	/** Depth of the nearest surface over (x, y), mm, or −∞. */
	depth(x: number, y: number): number;
}

/** The grid over the triangles of a projected mesh; `triangles` holds three vertex indices each. */
export function buildScreenGrid(p: Projection, triangles: Uint32Array): ScreenGrid {
	const { xs, ys, zs } = p;
	const count = triangles.length / 3;
	let minX = Infinity;
	let minY = Infinity;
	let maxX = -Infinity;
	let maxY = -Infinity;
	for (let i = 0; i < xs.length; i++) {
		const x = xs[i];
		const y = ys[i];
		if (x < minX) minX = x;
		if (x > maxX) maxX = x;
		if (y < minY) minY = y;
		if (y > maxY) maxY = y;
	}
	const width = Math.max(maxX - minX, 1e-9);
	const height = Math.max(maxY - minY, 1e-9);
	const wanted = Math.sqrt((width * height * TRIANGLES_PER_CELL) / Math.max(1, count));
	const cell = Math.max(wanted, Math.max(width, height) / MOST_CELLS);
	const columns = Math.floor(width / cell) + 1;
	const rows = Math.floor(height / cell) + 1;

	// Cell range and nearest depth of each triangle, then a counting sort into the cells.
	const ranges = new Int32Array(4 * count);
	const nearest = new Float64Array(count);
	const starts = new Int32Array(columns * rows + 1);
	for (let f = 0; f < count; f++) {
		const a = triangles[3 * f];
		const b = triangles[3 * f + 1];
		const c = triangles[3 * f + 2];
		const x0 = Math.floor((Math.min(xs[a], xs[b], xs[c]) - minX) / cell);
		const x1 = Math.floor((Math.max(xs[a], xs[b], xs[c]) - minX) / cell);
		const y0 = Math.floor((Math.min(ys[a], ys[b], ys[c]) - minY) / cell);
		const y1 = Math.floor((Math.max(ys[a], ys[b], ys[c]) - minY) / cell);
		ranges[4 * f] = x0;
		ranges[4 * f + 1] = x1;
		ranges[4 * f + 2] = y0;
		ranges[4 * f + 3] = y1;
		nearest[f] = Math.max(zs[a], zs[b], zs[c]);
		for (let y = y0; y <= y1; y++) for (let x = x0; x <= x1; x++) starts[y * columns + x + 1]++;
	}
	for (let i = 1; i < starts.length; i++) starts[i] += starts[i - 1];
	const members = new Int32Array(starts[starts.length - 1]);
	const filled = starts.slice(0, -1);
	for (let f = 0; f < count; f++)
		for (let y = ranges[4 * f + 2]; y <= ranges[4 * f + 3]; y++)
			for (let x = ranges[4 * f]; x <= ranges[4 * f + 1]; x++) members[filled[y * columns + x]++] = f;

	/** Depth of triangle f over (x, y), or −∞ beside it; its edges belong to it, so that no crack shows between two. */
	const depthAt = (f: number, x: number, y: number): number => {
		const a = triangles[3 * f];
		const b = triangles[3 * f + 1];
		const c = triangles[3 * f + 2];
		const ax = xs[a] - x;
		const ay = ys[a] - y;
		const bx = xs[b] - x;
		const by = ys[b] - y;
		const cx = xs[c] - x;
		const cy = ys[c] - y;
		const u = bx * cy - cx * by;
		const v = cx * ay - ax * cy;
		const w = ax * by - bx * ay;
		if ((u < 0 || v < 0 || w < 0) && (u > 0 || v > 0 || w > 0)) return -Infinity;
		const sum = u + v + w;
		return sum === 0 ? -Infinity : (u * zs[a] + v * zs[b] + w * zs[c]) / sum;
	};
	const cellAt = (x: number, y: number): number => {
		const column = Math.floor((x - minX) / cell);
		const row = Math.floor((y - minY) / cell);
		return column < 0 || row < 0 || column >= columns || row >= rows ? -1 : row * columns + column;
	};
	/** Leaves the depth of what it finds in `seen`. */
	let seen = -Infinity;
	const frontmost = (x: number, y: number): number => {
		const at = cellAt(x, y);
		let found = -1;
		seen = -Infinity;
		if (at >= 0)
			for (let i = starts[at]; i < starts[at + 1]; i++) {
				const f = members[i];
				if (nearest[f] <= seen) continue;
				const d = depthAt(f, x, y);
				if (d > seen) {
					seen = d;
					found = f;
				}
			}
		return found;
	};
	return {
		frontmost,
		depth(x, y) {
			frontmost(x, y);
			return seen;
		},
		covered(x, y, z) {
			const at = cellAt(x, y);
			if (at < 0) return false;
			for (let i = starts[at]; i < starts[at + 1]; i++) {
				const f = members[i];
				if (nearest[f] > z && depthAt(f, x, y) > z) return true;
			}
			return false;
		},
	};
}
