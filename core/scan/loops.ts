/** Open edges strung together: the holes and rims of a surface. */

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

/**
 * Strings open edges (two vertices each, as their triangle runs them) into loops that pass no vertex twice: where a walk
 * comes back to a vertex that it has passed, that part is a loop of its own. Walks begin at the lowest edge left and
 * take the lowest edge onwards.
 */
export function openLoops(positions: Float64Array, openEdges: Uint32Array): OpenLoops {
	const edges = openEdges.length / 2;
	// Chains that begin where nothing arrives must start there, or they would be found in pieces.
	const out = new Map<number, number[]>();
	const arriving = new Map<number, number>();
	for (let e = edges - 1; e >= 0; e--) {
		const from = openEdges[2 * e];
		const to = openEdges[2 * e + 1];
		const list = out.get(from);
		if (list) list.push(e);
		else out.set(from, [e]);
		arriving.set(to, (arriving.get(to) ?? 0) + 1);
	}
	const used = new Uint8Array(edges);
	const start: number[] = [0];
	const vertices: number[] = [];
	const closed: number[] = [];
	const place = new Map<number, number>();
	const walk = (first: number): void => {
		const path = [openEdges[2 * first]];
		place.clear();
		place.set(path[0], 0);
		let e: number | undefined = first;
		while (e !== undefined) {
			used[e] = 1;
			const v: number = openEdges[2 * e + 1];
			const seen = place.get(v);
			if (seen === undefined) {
				place.set(v, path.length);
				path.push(v);
			} else {
				for (let i = seen; i < path.length; i++) vertices.push(path[i]);
				for (let i = seen + 1; i < path.length; i++) place.delete(path[i]);
				path.length = seen + 1;
				closed.push(1);
				start.push(vertices.length);
			}
			const list: number[] = out.get(v) ?? [];
			while (list.length > 0 && used[list[list.length - 1]] === 1) list.pop();
			e = list[list.length - 1];
		}
		if (path.length > 1) {
			for (const v of path) vertices.push(v);
			closed.push(0);
			start.push(vertices.length);
		}
	};
	for (let e = 0; e < edges; e++) {
		const v = openEdges[2 * e];
		if (used[e] === 0 && (out.get(v)?.length ?? 0) > (arriving.get(v) ?? 0)) walk(e);
	}
	for (let e = 0; e < edges; e++) if (used[e] === 0) walk(e);
	return measured(positions, Uint32Array.from(start), Uint32Array.from(vertices), Uint8Array.from(closed));
}

function measured(p: Float64Array, start: Uint32Array, vertices: Uint32Array, closed: Uint8Array): OpenLoops {
	const count = closed.length;
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
