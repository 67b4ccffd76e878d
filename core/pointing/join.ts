/** A flat join between points: their cells on the surface, the facets between them and the cover that these leave. */

import type { Job } from "../job.ts";
import type { Vec3 } from "../vector.ts";
import { buildFacets, type Facets } from "./facets.ts";
import { Front } from "./front.ts";
import type { Surface } from "./ground.ts";
import { type Cover, measureCover, NOT_MEASURED } from "./measureCover.ts";

const STAGE = "checking the cover of the join";

/** Kept up to date as points are entered: only the ground around them is measured again. */
export class Join {
	/** Geodesic distances and cells; labels are seeds in the order in which they were entered. */
	readonly front: Front;
	/** As of the last `measure`. */
	readonly cover: Cover;
	/** As of the last `measure`, among the first `seeds` points. */
	facets: Facets;
	seeds = 0;
	readonly #raised: number[] = [];
	readonly #vertices: number[] = [];
	readonly #surface: Surface;
	readonly #normals: Float64Array;
	readonly #allowance: number;
	readonly #floor: number;
	/** 1 at the vertices that `measure` looks at; null: at all of them. */
	sampled: Uint8Array | null = null;
	/** Facets of every seed when all vertices were last measured, and when the sampled ones were. */
	#signatures: string[] = [];
	#sampledSignatures: string[] = [];
	/** 1 for triangles whose corners belong to more than one seed; of every triangle once anything has been measured. */
	#mixed: Uint8Array | null = null;

	/** `normals`: of every vertex of `surface`, 3 each; `allowance`: j, mm; `floor`: see `DOUBTFUL`. */
	constructor(surface: Surface, normals: Float64Array, allowance: number, floor: number, from?: Join) {
		this.#surface = surface;
		this.#normals = normals;
		this.#allowance = allowance;
		this.#floor = floor;
		if (from) {
			this.front = from.front.copy(surface.mesh);
			this.cover = {
				cover: from.cover.cover.slice(),
				state: from.cover.state.slice(),
				past: from.cover.past.slice(),
			};
			this.facets = from.facets;
			this.seeds = from.seeds;
			this.#raised = [...from.#raised];
			this.#vertices = [...from.#vertices];
			this.#signatures = from.#signatures;
			this.#mixed = from.#mixed?.slice() ?? null;
			this.front.changed = from.front.changed?.slice() ?? null;
			return;
		}
		const vertices = surface.carries.length;
		this.front = new Front(surface.mesh, surface.adjacency, 1);
		this.cover = {
			cover: new Float32Array(vertices).fill(Number.NaN),
			state: new Uint8Array(vertices).fill(NOT_MEASURED),
			past: new Float32Array(vertices),
		};
		this.facets = buildFacets(surface, this.front.label, 0, new Float64Array(0), new Uint32Array(0));
	}

	/** The same join, measured as this one is, to be changed on its own. */
	copy(): Join {
		return new Join(this.#surface, this.#normals, this.#allowance, this.#floor, this);
	}

	/** Enters a point at vertex v; `at` and its unit normal n say where the join passes over it. Spread afterwards. */
	enter(v: number, at: Vec3, n: Vec3): void {
		this.front.seed(v, 0, this.#vertices.length);
		this.#vertices.push(v);
		for (let k = 0; k < 3; k++) this.#raised.push(at[k] + this.#allowance * n[k]);
	}

	/** Takes points out: their ground goes to those around them. Their labels stay theirs. */
	leaveOut(seeds: readonly number[]): void {
		this.front.release(seeds);
		this.front.spreadAtOnce();
	}

	/** Enters a point that was left out, as it was. Spread afterwards. */
	putBack(s: number): void {
		this.front.seed(this.#vertices[s], 0, s);
	}

	*spread(): Job<void> {
		yield* this.front.spread(STAGE, 0);
	}

	/** The same without a pause, for a point or two. */
	spreadAtOnce(): void {
		this.front.spreadAtOnce();
	}

	/** Facets and cover anew wherever the points around have changed. */
	*measure(): Job<void> {
		this.seeds = this.#vertices.length;
		const raised = Float64Array.from(this.#raised);
		this.facets = buildFacets(this.#surface, this.front.label, this.seeds, raised, this.#mixedTriangles());
		const { corners, neighbours } = this.facets;
		const signatures = new Array<string>(this.seeds).fill("");
		for (let f = 0; f < corners.length; f += 3) {
			const key = `${corners[f]} ${corners[f + 1]} ${corners[f + 2]},`;
			signatures[corners[f]] += key;
			signatures[corners[f + 1]] += key;
			signatures[corners[f + 2]] += key;
		}
		// A vertex is measured against its seed's facets and those of the seed's neighbours.
		const before = this.sampled ? this.#sampledSignatures : this.#signatures;
		const changed = signatures.map((signature, s) => signature !== before[s]);
		const dirty = new Uint8Array(this.seeds);
		for (let s = 0; s < this.seeds; s++) if (changed[s] || neighbours[s].some((n) => changed[n])) dirty[s] = 1;
		if (this.sampled) this.#sampledSignatures = signatures;
		else this.#signatures = signatures;
		const asked = {
			surface: this.#surface,
			normals: this.#normals,
			label: this.front.label,
			facets: this.facets,
			raised,
			floor: this.#floor,
			dirty,
			sampled: this.sampled,
			target: this.cover,
		};
		yield* measureCover(asked, STAGE);
	}

	/** Triangles where cells meet, rising. Only around vertices that went over to another seed is anything looked at again. */
	#mixedTriangles(): Uint32Array {
		const { mesh, adjacency } = this.#surface;
		const { label } = this.front;
		const corner = mesh.triangles;
		const triangles = corner.length / 3;
		const look = (t: number): number => {
			const a = label[corner[3 * t]];
			return a === label[corner[3 * t + 1]] && a === label[corner[3 * t + 2]] ? 0 : 1;
		};
		const { changed } = this.front;
		if (this.#mixed === null || changed === null) {
			this.#mixed = new Uint8Array(triangles);
			for (let t = 0; t < triangles; t++) this.#mixed[t] = look(t);
		} else {
			const { triangleStart, triangleList } = adjacency;
			for (const v of changed)
				for (let i = triangleStart[v]; i < triangleStart[v + 1]; i++)
					this.#mixed[triangleList[i]] = look(triangleList[i]);
		}
		this.front.changed = [];
		const mixed = this.#mixed;
		let count = 0;
		for (let t = 0; t < triangles; t++) count += mixed[t];
		const list = new Uint32Array(count);
		for (let t = 0, n = 0; t < triangles; t++) if (mixed[t]) list[n++] = t;
		return list;
	}
}
