/** Holes closed by flat triangles between the vertices of their rims. */

import type { Job } from "../job.ts";
import { type Edges, edgeCount, fromVertex, toVertex } from "./edges.ts";
import type { OpenLoops } from "./loops.ts";
import { areaBetween } from "./measures.ts";
import { MOST_LOOKS, triangulate } from "./triangulate.ts";

/** Rims up to this many vertices are closed with the least area, which takes n³/6 steps; longer ones in their plane. */
const MOST_FOR_LEAST_AREA = 160;
/** Share of the rim's length squared, added for each chord that is an edge already: such a fill wins only where all are such. */
const CHORD_TAKEN = 1000;

export interface Filled {
	/** Three vertices a triangle, facing as the surface around the hole does. */
	readonly triangles: Uint32Array;
	readonly holes: number;
}

/**
 * Closes every closed loop whose length is at most `longest`.
 *
 * Of all ways to join the rim's vertices by triangles the one of least area is taken (G. Barequet and M. Sharir 1995),
 * and among them one that makes no edge a second time where it can be avoided; a rim of more than 160 vertices is cut
 * into ears in the plane of its own normal.
 */
export function* fillHoles(
	positions: Float64Array,
	triangles: Uint32Array,
	edges: Edges,
	loops: OpenLoops,
	longest: number,
): Job<Filled> {
	const chosen: number[] = [];
	let corners = 0;
	for (let i = 0; i < loops.count; i++) {
		const n = loops.start[i + 1] - loops.start[i];
		if (loops.closed[i] === 0 || n < 3 || loops.length[i] > longest) continue;
		chosen.push(i);
		corners += n - 2;
	}
	const taken = edgesWithin(triangles, edges, loops, positions.length / 3);
	const out = new Uint32Array(3 * corners);
	const effort = { looks: MOST_LOOKS };
	let filled = 0;
	let steps = 0;
	for (let k = 0; k < chosen.length; k++) {
		const i = chosen[k];
		// The fill runs every rim edge against the triangle that is there.
		const ring = loops.vertices.slice(loops.start[i], loops.start[i + 1]).reverse();
		if (ring.length <= MOST_FOR_LEAST_AREA) filled = leastArea(positions, ring, loops.length[i], taken, out, filled);
		else filled += 3 * triangulate(positions, ring, ring.length, out, filled, effort);
		steps += ring.length * ring.length * ring.length;
		if (steps < 1e7) continue;
		steps = 0;
		yield { stage: "closing holes", share: k / chosen.length };
	}
	return { triangles: out.slice(0, filled), holes: chosen.length };
}

/** Whether two vertices that lie on rims are joined by an edge already. */
type Taken = (a: number, b: number) => boolean;

function edgesWithin(triangles: Uint32Array, edges: Edges, loops: OpenLoops, vertices: number): Taken {
	const onRim = new Uint8Array(vertices);
	for (const v of loops.vertices) onRim[v] = 1;
	const keys = new Set<number>();
	const key = (a: number, b: number): number => Math.min(a, b) * vertices + Math.max(a, b);
	for (let e = 0; e < edgeCount(edges); e++) {
		const h = edges.halfEdges[edges.start[e]];
		const a = fromVertex(triangles, h);
		const b = toVertex(triangles, h);
		if (onRim[a] === 1 && onRim[b] === 1) keys.add(key(a, b));
	}
	return (a, b) => keys.has(key(a, b));
}

/** Writes the triangulation of least area to `out` from `at` on; returns the place behind it. */
function leastArea(
	p: Float64Array,
	ring: Uint32Array,
	length: number,
	taken: Taken,
	out: Uint32Array,
	at: number,
): number {
	const penalty = CHORD_TAKEN * length * length;
	const n = ring.length;
	// Of the chain from corner i to corner j, in place n·i + j: its least cost, and the corner that its chord's triangle takes.
	const cost = new Float64Array(n * n);
	const via = new Uint16Array(n * n);
	for (let span = 2; span < n; span++)
		for (let i = 0; i + span < n; i++) {
			const j = i + span;
			let least = Infinity;
			via[n * i + j] = i + 1;
			for (let k = i + 1; k < j; k++) {
				const c = cost[n * i + k] + cost[n * k + j] + areaBetween(p, ring[i], ring[k], ring[j]);
				if (c < least) {
					least = c;
					via[n * i + j] = k;
				}
			}
			cost[n * i + j] = least + (span < n - 1 && taken(ring[i], ring[j]) ? penalty : 0);
		}
	const open = [0, n - 1];
	while (open.length > 0) {
		const j = open.pop() as number;
		const i = open.pop() as number;
		if (j - i < 2) continue;
		const k = via[n * i + j];
		out[at++] = ring[i];
		out[at++] = ring[k];
		out[at++] = ring[j];
		open.push(i, k, k, j);
	}
	return at;
}
