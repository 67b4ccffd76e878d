/** Which triangles meet at which edge: half-edges sorted so that those of one edge stand side by side. */

import type { Job } from "../job.ts";

/**
 * Half-edge h = 3t + k runs from corner k to corner k + 1 of triangle t. Edge e has the half-edges
 * `halfEdges[start[e]] … halfEdges[start[e + 1] − 1]`, in rising order. Edges are sorted by their lower, then their higher
 * vertex. A half-edge from a vertex to itself belongs to no edge.
 */
export interface Edges {
	readonly halfEdges: Uint32Array;
	/** One longer than there are edges. */
	readonly start: Uint32Array;
}

export const edgeCount = (edges: Edges): number => edges.start.length - 1;
export const fromVertex = (triangles: Uint32Array, h: number): number => triangles[h];
export const toVertex = (triangles: Uint32Array, h: number): number => triangles[h % 3 === 2 ? h - 2 : h + 1];
export const triangleOf = (h: number): number => Math.floor(h / 3);

/** Half-edges or triangles handled between two yields: well under 20 ms even where every one misses the cache. */
export const SLICE = 1 << 18;
const STAGE = "joining the triangles";

/**
 * Sorts the half-edges of a mesh by two passes of counting (least significant key first, hence stable): linear time
 * whatever the mesh, where a hash could be made to degenerate.
 */
export function* sortEdges(triangles: Uint32Array, vertices: number): Job<Edges> {
	const n = triangles.length;
	const place = new Uint32Array(vertices + 1);
	let kept = 0;
	for (let from = 0; from < n; from += SLICE) {
		kept += countHigher(triangles, from, Math.min(from + SLICE, n), place);
		yield { stage: STAGE, share: (0.15 * from) / n };
	}
	starts(place);
	const byHigher = new Uint32Array(kept);
	for (let from = 0; from < n; from += SLICE) {
		scatterByHigher(triangles, from, Math.min(from + SLICE, n), place, byHigher);
		yield { stage: STAGE, share: 0.15 + (0.3 * from) / n };
	}
	place.fill(0);
	for (let from = 0; from < n; from += SLICE) {
		countLower(triangles, from, Math.min(from + SLICE, n), place);
		yield { stage: STAGE, share: 0.45 + (0.1 * from) / n };
	}
	starts(place);
	const halfEdges = new Uint32Array(kept);
	for (let from = 0; from < kept; from += SLICE) {
		scatterByLower(triangles, byHigher, from, Math.min(from + SLICE, kept), place, halfEdges);
		yield { stage: STAGE, share: 0.55 + (0.3 * from) / kept };
	}
	// The first list is no longer needed and becomes the list of starts.
	let edges = 0;
	for (let from = 0; from < kept; from += SLICE) {
		edges = markStarts(triangles, halfEdges, from, Math.min(from + SLICE, kept), byHigher, edges);
		yield { stage: STAGE, share: 0.85 + (0.15 * from) / kept };
	}
	const start = new Uint32Array(edges + 1);
	start.set(byHigher.subarray(0, edges));
	start[edges] = kept;
	return { halfEdges, start };
}

function countHigher(triangles: Uint32Array, from: number, to: number, place: Uint32Array): number {
	let kept = 0;
	for (let h = from; h < to; h++) {
		const a = triangles[h];
		const b = triangles[h % 3 === 2 ? h - 2 : h + 1];
		if (a === b) continue;
		place[Math.max(a, b)]++;
		kept++;
	}
	return kept;
}

function countLower(triangles: Uint32Array, from: number, to: number, place: Uint32Array): void {
	for (let h = from; h < to; h++) {
		const a = triangles[h];
		const b = triangles[h % 3 === 2 ? h - 2 : h + 1];
		if (a !== b) place[Math.min(a, b)]++;
	}
}

/** Turns counts into the first place of each. */
function starts(place: Uint32Array): void {
	let sum = 0;
	for (let v = 0; v < place.length; v++) {
		const here = place[v];
		place[v] = sum;
		sum += here;
	}
}

function scatterByHigher(triangles: Uint32Array, from: number, to: number, place: Uint32Array, out: Uint32Array): void {
	for (let h = from; h < to; h++) {
		const a = triangles[h];
		const b = triangles[h % 3 === 2 ? h - 2 : h + 1];
		if (a !== b) out[place[Math.max(a, b)]++] = h;
	}
}

function scatterByLower(
	triangles: Uint32Array,
	order: Uint32Array,
	from: number,
	to: number,
	place: Uint32Array,
	out: Uint32Array,
): void {
	for (let i = from; i < to; i++) {
		const h = order[i];
		const a = triangles[h];
		const b = triangles[h % 3 === 2 ? h - 2 : h + 1];
		out[place[Math.min(a, b)]++] = h;
	}
}

function markStarts(
	triangles: Uint32Array,
	halfEdges: Uint32Array,
	from: number,
	to: number,
	start: Uint32Array,
	edges: number,
): number {
	let a0 = -1;
	let b0 = -1;
	if (from > 0) {
		a0 = triangles[halfEdges[from - 1]];
		b0 = toVertex(triangles, halfEdges[from - 1]);
	}
	for (let i = from; i < to; i++) {
		const h = halfEdges[i];
		const a = triangles[h];
		const b = triangles[h % 3 === 2 ? h - 2 : h + 1];
		if ((a !== a0 || b !== b0) && (a !== b0 || b !== a0)) {
			start[edges++] = i;
			a0 = a;
			b0 = b;
		}
	}
	return edges;
}
