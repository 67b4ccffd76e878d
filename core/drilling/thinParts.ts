/**
 * Thin parts of a figure (handbook 4, common practice): under 15 mm, or more than five times as long as thick. No hammer
 * action there, and more stone behind the floor of a hole.
 */

import type { Job } from "../job.ts";
import type { Adjacency } from "../surface/adjacency.ts";
import type { Vec3 } from "../vector.ts";

/** mm; under this a part is thin whatever its length. */
export const THIN_MM = 15;
/** A part so many times as long as it is thick is thin whatever its thickness. */
export const SLENDER = 5;
/** Step from one thickness to the next at which parts are looked for: how finely "as thick as" is read. */
const STEP = 1.2;
/**
 * Least surface of a slender part in lengths times thicknesses: a rod has π/2 of it, the strip along an arris of 60° 1.15
 * (both in closed form).
 */
const BROAD = 1.3;

export interface ThinPart {
	readonly kind: "thin" | "slender";
	/** The thickest place of the part, mm: it is at most this thick throughout. */
	readonly thickest: number;
	/** The thinnest place, mm, and the vertex where it is. */
	readonly thinnest: number;
	readonly vertex: number;
	/** Between the two ends of the part, mm. */
	readonly length: number;
	/** Of its surface, mm². */
	readonly area: number;
}

export interface ThinParts {
	/** 0 stout, 1 under 15 mm, 2 slender; per vertex. */
	readonly marks: Uint8Array;
	/** The thinnest first, ties by vertex. */
	readonly parts: readonly ThinPart[];
}

/** What the search reads; per vertex but for `positions` (3 a vertex, mm). */
export interface ThinGround {
	readonly positions: Float64Array;
	readonly adjacency: Adjacency;
	/** mm, NaN where unknown */
	readonly thickness: Float32Array;
	/** mm² */
	readonly areas: Float64Array;
	/** Patches of less surface than a square of this side are noise of the scan, mm. */
	readonly smallestForm: number;
}

/**
 * Finds connected ground that is at most so thick: first under 15 mm, then at thickness after thickness, each a fifth
 * greater, ground that is more than five times as long as that thickness. A part that was found keeps its ground; what is
 * found later around it is a part of its own only by the ground that is new.
 */
export function* findThinParts(ground: ThinGround): Job<ThinParts> {
	const vertices = ground.thickness.length;
	const marks = new Uint8Array(vertices);
	const parts: ThinPart[] = [];
	const search = new PatchSearch(ground);
	const take = (limit: number, mark: 1 | 2): void => {
		for (const patch of search.patches(limit)) {
			if (mark === 2 && !isSlender(ground, patch, limit)) continue;
			let fresh = 0;
			let thinnest = patch.members[0];
			let thickest = 0;
			for (const v of patch.members) {
				if (marks[v] !== 0) continue;
				fresh += ground.areas[v];
				if (fresh === ground.areas[v] || ground.thickness[v] < ground.thickness[thinnest]) thinnest = v;
				if (ground.thickness[v] > thickest) thickest = ground.thickness[v];
			}
			if (fresh < ground.smallestForm * ground.smallestForm) continue;
			for (const v of patch.members) if (marks[v] === 0) marks[v] = mark;
			parts.push({
				kind: mark === 1 ? "thin" : "slender",
				thickest,
				thinnest: ground.thickness[thinnest],
				vertex: thinnest,
				length: patch.length,
				area: fresh,
			});
		}
	};
	take(THIN_MM, 1);
	yield { stage: "finding the thin parts", share: 0.1 };
	// Nothing is longer than the figure itself, so nothing thicker than a fifth of that can be slender.
	const most = search.diagonal / SLENDER;
	for (let limit = THIN_MM; limit < most; limit *= STEP) {
		take(limit, 2);
		yield { stage: "finding the thin parts", share: 0.1 + (0.9 * limit) / most };
	}
	parts.sort((a, b) => a.thinnest - b.thinnest || a.vertex - b.vertex);
	return { marks, parts };
}

/**
 * Longer than five times the limit, and broad enough to be a part: along a sharp arris of a stout figure runs a narrow strip
 * that is thin only because the two faces meet there.
 */
function isSlender({ thickness, areas }: ThinGround, { members, length }: Patch, limit: number): boolean {
	if (!(length > SLENDER * limit)) return false;
	let area = 0;
	let thickest = 0;
	for (const v of members) {
		area += areas[v];
		if (thickness[v] > thickest) thickest = thickness[v];
	}
	return area > BROAD * thickest * length;
}

interface Patch {
	readonly members: Uint32Array;
	readonly length: number;
}

/** Connected ground at most so thick, by flooding from vertex to neighbour. */
class PatchSearch {
	readonly diagonal: number;
	readonly #ground: ThinGround;
	readonly #met: Uint8Array;
	readonly #queue: Uint32Array;

	constructor(ground: ThinGround) {
		this.#ground = ground;
		this.#met = new Uint8Array(ground.thickness.length);
		this.#queue = new Uint32Array(ground.thickness.length);
		this.diagonal = this.#span(Uint32Array.from({ length: ground.thickness.length }, (_, v) => v));
	}

	/** In the order of their lowest vertices. */
	*patches(limit: number): Generator<Patch, void, void> {
		const { thickness, adjacency } = this.#ground;
		const { neighbourStart, neighbourList } = adjacency;
		const met = this.#met.fill(0);
		const queue = this.#queue;
		for (let first = 0; first < thickness.length; first++) {
			if (met[first] === 1 || !(thickness[first] <= limit)) continue;
			let end = 0;
			queue[end++] = first;
			met[first] = 1;
			for (let at = 0; at < end; at++) {
				const v = queue[at];
				for (let i = neighbourStart[v]; i < neighbourStart[v + 1]; i++) {
					const w = neighbourList[i];
					if (met[w] === 1 || !(thickness[w] <= limit)) continue;
					met[w] = 1;
					queue[end++] = w;
				}
			}
			const members = queue.slice(0, end);
			yield { members, length: this.#span(members) };
		}
	}

	/**
	 * The distance between the two ends of a patch: from its first vertex to the furthest, and from there to the furthest. At
	 * least half, in practice nearly all, of the greatest distance within it, and the same however the figure is turned.
	 */
	#span(members: Uint32Array): number {
		if (members.length === 0) return 0;
		const from = this.#furthest(members, members[0]);
		return Math.sqrt(this.#furthest(members, from.vertex).squared);
	}

	#furthest(members: Uint32Array, from: number): { vertex: number; squared: number } {
		const p = this.#ground.positions;
		const at: Vec3 = [p[3 * from], p[3 * from + 1], p[3 * from + 2]];
		let vertex = from;
		let squared = 0;
		for (const v of members) {
			const x = p[3 * v] - at[0];
			const y = p[3 * v + 1] - at[1];
			const z = p[3 * v + 2] - at[2];
			const d = x * x + y * y + z * z;
			if (d > squared) {
				squared = d;
				vertex = v;
			}
		}
		return { vertex, squared };
	}
}
