/** Triangles with the same three vertices. */

import type { Job } from "../job.ts";
import { type Edges, edgeCount, SLICE, toVertex, triangleOf } from "./edges.ts";

export interface Doubled {
	/** Of each triangle the first with the same three vertices, either way round: itself where there is none before it. */
	readonly firstOf: Uint32Array;
	/** 1 where a triangle runs the other way than the first of its set. */
	readonly against: Uint8Array;
	/** Triangles that run the same way round as an earlier one. */
	readonly sameWay: number;
}

/** Marks in `ways` that a set has been met running as its first triangle runs, or against it. */
const AS_FIRST = 1;
const AGAINST = 2;
/** Triangles at one edge from which on they are sorted rather than compared each with each. */
const CROWD = 16;

/** Finds the sets of triangles with the same three vertices. Triangles that have a vertex twice are in no set. */
export function* findDoubled(triangles: Uint32Array, edges: Edges): Job<Doubled> {
	const n = triangles.length / 3;
	const firstOf = new Uint32Array(n);
	for (let t = 0; t < n; t++) firstOf[t] = t;
	const against = new Uint8Array(n);
	const ways = new Uint8Array(n);
	let sameWay = 0;
	const count = edgeCount(edges);
	for (let from = 0; from < count; from += SLICE) {
		const to = Math.min(from + SLICE, count);
		for (let e = from; e < to; e++)
			if (edges.start[e + 1] - edges.start[e] > 1) sameWay += markEdge(triangles, edges, e, firstOf, against, ways);
		yield { stage: "looking for doubled triangles", share: from / count };
	}
	return { firstOf, against, sameWay };
}

/** The vertex of half-edge h's triangle that is not on h. */
const apex = (triangles: Uint32Array, h: number): number => triangles[h % 3 === 0 ? h + 2 : h - 1];

/** Looks at those triangles of an edge whose third vertex is above both its ends, so that each is looked at once. */
function markEdge(
	triangles: Uint32Array,
	edges: Edges,
	e: number,
	firstOf: Uint32Array,
	against: Uint8Array,
	ways: Uint8Array,
): number {
	let sameWay = 0;
	let group = edges.halfEdges.subarray(edges.start[e], edges.start[e + 1]);
	const crowd = group.length > CROWD;
	if (crowd) group = group.slice().sort((g, h) => apex(triangles, g) - apex(triangles, h) || g - h);
	for (let i = 1; i < group.length; i++) {
		const h = group[i];
		const third = apex(triangles, h);
		const b = toVertex(triangles, h);
		if (third <= triangles[h] || third <= b) continue;
		// In a crowd equal ones stand side by side, so the one before tells.
		const last = crowd ? i - 1 : 0;
		for (let k = i - 1; k >= last; k--) {
			const g = group[k];
			if (apex(triangles, g) !== third) continue;
			const t = triangleOf(h);
			const first = firstOf[triangleOf(g)];
			firstOf[t] = first;
			against[t] = against[triangleOf(g)] ^ (toVertex(triangles, g) === b ? 0 : 1);
			const way = against[t] === 1 ? AGAINST : AS_FIRST;
			if (way === AS_FIRST || (ways[first] & AGAINST) !== 0) sameWay++;
			ways[first] |= way;
			break;
		}
	}
	return sameWay;
}
