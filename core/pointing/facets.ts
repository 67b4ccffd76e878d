/** The flat join between points: facets are the dual of the points' geodesic cells, raised by the join allowance (handbook 6). */

import { cotangent } from "../scan/measures.ts";
import type { Surface } from "./ground.ts";

/** Entries of a facet in `planes`: unit normal and offset, then for each edge the inward direction and offset. */
export const PLANE = 16;
/**
 * Two facets could as well be joined across their other diagonal when the cotangents of the two angles that look at the one
 * they share add up to less than this; at 0 the four points lie on a circle.
 */
const EITHER_WAY = 0.45;

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
	/** 1 for a seed at the border of the join. */
	readonly onBorder: Uint8Array;
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
 * three seeds is where three cells meet. `raised`: x, y, z of each seed, j proud of the surface. `mixed`: the triangles that
 * belong to more than one seed, rising; all are looked at where it is not given.
 */
export function buildFacets(
	surface: Surface,
	label: Int32Array,
	seeds: number,
	raised: Float64Array,
	mixed: Uint32Array | null = null,
): Facets {
	const corner = surface.mesh.triangles;
	const neighbourSets: Set<number>[] = Array.from({ length: seeds }, () => new Set());
	const seen = new Set<number>();
	const corners: number[] = [];
	const looked = mixed?.length ?? corner.length / 3;
	for (let n = 0; n < looked; n++) {
		const i = 3 * (mixed ? mixed[n] : n);
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
	const onBorder = new Uint8Array(seeds);
	for (let e = 0; e < 3 * count; e++) {
		if (across[e] >= 0) continue;
		onBorder[kept[e]] = 1;
		onBorder[kept[e - (e % 3) + ((e + 1) % 3)]] = 1;
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
		onBorder,
		nearStart,
		nearList: Int32Array.from(near),
		neighbours,
		own,
	};
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
