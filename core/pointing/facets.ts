/**
 * The flat join between points and the stone that it leaves: facets are the dual of the points' geodesic cells, raised by
 * the join allowance, and the cover of a vertex is its signed distance to the facet over it (handbook 6).
 */

import type { Job } from "../job.ts";
import type { Surface } from "./ground.ts";

/** Entries of a facet in `planes`: unit normal and offset, then for each edge the inward direction and offset. */
const PLANE = 16;
/** mm by which a projection may lie outside a facet's edge and still count as held, against rounding. */
const EDGE_SLACK = 1e-9;
/**
 * Two facets could as well be joined across their other diagonal when the cotangents of the two angles that look at the one
 * they share add up to less than this; at 0 the four points lie on a circle.
 */
const EITHER_WAY = 0.3;
const SLICE = 4096;

export interface Facets {
	/** Three seeds a facet, counter-clockwise seen from outside: `count` facets, then the other ways of joining. */
	readonly corners: Int32Array;
	/**
	 * Facets of the join. What follows them in `corners` and `planes` are the facets across the other diagonal of pairs
	 * that could as well be joined that way: a carver may, so a claim has to stand under them too.
	 */
	readonly count: number;
	/** 16 numbers a facet: n, n·a, then three times m, m·a with m inward along the plane, square to an edge. */
	readonly planes: Float64Array;
	/** Facet across each edge (edge k runs from corner k to corner k + 1), -1 at the border of the join. */
	readonly across: Int32Array;
	/** Facets in reach of a seed, its own first, then those of its neighbours: rows as in `Adjacency`. */
	readonly nearStart: Int32Array;
	readonly nearList: Int32Array;
	/** Seeds whose cells touch those of each seed, itself left out. */
	readonly neighbours: readonly (readonly number[])[];
	/** How many of a seed's near facets are its own. */
	readonly own: Int32Array;
}

/**
 * Facets between `seeds` points. `label` is the nearest seed of every vertex (-1: none); a triangle whose corners belong to
 * three seeds is where three cells meet. `raised`: x, y, z of each seed, j proud of the surface.
 */
export function buildFacets(surface: Surface, label: Int32Array, seeds: number, raised: Float64Array): Facets {
	const corner = surface.mesh.triangles;
	const neighbourSets: Set<number>[] = Array.from({ length: seeds }, () => new Set());
	const seen = new Set<number>();
	const corners: number[] = [];
	for (let i = 0; i < corner.length; i += 3) {
		const a = label[corner[i]];
		const b = label[corner[i + 1]];
		const c = label[corner[i + 2]];
		if (a === b && b === c) continue;
		if (a < 0 || b < 0 || c < 0) continue;
		if (a !== b) {
			neighbourSets[a].add(b);
			neighbourSets[b].add(a);
		}
		if (b !== c) {
			neighbourSets[b].add(c);
			neighbourSets[c].add(b);
		}
		if (c !== a) {
			neighbourSets[c].add(a);
			neighbourSets[a].add(c);
		}
		if (a === b || b === c || c === a) continue;
		// Turned so that the least seed comes first: one key for the facet, whichever triangle shows it.
		const [x, y, z] = a < b && a < c ? [a, b, c] : b < c ? [b, c, a] : [c, a, b];
		const key = (x * seeds + y) * seeds + z;
		if (seen.has(key)) continue;
		seen.add(key);
		corners.push(x, y, z);
	}
	return assemble(Int32Array.from(corners), seeds, raised, neighbourSets);
}

function assemble(all: Int32Array, seeds: number, raised: Float64Array, neighbourSets: Set<number>[]): Facets {
	const kept: number[] = [];
	const planes: number[] = [];
	const row = new Array<number>(PLANE);
	for (let i = 0; i < all.length; i += 3) {
		if (!facetPlane(raised, all[i], all[i + 1], all[i + 2], row)) continue;
		kept.push(all[i], all[i + 1], all[i + 2]);
		for (let k = 0; k < PLANE; k++) planes.push(row[k]);
	}
	const count = kept.length / 3;
	const across = new Int32Array(kept.length).fill(-1);
	const byEdge = new Map<number, number>();
	for (let e = 0; e < 3 * count; e++) byEdge.set(kept[e] * seeds + kept[e - (e % 3) + ((e + 1) % 3)], e);
	for (let e = 0; e < 3 * count; e++) {
		const a = kept[e];
		const b = kept[e - (e % 3) + ((e + 1) % 3)];
		const other = byEdge.get(b * seeds + a);
		if (other === undefined) continue;
		across[e] = Math.floor(other / 3);
		const c = kept[e - (e % 3) + ((e + 2) % 3)];
		const d = kept[other - (other % 3) + ((other + 2) % 3)];
		if (a > b || c === d || cotangent(raised, c, a, b) + cotangent(raised, d, a, b) > EITHER_WAY) continue;
		for (const facet of [[c, a, d] as const, [d, b, c] as const]) {
			if (!facetPlane(raised, facet[0], facet[1], facet[2], row)) continue;
			kept.push(...facet);
			for (let k = 0; k < PLANE; k++) planes.push(row[k]);
		}
	}
	const facets = kept.length / 3;
	const ownLists: number[][] = Array.from({ length: seeds }, () => []);
	for (let e = 0; e < kept.length; e++) ownLists[kept[e]].push(Math.floor(e / 3));
	const neighbours = neighbourSets.map((set) => [...set].sort((a, b) => a - b));
	const nearStart = new Int32Array(seeds + 1);
	const own = new Int32Array(seeds);
	const near: number[] = [];
	const stamp = new Int32Array(facets).fill(-1);
	for (let s = 0; s < seeds; s++) {
		own[s] = ownLists[s].length;
		for (const f of ownLists[s]) {
			stamp[f] = s;
			near.push(f);
		}
		for (const n of neighbours[s]) {
			for (const f of ownLists[n]) {
				if (stamp[f] === s) continue;
				stamp[f] = s;
				near.push(f);
			}
		}
		nearStart[s + 1] = near.length;
	}
	return {
		corners: Int32Array.from(kept),
		count,
		planes: Float64Array.from(planes),
		across,
		nearStart,
		nearList: Int32Array.from(near),
		neighbours,
		own,
	};
}

/** Cotangent of the angle at o between the ways to a and b. */
function cotangent(at: Float64Array, o: number, a: number, b: number): number {
	const ax = at[3 * a] - at[3 * o];
	const ay = at[3 * a + 1] - at[3 * o + 1];
	const az = at[3 * a + 2] - at[3 * o + 2];
	const bx = at[3 * b] - at[3 * o];
	const by = at[3 * b + 1] - at[3 * o + 1];
	const bz = at[3 * b + 2] - at[3 * o + 2];
	const nx = ay * bz - az * by;
	const ny = az * bx - ax * bz;
	const nz = ax * by - ay * bx;
	return (ax * bx + ay * by + az * bz) / Math.sqrt(nx * nx + ny * ny + nz * nz);
}

/** Fills `row` for the facet a, b, c; false when its corners lie in one line. */
function facetPlane(at: Float64Array, a: number, b: number, c: number, row: number[]): boolean {
	const abx = at[3 * b] - at[3 * a];
	const aby = at[3 * b + 1] - at[3 * a + 1];
	const abz = at[3 * b + 2] - at[3 * a + 2];
	const acx = at[3 * c] - at[3 * a];
	const acy = at[3 * c + 1] - at[3 * a + 1];
	const acz = at[3 * c + 2] - at[3 * a + 2];
	let nx = aby * acz - abz * acy;
	let ny = abz * acx - abx * acz;
	let nz = abx * acy - aby * acx;
	const n = Math.sqrt(nx * nx + ny * ny + nz * nz);
	if (!(n > 1e-9 * (abx * abx + aby * aby + abz * abz + acx * acx + acy * acy + acz * acz))) return false;
	nx /= n;
	ny /= n;
	nz /= n;
	row[0] = nx;
	row[1] = ny;
	row[2] = nz;
	row[3] = nx * at[3 * a] + ny * at[3 * a + 1] + nz * at[3 * a + 2];
	const loop = [a, b, c, a];
	for (let k = 0; k < 3; k++) {
		const from = 3 * loop[k];
		const to = 3 * loop[k + 1];
		const ex = at[to] - at[from];
		const ey = at[to + 1] - at[from + 1];
		const ez = at[to + 2] - at[from + 2];
		const l = Math.sqrt(ex * ex + ey * ey + ez * ez);
		const mx = (ny * ez - nz * ey) / l;
		const my = (nz * ex - nx * ez) / l;
		const mz = (nx * ey - ny * ex) / l;
		row[4 + 4 * k] = mx;
		row[5 + 4 * k] = my;
		row[6 + 4 * k] = mz;
		row[7 + 4 * k] = mx * at[from] + my * at[from + 1] + mz * at[from + 2];
	}
	return true;
}

/** How a vertex was measured. */
export const NOT_MEASURED = 0;
/** The join ends short of it: no facet holds it. */
export const PAST_BORDER = 1;
/** Against a facet, and no other facet over it says worse than `floor`. */
export const HELD = 2;
/** The same, but a facet across the other diagonal, or one of a join that folds back over itself, runs under it past `floor`. */
export const DOUBTFUL = 3;

export interface Cover {
	/** Signed mm, positive while stone is left; NaN where not measured. */
	readonly cover: Float32Array;
	/** One of the four constants above. */
	readonly state: Uint8Array;
}

/**
 * Measures the cover of every vertex whose seed is in `dirty` (1), into `target`.
 * Of several facets that hold the projection the nearest counts. Over an edge between two facets that falls away from
 * both, where neither holds it, the distance to the edge counts, with the sign of its facets. `floor`, mm: see `DOUBTFUL`.
 */
export function* measureCover(
	surface: Surface,
	normals: Float64Array,
	label: Int32Array,
	facets: Facets,
	raised: Float64Array,
	floor: number,
	dirty: Uint8Array,
	target: Cover,
	stage: string,
): Job<void> {
	const vertices = label.length;
	for (let begin = 0; begin < vertices; begin += SLICE) {
		const end = Math.min(vertices, begin + SLICE);
		if (measureSlice(surface, normals, label, facets, raised, floor, dirty, target, begin, end))
			yield { stage, share: begin / vertices };
	}
}

function measureSlice(
	surface: Surface,
	normals: Float64Array,
	label: Int32Array,
	facets: Facets,
	raised: Float64Array,
	floor: number,
	dirty: Uint8Array,
	target: Cover,
	begin: number,
	end: number,
): boolean {
	const { planes, count, nearStart, nearList } = facets;
	const p = surface.mesh.positions;
	let measured = false;
	for (let v = begin; v < end; v++) {
		const s = label[v];
		if (s < 0 || !dirty[s]) continue;
		measured = true;
		const x = p[3 * v];
		const y = p[3 * v + 1];
		const z = p[3 * v + 2];
		const nx = normals[3 * v];
		const ny = normals[3 * v + 1];
		const nz = normals[3 * v + 2];
		let best = Number.POSITIVE_INFINITY;
		let cover = Number.NaN;
		let least = Number.POSITIVE_INFINITY;
		let holder = -1;
		for (let i = nearStart[s]; i < nearStart[s + 1]; i++) {
			const at = PLANE * nearList[i];
			// A facet that faces away belongs to the other side of a thin part.
			if (planes[at] * nx + planes[at + 1] * ny + planes[at + 2] * nz <= 0) continue;
			if (planes[at + 4] * x + planes[at + 5] * y + planes[at + 6] * z < planes[at + 7] - EDGE_SLACK) continue;
			if (planes[at + 8] * x + planes[at + 9] * y + planes[at + 10] * z < planes[at + 11] - EDGE_SLACK) continue;
			if (planes[at + 12] * x + planes[at + 13] * y + planes[at + 14] * z < planes[at + 15] - EDGE_SLACK) continue;
			const d = planes[at + 3] - (planes[at] * x + planes[at + 1] * y + planes[at + 2] * z);
			if (d < least) least = d;
			if (nearList[i] < count && Math.abs(d) < best) {
				best = Math.abs(d);
				cover = d;
				holder = nearList[i];
			}
		}
		if (holder < 0) {
			const edge = nearestEdge(facets, raised, s, x, y, z, nx, ny, nz);
			if (edge.facet >= 0) {
				cover = edge.distance;
				holder = edge.facet;
			}
		}
		target.cover[v] = cover;
		target.state[v] = holder < 0 ? PAST_BORDER : least < floor && cover >= floor ? DOUBTFUL : HELD;
	}
	return measured;
}

const edgeResult = { facet: -1, distance: 0 };

/** Signed distance to the nearest edge among the facets near seed s; facet -1 when that edge has a facet on one side only. */
function nearestEdge(
	facets: Facets,
	raised: Float64Array,
	s: number,
	x: number,
	y: number,
	z: number,
	nx: number,
	ny: number,
	nz: number,
): { facet: number; distance: number } {
	const { corners, planes, count, across, nearStart, nearList } = facets;
	let best = Number.POSITIVE_INFINITY;
	edgeResult.facet = -1;
	for (let i = nearStart[s]; i < nearStart[s + 1]; i++) {
		const f = nearList[i];
		if (f >= count) continue;
		const at = PLANE * f;
		if (planes[at] * nx + planes[at + 1] * ny + planes[at + 2] * nz <= 0) continue;
		for (let k = 0; k < 3; k++) {
			const a = 3 * corners[3 * f + k];
			const b = 3 * corners[3 * f + ((k + 1) % 3)];
			const ex = raised[b] - raised[a];
			const ey = raised[b + 1] - raised[a + 1];
			const ez = raised[b + 2] - raised[a + 2];
			const vx = x - raised[a];
			const vy = y - raised[a + 1];
			const vz = z - raised[a + 2];
			const t = Math.max(0, Math.min(1, (vx * ex + vy * ey + vz * ez) / (ex * ex + ey * ey + ez * ez)));
			const qx = t * ex - vx;
			const qy = t * ey - vy;
			const qz = t * ez - vz;
			const d = qx * qx + qy * qy + qz * qz;
			if (!(d < best)) continue;
			best = d;
			const other = across[3 * f + k];
			edgeResult.facet = other < 0 ? -1 : f;
			// The vertex lies under the join when it lies under its two facets taken together.
			const o = PLANE * (other < 0 ? f : other);
			const side =
				qx * (planes[at] + planes[o]) + qy * (planes[at + 1] + planes[o + 1]) + qz * (planes[at + 2] + planes[o + 2]);
			edgeResult.distance = side < 0 ? -Math.sqrt(d) : Math.sqrt(d);
		}
	}
	return edgeResult;
}
