/** The shells of a mesh: sets of triangles joined over edges. */

import type { Job } from "../job.ts";
import { type Edges, edgeCount, SLICE, triangleOf } from "./edges.ts";

export interface Shells {
	/** Shell of each triangle; shells are numbered from 0 in the order of their first triangles. */
	readonly of: Uint32Array;
	readonly count: number;
}

/** Triangles that share an edge, with however many others, are one shell; touching at a vertex alone does not join. */
export function* findShells(triangles: number, edges: Edges): Job<Shells> {
	const parent = new Uint32Array(triangles);
	for (let t = 0; t < triangles; t++) parent[t] = t;
	const n = edgeCount(edges);
	for (let from = 0; from < n; from += SLICE) {
		joinRange(edges, from, Math.min(from + SLICE, n), parent);
		yield { stage: "finding the shells", share: from / n };
	}
	const of = new Uint32Array(triangles);
	let count = 0;
	for (let t = 0; t < triangles; t++) {
		// Parents are lower than their children, so going upwards every parent already points at its root.
		const r = parent[parent[t]];
		parent[t] = r;
		of[t] = r === t ? count++ : of[r];
	}
	return { of, count };
}

/** The lowest triangle of a set; the path to it is halved on the way. */
function rootOf(parent: Uint32Array, t: number): number {
	let p = parent[t];
	while (p !== t) {
		const above = parent[p];
		parent[t] = above;
		t = above;
		p = parent[t];
	}
	return t;
}

function joinRange(edges: Edges, from: number, to: number, parent: Uint32Array): void {
	const { halfEdges, start } = edges;
	for (let e = from; e < to; e++) {
		const first = triangleOf(halfEdges[start[e]]);
		for (let i = start[e] + 1; i < start[e + 1]; i++) {
			const a = rootOf(parent, first);
			const b = rootOf(parent, triangleOf(halfEdges[i]));
			if (a < b) parent[b] = a;
			else if (b < a) parent[a] = b;
		}
	}
}
