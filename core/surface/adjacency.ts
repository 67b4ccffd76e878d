/** Who lies next to whom on a mesh, as flat lists (compressed rows): built once, read by curvature and pointing. */

import { type TriangleMesh, triangleCount, vertexCount } from "../scan/mesh.ts";

/** Row v of a list is the entries from start[v] up to, not including, start[v + 1]. */
export interface Adjacency {
	/** Length vertices + 1. */
	readonly triangleStart: Uint32Array;
	/** Triangles around each vertex, rising. */
	readonly triangleList: Uint32Array;
	/** Length vertices + 1. */
	readonly neighbourStart: Uint32Array;
	/** Vertices joined to each vertex by an edge, each once, in the order in which the triangles name them. */
	readonly neighbourList: Uint32Array;
	/** 1 for a vertex on an open edge (an edge of exactly one triangle). */
	readonly onRim: Uint8Array;
}

/** Adjacency of any welded mesh, manifold or not; a triangle that names a vertex twice adds no neighbour to itself. */
export function buildAdjacency(mesh: TriangleMesh): Adjacency {
	const vertices = vertexCount(mesh);
	const triangles = triangleCount(mesh);
	const corner = mesh.triangles;

	const triangleStart = new Uint32Array(vertices + 1);
	for (let i = 0; i < corner.length; i++) triangleStart[corner[i] + 1]++;
	for (let v = 0; v < vertices; v++) triangleStart[v + 1] += triangleStart[v];
	const fill = triangleStart.slice(0, vertices);
	const triangleList = new Uint32Array(corner.length);
	for (let t = 0; t < triangles; t++) {
		triangleList[fill[corner[3 * t]]++] = t;
		triangleList[fill[corner[3 * t + 1]]++] = t;
		triangleList[fill[corner[3 * t + 2]]++] = t;
	}

	// Every triangle names two neighbours of a corner, so twice its triangles is enough room; the tail is cut off at the end.
	const neighbourStart = new Uint32Array(vertices + 1);
	const room = new Uint32Array(2 * corner.length);
	const onRim = new Uint8Array(vertices);
	// seenAt[w] === v + 1: w is already a neighbour of v; `uses` then counts the triangles on the edge v w.
	const seenAt = new Uint32Array(vertices);
	const uses = new Uint16Array(vertices);
	let end = 0;
	for (let v = 0; v < vertices; v++) {
		const from = end;
		for (let i = triangleStart[v]; i < triangleStart[v + 1]; i++) {
			const t = 3 * triangleList[i];
			for (let c = 0; c < 3; c++) {
				const w = corner[t + c];
				if (w === v) continue;
				if (seenAt[w] !== v + 1) {
					seenAt[w] = v + 1;
					uses[w] = 0;
					room[end++] = w;
				}
				uses[w]++;
			}
		}
		for (let i = from; i < end; i++) {
			if (uses[room[i]] === 1) {
				onRim[v] = 1;
				break;
			}
		}
		neighbourStart[v + 1] = end;
	}
	return { triangleStart, triangleList, neighbourStart, neighbourList: room.slice(0, end), onRim };
}
