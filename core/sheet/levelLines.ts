/** Lines on a mesh along which a value given at the vertices stays the same, joined up into chains. */

/**
 * Places where a line crosses an edge of the mesh, and the chains that join them. A node lies on the edge from vertex `from[i]`
 * to `to[i]` at the share `share[i]` of its length; a chain lists nodes, and repeats the first one where it closes.
 */
export interface LevelLines {
	readonly from: readonly number[];
	readonly to: readonly number[];
	readonly share: readonly number[];
	readonly chains: readonly (readonly number[])[];
}

/** Joins segments that share nodes into chains; nodes where more than two meet end the chains that reach them. */
export interface ChainBuilder {
	/** The node of an edge (in either direction) and a level; made when it is new. */
	node(a: number, b: number, level: number, share: number): number;
	segment(p: number, q: number): void;
	finish(): LevelLines;
}

export function chainBuilder(vertices: number, levels = 1): ChainBuilder {
	const from: number[] = [];
	const to: number[] = [];
	const share: number[] = [];
	const known = new Map<number, number>();
	/** Segments at a node: the first two other ends, and how many there are. */
	const ends: number[] = [];
	const degree: number[] = [];
	const extra: number[] = [];
	return {
		node(a, b, level, s) {
			const low = Math.min(a, b);
			const high = Math.max(a, b);
			const key = (low * vertices + high) * levels + level;
			const kept = known.get(key);
			if (kept !== undefined) return kept;
			const i = from.length;
			from.push(low);
			to.push(high);
			share.push(a < b ? s : 1 - s);
			ends.push(-1, -1);
			degree.push(0);
			known.set(key, i);
			return i;
		},
		segment(p, q) {
			if (p === q) return;
			if (degree[p] >= 2 || degree[q] >= 2) {
				extra.push(p, q);
				return;
			}
			ends[2 * p + degree[p]++] = q;
			ends[2 * q + degree[q]++] = p;
		},
		finish() {
			const chains: number[][] = [];
			const used = new Uint8Array(from.length);
			const walk = (start: number): void => {
				const chain = [start];
				used[start] = 1;
				let before = -1;
				let at = start;
				for (;;) {
					const next =
						degree[at] > 0 && ends[2 * at] !== before && !used[ends[2 * at]]
							? ends[2 * at]
							: degree[at] > 1 && !used[ends[2 * at + 1]]
								? ends[2 * at + 1]
								: -1;
					if (next < 0) break;
					chain.push(next);
					used[next] = 1;
					before = at;
					at = next;
				}
				const closes = chain.length > 2 && (ends[2 * at] === start || ends[2 * at + 1] === start);
				if (closes && degree[at] === 2) chain.push(start);
				if (chain.length > 1) chains.push(chain);
			};
			for (let i = 0; i < from.length; i++) if (!used[i] && degree[i] === 1) walk(i);
			for (let i = 0; i < from.length; i++) if (!used[i] && degree[i] === 2) walk(i);
			for (let i = 0; i < extra.length; i += 2) chains.push([extra[i], extra[i + 1]]);
			return { from, to, share, chains };
		},
	};
}

/**
 * The lines where `value` passes level base + i·step, for i in [0, levels): a vertex that lies on a level counts as above it, so
 * that every line stays a line. Vertices whose value is not a number take part in none.
 */
export function levelLines(
	triangles: Uint32Array,
	value: Float64Array,
	base: number,
	step: number,
	levels: number,
): LevelLines {
	const chains = chainBuilder(value.length, levels);
	const node = (p: number, q: number, level: number, at: number): number =>
		chains.node(p, q, level, (at - value[p]) / (value[q] - value[p]));
	for (let i = 0; i < triangles.length; i += 3) {
		const a = triangles[i];
		const b = triangles[i + 1];
		const c = triangles[i + 2];
		// Number of levels that each corner reaches.
		const na = Math.floor((value[a] - base) / step) + 1;
		const nb = Math.floor((value[b] - base) / step) + 1;
		const nc = Math.floor((value[c] - base) / step) + 1;
		if (na === nb && nb === nc) continue;
		const low = Math.max(0, Math.min(na, nb, nc));
		const high = Math.min(levels, Math.max(na, nb, nc));
		for (let level = low; level < high; level++) {
			const at = base + level * step;
			const above = (na > level ? 1 : 0) | (nb > level ? 2 : 0) | (nc > level ? 4 : 0);
			if (above === 1 || above === 6) chains.segment(node(a, b, level, at), node(a, c, level, at));
			else if (above === 2 || above === 5) chains.segment(node(b, a, level, at), node(b, c, level, at));
			else chains.segment(node(c, a, level, at), node(c, b, level, at));
		}
	}
	return chains.finish();
}

/** Edges that belong to one triangle alone, as pairs of vertices: the rim of an open shell. */
export function rimEdges(triangles: Uint32Array, vertices: number): Uint32Array {
	// Half edges sorted by their lower vertex, then matched within each short list.
	const starts = new Uint32Array(vertices + 1);
	const corners = triangles.length;
	const next = (i: number): number => (i % 3 === 2 ? i - 2 : i + 1);
	for (let i = 0; i < corners; i++) starts[Math.min(triangles[i], triangles[next(i)]) + 1]++;
	for (let i = 1; i <= vertices; i++) starts[i] += starts[i - 1];
	const filled = starts.slice(0, -1);
	const other = new Uint32Array(corners);
	for (let i = 0; i < corners; i++) {
		const a = triangles[i];
		const b = triangles[next(i)];
		other[filled[Math.min(a, b)]++] = Math.max(a, b);
	}
	const rim: number[] = [];
	for (let v = 0; v < vertices; v++)
		for (let i = starts[v]; i < starts[v + 1]; i++) {
			let same = 0;
			for (let j = starts[v]; j < starts[v + 1]; j++) if (other[j] === other[i]) same++;
			if (same === 1) rim.push(v, other[i]);
		}
	return Uint32Array.from(rim);
}
