/**
 * The slow, obvious twin of the cover check, written from handbook section 6 alone and sharing no code with `core/pointing`:
 * nearest points by Dijkstra over edges and across them, facets from the triangles where three cells meet, and for every
 * vertex the facets around its point and its point's neighbours.
 */

import type { TriangleMesh } from "../../../core/scan/mesh.ts";

type V = readonly [number, number, number];
const minus = (a: V, b: V): V => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const times = (a: V, b: V): V => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const inner = (a: V, b: V): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const size = (a: V): number => Math.hypot(a[0], a[1], a[2]);

export interface JoinPoint {
	readonly vertex: number;
	readonly position: V;
	readonly normal: V;
}

/** For every vertex: the cover by the nearest facet that holds it, and the least of all that hold it; NaN where none does. */
export interface BruteCover {
	readonly nearest: Float64Array;
	readonly least: Float64Array;
	readonly label: Int32Array;
	readonly facets: readonly (readonly [number, number, number])[];
}

export function bruteCover(mesh: TriangleMesh, points: readonly JoinPoint[], join: number): BruteCover {
	const n = mesh.positions.length / 3;
	const at = (v: number): V => [mesh.positions[3 * v], mesh.positions[3 * v + 1], mesh.positions[3 * v + 2]];
	const label = nearestPoints(mesh, points);
	const raised = points.map(
		(p): V => [
			p.position[0] + join * p.normal[0],
			p.position[1] + join * p.normal[1],
			p.position[2] + join * p.normal[2],
		],
	);
	const seen = new Set<string>();
	const facets: [number, number, number][] = [];
	const around: Set<number>[] = points.map(() => new Set());
	const beside: Set<number>[] = points.map((_, i) => new Set([i]));
	const normals = new Float64Array(3 * n);
	for (let t = 0; t < mesh.triangles.length; t += 3) {
		const [a, b, c] = [mesh.triangles[t], mesh.triangles[t + 1], mesh.triangles[t + 2]];
		const face = times(minus(at(b), at(a)), minus(at(c), at(a)));
		for (const v of [a, b, c]) for (let k = 0; k < 3; k++) normals[3 * v + k] += face[k];
		const [i, j, k] = [label[a], label[b], label[c]];
		if (Math.min(i, j, k) < 0) continue;
		for (const [p, q] of [
			[i, j],
			[j, k],
			[k, i],
		] as const) {
			beside[p].add(q);
			beside[q].add(p);
		}
		if (i === j || j === k || k === i) continue;
		const key = [i, j, k].sort((x, y) => x - y).join();
		if (seen.has(key)) continue;
		seen.add(key);
		for (const p of [i, j, k]) around[p].add(facets.length);
		facets.push([i, j, k]);
	}
	const near = beside.map((set) => new Set([...set].flatMap((p) => [...around[p]])));
	const nearest = new Float64Array(n).fill(Number.NaN);
	const least = new Float64Array(n).fill(Number.NaN);
	for (let v = 0; v < n; v++) {
		if (label[v] < 0) continue;
		const p = at(v);
		const outward: V = [normals[3 * v], normals[3 * v + 1], normals[3 * v + 2]];
		for (const f of near[label[v]]) {
			const [a, b, c] = facets[f].map((i) => raised[i]);
			const normal = times(minus(b, a), minus(c, a));
			const length = size(normal);
			if (!(length > 0) || inner(normal, outward) <= 0) continue;
			const inside = [
				[a, b],
				[b, c],
				[c, a],
			].every(([q, r]) => inner(times(minus(r, q), minus(p, q)), normal) >= 0);
			if (!inside) continue;
			const d = inner(minus(a, p), normal) / length;
			if (!(Math.abs(d) >= Math.abs(nearest[v]))) nearest[v] = d;
			if (!(d >= least[v])) least[v] = d;
		}
	}
	return { nearest, least, label, facets };
}

/** Nearest point of every vertex: Dijkstra over the edges and over the straight ways across each edge, unfolded. */
function nearestPoints(mesh: TriangleMesh, points: readonly JoinPoint[]): Int32Array {
	const n = mesh.positions.length / 3;
	const at = (v: number): V => [mesh.positions[3 * v], mesh.positions[3 * v + 1], mesh.positions[3 * v + 2]];
	const ways: [number, number][][] = Array.from({ length: n }, () => []);
	const opposite = new Map<number, number>();
	for (let t = 0; t < mesh.triangles.length; t += 3) {
		for (let k = 0; k < 3; k++) {
			const a = mesh.triangles[t + k];
			const b = mesh.triangles[t + ((k + 1) % 3)];
			const o = mesh.triangles[t + ((k + 2) % 3)];
			const d = size(minus(at(a), at(b)));
			ways[a].push([b, d]);
			ways[b].push([a, d]);
			opposite.set(a * n + b, o);
		}
	}
	for (const [key, o] of opposite) {
		const a = Math.floor(key / n);
		const b = key % n;
		const q = opposite.get(b * n + a);
		if (q === undefined || a > b) continue;
		// Both apexes laid flat on the two sides of the edge a b.
		const edge = minus(at(b), at(a));
		const l = size(edge);
		if (!(l > 0)) continue;
		const flat = (v: number): [number, number] => {
			const w = minus(at(v), at(a));
			return [inner(w, edge) / l, size(times(w, edge)) / l];
		};
		const [x1, y1] = flat(o);
		const [x2, y2] = flat(q);
		const cross = y1 + y2 > 0 ? x1 + ((x2 - x1) * y1) / (y1 + y2) : -1;
		if (cross < 0 || cross > l) continue;
		const d = Math.hypot(x2 - x1, y1 + y2);
		ways[o].push([q, d]);
		ways[q].push([o, d]);
	}
	const distance = new Float64Array(n).fill(Number.POSITIVE_INFINITY);
	const label = new Int32Array(n).fill(-1);
	const heap: [number, number][] = [];
	const push = (d: number, v: number): void => {
		let i = heap.length;
		heap.push([d, v]);
		while (i > 0) {
			const up = (i - 1) >> 1;
			if (heap[up][0] <= heap[i][0]) break;
			[heap[up], heap[i]] = [heap[i], heap[up]];
			i = up;
		}
	};
	const pop = (): [number, number] => {
		const top = heap[0];
		const last = heap.pop() as [number, number];
		if (heap.length > 0) {
			heap[0] = last;
			for (let i = 0; ; ) {
				let down = 2 * i + 1;
				if (down >= heap.length) break;
				if (down + 1 < heap.length && heap[down + 1][0] < heap[down][0]) down++;
				if (heap[i][0] <= heap[down][0]) break;
				[heap[down], heap[i]] = [heap[i], heap[down]];
				i = down;
			}
		}
		return top;
	};
	points.forEach((p, i) => {
		if (distance[p.vertex] === 0) return;
		distance[p.vertex] = 0;
		label[p.vertex] = i;
		push(0, p.vertex);
	});
	while (heap.length > 0) {
		const [d, v] = pop();
		if (d > distance[v]) continue;
		for (const [w, way] of ways[v]) {
			if (d + way < distance[w]) {
				distance[w] = d + way;
				label[w] = label[v];
				push(distance[w], w);
			}
		}
	}
	return label;
}
