/**
 * From a patch of the ground to the very place of a point: on the crest of the small forms around it, as a carver would set
 * it, so that a flat join does not start in the troughs; and, where the first choice cannot be reached, the next best.
 */

import type { Coarse } from "./coarse.ts";
import type { Ground, Surface } from "./ground.ts";
import { measureStanding, Neighbourhood, newStanding, type Standing } from "./patch.ts";

/** Places within this share of a spacing come into question. */
const SETTLE_SHARE = 0.3;
/** A high point lies within this share of a spacing of where the climb over the patches ended. */
const SUMMIT_SHARE = 0.15;
/** What leaving the middle costs: at distance d a place must stand higher by this × spend × (d / h)². */
const LEAVING_COST = 4;
/** Places tried for reach before a point is listed as an undercut. */
const MOST_TRIES = 7;
/** Share of a spacing that the places tried keep from each other. */
const TRY_GAP = 0.12;

export class Settler {
	readonly #ground: Ground;
	readonly #surface: Surface;
	readonly #coarse: Coarse;
	readonly #around: Neighbourhood;
	readonly #standing: Standing = newStanding();

	constructor(ground: Ground, surface: Surface, coarse: Coarse) {
		this.#ground = ground;
		this.#surface = surface;
		this.#coarse = coarse;
		this.#around = new Neighbourhood(surface);
	}

	/** The vertex of patch c nearest to the place `at`. */
	#nearest(c: number, at: Float64Array): number {
		const { memberStart, memberList } = this.#coarse;
		const p = this.#ground.mesh.positions;
		let best = -1;
		let nearest = Number.POSITIVE_INFINITY;
		for (let i = memberStart[c]; i < memberStart[c + 1]; i++) {
			const v = memberList[i];
			if (!this.#surface.carries[v]) continue;
			const dx = p[3 * v] - at[0];
			const dy = p[3 * v + 1] - at[1];
			const dz = p[3 * v + 2] - at[2];
			const d = dx * dx + dy * dy + dz * dz;
			if (d < nearest) {
				nearest = d;
				best = v;
			}
		}
		return best;
	}

	/**
	 * The highest vertex near patch c along the mean normal of its neighbourhood, or the next highest that can be reached:
	 * the place of a high point. `spacing` in mm.
	 */
	summit(c: number, spacing: number, canReach: (v: number) => boolean): { vertex: number; reachable: boolean } {
		const middle = this.#nearest(c, this.#coarse.surface.mesh.positions.subarray(3 * c, 3 * c + 3));
		this.#around.gather(middle, spacing / 2);
		measureStanding(
			this.#around,
			this.#ground.mesh.positions,
			this.#ground.field.normals,
			this.#ground.areas,
			this.#standing,
		);
		this.#around.gather(middle, SUMMIT_SHARE * spacing);
		return this.#choose(middle, 0, false, TRY_GAP * spacing, canReach);
	}

	/**
	 * The best vertex for a point at the place `at` in patch c that `canReach` allows, or the best of all with `reachable` false.
	 * `spacing` h and `spend` (what the join may lose) in mm. A point on the rim stays there.
	 */
	settle(
		c: number,
		at: Float64Array,
		spacing: number,
		spend: number,
		canReach: (v: number) => boolean,
	): { vertex: number; reachable: boolean } {
		const middle = this.#nearest(c, at);
		const around = this.#around;
		const { mesh, field, areas } = this.#ground;
		around.gather(middle, SETTLE_SHARE * spacing);
		measureStanding(around, mesh.positions, field.normals, areas, this.#standing);
		const rimOnly = this.#coarse.surface.adjacency.onRim[c] === 1;
		return this.#choose(middle, (LEAVING_COST * spend) / (spacing * spacing), rimOnly, TRY_GAP * spacing, canReach);
	}

	/** The best of the vertices gathered: height along the mean normal less cost × distance² from the middle. */
	#choose(
		middle: number,
		cost: number,
		rimOnly: boolean,
		gap: number,
		canReach: (v: number) => boolean,
	): { vertex: number; reachable: boolean } {
		const around = this.#around;
		const { positions: p } = this.#ground.mesh;
		const { onRim } = this.#surface.adjacency;
		const { nx, ny, nz } = this.#standing;
		const x = p[3 * middle];
		const y = p[3 * middle + 1];
		const z = p[3 * middle + 2];
		const places: { v: number; score: number }[] = [];
		for (let i = 0; i < around.count; i++) {
			const v = around.found[i];
			if (!this.#surface.carries[v] || (rimOnly && !onRim[v])) continue;
			const dx = p[3 * v] - x;
			const dy = p[3 * v + 1] - y;
			const dz = p[3 * v + 2] - z;
			places.push({ v, score: nx * dx + ny * dy + nz * dz - cost * (dx * dx + dy * dy + dz * dz) });
		}
		if (places.length === 0) return { vertex: middle, reachable: canReach(middle) };
		places.sort((a, b) => b.score - a.score || a.v - b.v);
		const tried: number[] = [];
		for (const { v } of places) {
			if (tried.some((u) => straight(p, u, v) < gap)) continue;
			if (canReach(v)) return { vertex: v, reachable: true };
			tried.push(v);
			if (tried.length >= MOST_TRIES) break;
		}
		return { vertex: places[0].v, reachable: false };
	}
}

function straight(p: Float64Array, u: number, v: number): number {
	const dx = p[3 * u] - p[3 * v];
	const dy = p[3 * u + 1] - p[3 * v + 1];
	const dz = p[3 * u + 2] - p[3 * v + 2];
	return Math.sqrt(dx * dx + dy * dy + dz * dz);
}
