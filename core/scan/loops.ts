/** Open edges strung together: the holes and rims of a surface. */

import type { Job } from "../job.ts";
import { type Edges, edgeCount, fromVertex, toVertex } from "./edges.ts";

/** Chains of open edges in flat arrays. */
export interface OpenLoops {
	readonly count: number;
	/** Vertices of loop i: `vertices[start[i]] … vertices[start[i + 1] − 1]`, as the triangles at the rim run. */
	readonly start: Uint32Array;
	readonly vertices: Uint32Array;
	/** 1 when the last vertex is joined to the first; 0 for a chain that stops, where neighbours face different ways. */
	readonly closed: Uint8Array;
	/** Length of the edges of each loop. */
	readonly length: Float64Array;
	/** x, y, z of the middle of each loop's edges. */
	readonly centre: Float64Array;
}

/** The edges of one triangle only: two vertices each, as the triangle runs them, in the order of the edges. */
export function openEdgesOf(triangles: Uint32Array, edges: Edges): Uint32Array {
	const { halfEdges, start } = edges;
	const n = edgeCount(edges);
	let count = 0;
	for (let e = 0; e < n; e++) if (start[e + 1] - start[e] === 1) count++;
	const open = new Uint32Array(2 * count);
	for (let e = 0, o = 0; e < n; e++) {
		if (start[e + 1] - start[e] !== 1) continue;
		open[o++] = fromVertex(triangles, halfEdges[start[e]]);
		open[o++] = toVertex(triangles, halfEdges[start[e]]);
	}
	return open;
}

/**
 * The boundary of a surface: each edge as often, and in the way, as it is run more often one way than the other. Unlike the
 * open edges it always strings into closed loops, also past edges of many triangles.
 */
export function boundaryOf(triangles: Uint32Array, edges: Edges): Uint32Array {
	const { halfEdges, start } = edges;
	const boundary: number[] = [];
	for (let e = 0; e < edgeCount(edges); e++) {
		const a = fromVertex(triangles, halfEdges[start[e]]);
		const b = toVertex(triangles, halfEdges[start[e]]);
		let net = 0;
		for (let i = start[e]; i < start[e + 1]; i++) net += fromVertex(triangles, halfEdges[i]) === a ? 1 : -1;
		for (; net > 0; net--) boundary.push(a, b);
		for (; net < 0; net++) boundary.push(b, a);
	}
	return Uint32Array.from(boundary);
}

/** Edges walked between two yields. */
const SLICE = 1 << 18;

/**
 * Strings open edges (two vertices each, as their triangle runs them; `vertices` in the mesh) into loops that pass no
 * vertex twice: where a walk comes back to a vertex that it has passed, that part is a loop of its own. Walks begin at the
 * lowest edge left, first of all where more edges leave a vertex than arrive, and take the lowest edge onwards.
 */
export function* openLoops(positions: Float64Array, openEdges: Uint32Array): Job<OpenLoops> {
	const edges = openEdges.length / 2;
	const vertices = positions.length / 3;
	if (edges === 0) return measured(positions, new Uint32Array(1), new Uint32Array(0), new Uint8Array(0), 0);
	// Edges by the vertex that they leave, lowest first; `next[v]` is the first that has not been walked.
	const next = new Uint32Array(vertices + 1);
	const surplus = new Int32Array(vertices);
	for (let e = 0; e < edges; e++) {
		next[openEdges[2 * e]]++;
		surplus[openEdges[2 * e]]++;
		surplus[openEdges[2 * e + 1]]--;
	}
	for (let v = 0, sum = 0; v <= vertices; v++) {
		const here = next[v];
		next[v] = sum;
		sum += here;
	}
	const end = next.slice(1);
	const leaving = new Uint32Array(edges);
	for (let e = 0; e < edges; e++) leaving[next[openEdges[2 * e]]++] = e;
	for (let v = vertices; v > 0; v--) next[v] = next[v - 1];
	next[0] = 0;

	const used = new Uint8Array(edges);
	const start = new Uint32Array(edges + 1);
	const strung = new Uint32Array(2 * edges);
	const closed = new Uint8Array(edges);
	let count = 0;
	let filled = 0;
	const path = new Uint32Array(edges + 1);
	/** Place of a vertex in the path + 1; 0 for a vertex that is not in it. */
	const place = new Uint32Array(vertices);
	/** Walks from edge `first` until nothing leaves; how many edges that were. */
	const walk = (first: number): number => {
		let length = 1;
		let walked = 0;
		path[0] = openEdges[2 * first];
		place[path[0]] = 1;
		for (let e = first; ; ) {
			used[e] = 1;
			walked++;
			const v = openEdges[2 * e + 1];
			if (place[v] === 0) {
				path[length] = v;
				place[v] = ++length;
			} else {
				const seen = place[v];
				for (let i = seen - 1; i < length; i++) strung[filled++] = path[i];
				for (let i = seen; i < length; i++) place[path[i]] = 0;
				length = seen;
				closed[count] = 1;
				start[++count] = filled;
			}
			while (next[v] < end[v] && used[leaving[next[v]]] === 1) next[v]++;
			if (next[v] === end[v]) break;
			e = leaving[next[v]];
		}
		if (length > 1) {
			for (let i = 0; i < length; i++) strung[filled++] = path[i];
			start[++count] = filled;
		}
		for (let i = 0; i < length; i++) place[path[i]] = 0;
		return walked;
	};
	let walked = 0;
	for (const onlyEnds of [true, false])
		for (let e = 0; e < edges; e++) {
			const v = openEdges[2 * e];
			if (used[e] === 1 || (onlyEnds && surplus[v] <= 0)) continue;
			surplus[v]--;
			walked += walk(e);
			if (walked < SLICE) continue;
			walked = 0;
			yield { stage: "stringing the open edges", share: onlyEnds ? 0 : e / edges };
		}
	return measured(positions, start.slice(0, count + 1), strung.slice(0, filled), closed.slice(0, count), count);
}

function measured(
	p: Float64Array,
	start: Uint32Array,
	vertices: Uint32Array,
	closed: Uint8Array,
	count: number,
): OpenLoops {
	const length = new Float64Array(count);
	const centre = new Float64Array(3 * count);
	for (let i = 0; i < count; i++) {
		const n = start[i + 1] - start[i];
		for (let k = 0; k < n - 1 + closed[i]; k++) {
			const a = 3 * vertices[start[i] + k];
			const b = 3 * vertices[start[i] + ((k + 1) % n)];
			const [x, y, z] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
			const edge = Math.sqrt(x * x + y * y + z * z);
			length[i] += edge;
			for (let d = 0; d < 3; d++) centre[3 * i + d] += (edge * (p[a + d] + p[b + d])) / 2;
		}
		for (let d = 0; d < 3; d++) centre[3 * i + d] /= length[i];
	}
	return { count, start, vertices, closed, length, centre };
}
