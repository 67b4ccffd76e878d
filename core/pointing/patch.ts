/** Connected ground within a straight distance of a place: the neighbourhood that a carver sees around a point. */

import type { Surface } from "./ground.ts";

/** A search over one surface; its lists are kept between calls. */
export class Neighbourhood {
	/** Vertices found by the last `gather`, the middle first, then outwards edge by edge; `count` of them count. */
	readonly found: Int32Array;
	count = 0;
	readonly #stamp: Int32Array;
	#turn = 0;
	readonly #surface: Surface;

	constructor(surface: Surface) {
		this.#surface = surface;
		this.found = new Int32Array(surface.carries.length);
		this.#stamp = new Int32Array(surface.carries.length);
	}

	/** Finds the vertices that are joined to v over vertices within `radius` mm of it (straight). */
	gather(v: number, radius: number): void {
		const p = this.#surface.mesh.positions;
		const { neighbourStart, neighbourList } = this.#surface.adjacency;
		const found = this.found;
		const stamp = this.#stamp;
		const turn = ++this.#turn;
		const x = p[3 * v];
		const y = p[3 * v + 1];
		const z = p[3 * v + 2];
		const r2 = radius * radius;
		found[0] = v;
		stamp[v] = turn;
		let end = 1;
		for (let next = 0; next < end; next++) {
			const u = found[next];
			for (let i = neighbourStart[u]; i < neighbourStart[u + 1]; i++) {
				const w = neighbourList[i];
				if (stamp[w] === turn) continue;
				stamp[w] = turn;
				const dx = p[3 * w] - x;
				const dy = p[3 * w + 1] - y;
				const dz = p[3 * w + 2] - z;
				if (dx * dx + dy * dy + dz * dz <= r2) found[end++] = w;
			}
		}
		this.count = end;
	}
}

/** Area-weighted means over a neighbourhood, and its highest vertex along the mean normal (lowest index of equals). */
export interface Standing {
	/** Unit mean normal; (0, 0, 0) where the normals cancel. */
	nx: number;
	ny: number;
	nz: number;
	highest: number;
	/** mm that the highest vertex stands over the mean place. */
	proud: number;
}

export const newStanding = (): Standing => ({ nx: 0, ny: 0, nz: 0, highest: 0, proud: 0 });

/** Measures the neighbourhood last gathered. `normals` need not be of unit length. */
export function measureStanding(
	around: Neighbourhood,
	positions: Float64Array,
	normals: Float64Array,
	areas: Float64Array,
	target: Standing,
): void {
	const { found, count } = around;
	let nx = 0;
	let ny = 0;
	let nz = 0;
	let cx = 0;
	let cy = 0;
	let cz = 0;
	let sum = 0;
	for (let i = 0; i < count; i++) {
		const v = found[i];
		const a = areas[v];
		nx += a * normals[3 * v];
		ny += a * normals[3 * v + 1];
		nz += a * normals[3 * v + 2];
		cx += a * positions[3 * v];
		cy += a * positions[3 * v + 1];
		cz += a * positions[3 * v + 2];
		sum += a;
	}
	const n = Math.sqrt(nx * nx + ny * ny + nz * nz);
	target.highest = found[0];
	target.proud = 0;
	target.nx = n > 0 ? nx / n : 0;
	target.ny = n > 0 ? ny / n : 0;
	target.nz = n > 0 ? nz / n : 0;
	if (!(n > 0 && sum > 0)) return;
	let best = Number.NEGATIVE_INFINITY;
	for (let i = 0; i < count; i++) {
		const v = found[i];
		const d = target.nx * positions[3 * v] + target.ny * positions[3 * v + 1] + target.nz * positions[3 * v + 2];
		if (d > best || (d === best && v < target.highest)) {
			best = d;
			target.highest = v;
		}
	}
	target.proud = best - (target.nx * cx + target.ny * cy + target.nz * cz) / sum;
}
