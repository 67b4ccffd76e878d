/** What holds of a mesh, counted edge by edge. */
import type { TriangleMesh } from "../../core/scan/mesh.ts";

export interface Shape {
	/** Edges with one triangle, with more than two, and those that two triangles run in the same direction. */
	readonly openEdges: number;
	readonly crowdedEdges: number;
	readonly flippedEdges: number;
	/** Closed rounds that the open edges make; −1 when they do not close one by one. */
	readonly rims: number;
	/** Pieces that hang together over edges. */
	readonly shells: number;
	/** Vertices whose triangles are not one fan, or that no triangle uses. */
	readonly pinchedVertices: number;
	/** V − E + F */
	readonly euler: number;
	/** By the divergence theorem; positive when triangles face outwards. Of a shell: with its rim closed from the origin. */
	readonly volume: number;
	readonly low: readonly number[];
	readonly high: readonly number[];
}

export function shape({ positions, triangles }: TriangleMesh): Shape {
	const vertices = positions.length / 3;
	const edges = new Map<number, number[]>();
	for (let t = 0; t < triangles.length; t += 3) {
		for (let i = 0; i < 3; i++) {
			const a = triangles[t + i];
			const b = triangles[t + ((i + 1) % 3)];
			const key = Math.min(a, b) * vertices + Math.max(a, b);
			const run = a < b ? t / 3 : -1 - t / 3;
			const list = edges.get(key);
			if (list === undefined) edges.set(key, [run]);
			else list.push(run);
		}
	}
	const parent = Int32Array.from({ length: triangles.length / 3 }, (_, t) => t);
	const root = (t: number): number => {
		let r = t;
		while (parent[r] !== r) {
			parent[r] = parent[parent[r]];
			r = parent[r];
		}
		return r;
	};
	let openEdges = 0;
	let crowdedEdges = 0;
	let flippedEdges = 0;
	const next = new Map<number, number>();
	let rimClean = true;
	for (const [key, list] of edges) {
		if (list.length === 1) {
			openEdges++;
			const low = Math.floor(key / vertices);
			const high = key - low * vertices;
			const [from, to] = list[0] >= 0 ? [low, high] : [high, low];
			if (next.has(from)) rimClean = false;
			next.set(from, to);
		} else if (list.length > 2) crowdedEdges++;
		else if (list[0] >= 0 === list[1] >= 0) flippedEdges++;
		const ids = list.map((run) => (run >= 0 ? run : -1 - run));
		for (const id of ids) parent[root(id)] = root(ids[0]);
	}
	let rims = 0;
	const left = new Set(next.keys());
	for (const start of next.keys()) {
		if (!left.has(start)) continue;
		let at = start;
		while (left.delete(at)) at = next.get(at) ?? -1;
		if (at !== start) rimClean = false;
		rims++;
	}
	let shells = 0;
	for (let t = 0; t < parent.length; t++) if (root(t) === t) shells++;

	// One fan: going from edge to edge around the vertex meets every triangle that holds it.
	const around = Array.from({ length: vertices }, (): number[] => []);
	for (let c = 0; c < triangles.length; c++) around[triangles[c]].push(c);
	let pinchedVertices = 0;
	for (const corners of around) {
		const out = new Map<number, number>();
		const into = new Set<number>();
		for (const c of corners) {
			const t = c - (c % 3);
			out.set(triangles[t + ((c + 1) % 3)], triangles[t + ((c + 2) % 3)]);
			into.add(triangles[t + ((c + 2) % 3)]);
		}
		let at = [...out.keys()].find((v) => !into.has(v)) ?? out.keys().next().value;
		let met = 0;
		while (at !== undefined && met <= corners.length) {
			const onward = out.get(at);
			if (onward === undefined) break;
			out.delete(at);
			met++;
			at = onward;
		}
		if (corners.length === 0 || met !== corners.length) pinchedVertices++;
	}
	let volume = 0;
	const p = positions;
	for (let t = 0; t < triangles.length; t += 3) {
		const [a, b, c] = [3 * triangles[t], 3 * triangles[t + 1], 3 * triangles[t + 2]];
		volume += p[a] * (p[b + 1] * p[c + 2] - p[b + 2] * p[c + 1]);
		volume += p[a + 1] * (p[b + 2] * p[c] - p[b] * p[c + 2]);
		volume += p[a + 2] * (p[b] * p[c + 1] - p[b + 1] * p[c]);
	}
	const low = [Infinity, Infinity, Infinity];
	const high = [-Infinity, -Infinity, -Infinity];
	for (let i = 0; i < p.length; i++) {
		low[i % 3] = Math.min(low[i % 3], p[i]);
		high[i % 3] = Math.max(high[i % 3], p[i]);
	}
	return {
		openEdges,
		crowdedEdges,
		flippedEdges,
		rims: rimClean ? rims : -1,
		shells,
		pinchedVertices,
		euler: vertices - edges.size + triangles.length / 3,
		volume: volume / 6,
		low,
		high,
	};
}
