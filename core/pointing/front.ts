/**
 * Distances along the surface from many seeds at once, and which seed is nearest (the geodesic Voronoi cells).
 *
 * Source: R. Kimmel and J. A. Sethian, "Computing geodesic paths on manifolds" (1998), fast marching on triangles: a
 * vertex is reached along an edge or, straight across a triangle, from the edge opposite. With a slowness that varies
 * over the surface the same fronts measure in spacings instead of millimetres (G. Peyré and L. Cohen 2006). Changed
 * here: a seed added later spreads into the finished field only as far as it is nearer, so that adding a point costs
 * its own cell; obtuse triangles are crossed along their edges alone, which reads at most a few per cent long.
 */

import type { Job } from "../job.ts";
import type { TriangleMesh } from "../scan/mesh.ts";
import type { Adjacency } from "../surface/adjacency.ts";
import { FrontHeap } from "./frontHeap.ts";

/** Vertices taken from the front between two yields. */
const SLICE = 12000;

/** A field of costs over the vertices of a mesh, grown from seeds. */
export class Front {
	/** Cost from the nearest seed: slowness × mm along the surface; Infinity where no seed reaches. */
	readonly cost: Float64Array;
	/** Label of the nearest seed, -1 where no seed reaches. */
	readonly label: Int32Array;
	/** Vertices that have gone over to another label since this list was begun (some of them twice); null: not kept. */
	changed: number[] | null = null;
	private readonly positions: Float64Array;
	private readonly adjacency: Adjacency;
	/** The other two corners of every entry of `adjacency.triangleList`, in the triangle's order: what a front asks lies together. */
	private readonly ring: Int32Array;
	private readonly slowness: Float32Array | number;
	private readonly waiting = new FrontHeap();

	/** `slowness`: cost of a millimetre at each vertex, or everywhere. `from`: a front over the same mesh. */
	constructor(mesh: TriangleMesh, adjacency: Adjacency, slowness: Float32Array | number, from?: Front) {
		const vertices = adjacency.onRim.length;
		this.positions = mesh.positions;
		this.adjacency = adjacency;
		this.slowness = slowness;
		this.ring = from?.ring ?? ringsOf(mesh, adjacency);
		this.cost = new Float64Array(vertices).fill(Number.POSITIVE_INFINITY);
		this.label = new Int32Array(vertices).fill(-1);
	}

	/** The same field, to be changed on its own. Only a field that has spread out may be copied. */
	copy(mesh: TriangleMesh): Front {
		if (this.waiting.size > 0) throw new Error("a front on its way was to be copied");
		const copy = new Front(mesh, this.adjacency, this.slowness, this);
		copy.cost.set(this.cost);
		copy.label.set(this.label);
		return copy;
	}

	/** Forgets every seed. */
	clear(): void {
		this.cost.fill(Number.POSITIVE_INFINITY);
		this.label.fill(-1);
		this.waiting.size = 0;
		this.changed = null;
	}

	/** Puts a seed at vertex v; it counts where it is nearer than what is there. `spread` carries it on. */
	seed(v: number, cost: number, label: number): void {
		if (!(cost < this.cost[v])) return;
		this.cost[v] = cost;
		if (this.label[v] !== label) this.changed?.push(v);
		this.label[v] = label;
		this.waiting.push(v, this.cost[v]);
	}

	/** Forgets the seeds of these labels; what stood around their ground waits to spread into it. */
	release(labels: readonly number[]): void {
		const { cost, label } = this;
		const { neighbourStart, neighbourList } = this.adjacency;
		const gone = new Set(labels);
		const freed: number[] = [];
		for (let v = 0; v < label.length; v++) {
			if (label[v] < 0 || !gone.has(label[v])) continue;
			cost[v] = Number.POSITIVE_INFINITY;
			label[v] = -1;
			freed.push(v);
			this.changed?.push(v);
		}
		for (const v of freed) {
			for (let i = neighbourStart[v]; i < neighbourStart[v + 1]; i++) {
				const w = neighbourList[i];
				if (label[w] >= 0) this.waiting.push(w, cost[w]);
			}
		}
	}

	/** Lets vertex v spread with the cost that it holds already. */
	start(v: number): void {
		this.waiting.push(v, this.cost[v]);
	}

	/** Spreads every waiting seed as far as it goes. */
	*spread(stage: string, share: number): Job<void> {
		while (!this.advance(SLICE)) yield { stage, share };
	}

	/** The same without a pause: for one seed and its cell. */
	spreadAtOnce(): void {
		this.advance(Number.POSITIVE_INFINITY);
	}

	private advance(most: number): boolean {
		const { cost, label, changed, waiting, ring, slowness } = this;
		const { triangleStart } = this.adjacency;
		const p = this.positions;
		const each = typeof slowness === "number" ? null : slowness;
		const even = typeof slowness === "number" ? slowness : 0;
		/** Vertices whose cost has fallen at the vertex being taken. */
		const fallen: number[] = [];
		for (let taken = 0; waiting.size > 0; ) {
			if (taken >= most) return false;
			const cv = waiting.leastCost();
			const v = waiting.take();
			// Entered again since, with a lower cost.
			if (cv !== cost[v]) continue;
			taken++;
			const lv = label[v];
			const x = p[3 * v];
			const y = p[3 * v + 1];
			const z = p[3 * v + 2];
			const first = 2 * triangleStart[v];
			const last = 2 * triangleStart[v + 1];
			let count = 0;
			for (let i = first; i < last; i++) {
				const w = ring[i];
				if (cost[w] <= cv) continue;
				const dx = p[3 * w] - x;
				const dy = p[3 * w + 1] - y;
				const dz = p[3 * w + 2] - z;
				const reached = cv + (each === null ? even : each[w]) * Math.sqrt(dx * dx + dy * dy + dz * dz);
				if (reached < cost[w]) {
					cost[w] = reached;
					if (changed && label[w] !== lv) changed.push(w);
					label[w] = lv;
					fallen[count++] = w;
				}
			}
			for (let i = first; i < last; i += 2) {
				let a = ring[i];
				let b = ring[i + 1];
				// The one already reached serves with v as the edge from which the other is reached.
				if (cost[a] > cost[b]) {
					const swap = a;
					a = b;
					b = swap;
				}
				if (label[a] !== lv || cost[b] <= cv) continue;
				const reached = this.across(v, a, b, each === null ? even : each[b]);
				if (reached < cost[b]) {
					cost[b] = reached;
					if (changed && label[b] !== lv) changed.push(b);
					label[b] = lv;
					let known = 0;
					while (known < count && fallen[known] !== b) known++;
					if (known === count) fallen[count++] = b;
				}
			}
			for (let i = 0; i < count; i++) waiting.push(fallen[i], cost[fallen[i]]);
		}
		return true;
	}

	/**
	 * Cost at c of a straight front that passes a and b with their costs and comes to c between them; Infinity when it
	 * comes from outside the triangle; w: slowness at c. The gradient of a linear field over the triangle has the length of the slowness.
	 */
	private across(a: number, b: number, c: number, w: number): number {
		const p = this.positions;
		const ax = p[3 * a] - p[3 * c];
		const ay = p[3 * a + 1] - p[3 * c + 1];
		const az = p[3 * a + 2] - p[3 * c + 2];
		const bx = p[3 * b] - p[3 * c];
		const by = p[3 * b + 1] - p[3 * c + 1];
		const bz = p[3 * b + 2] - p[3 * c + 2];
		const aa = ax * ax + ay * ay + az * az;
		const ab = ax * bx + ay * by + az * bz;
		const bb = bx * bx + by * by + bz * bz;
		const det = aa * bb - ab * ab;
		if (!(det > 1e-12 * aa * bb)) return Number.POSITIVE_INFINITY;
		// Costs relative to a's keep the square root accurate.
		const ua = this.cost[a];
		const ub = this.cost[b] - ua;
		const ones = aa + bb - 2 * ab;
		const mixed = (aa - ab) * ub;
		const under = mixed * mixed - ones * (aa * ub * ub - w * w * det);
		if (!(under >= 0)) return Number.POSITIVE_INFINITY;
		const u = (mixed + Math.sqrt(under)) / ones;
		const da = -u;
		const db = ub - u;
		if (!(bb * da - ab * db <= 0 && aa * db - ab * da <= 0)) return Number.POSITIVE_INFINITY;
		return ua + u;
	}
}

function ringsOf({ triangles: corner }: TriangleMesh, { triangleStart, triangleList }: Adjacency): Int32Array {
	const ring = new Int32Array(2 * triangleList.length);
	for (let v = 0; v + 1 < triangleStart.length; v++) {
		for (let i = triangleStart[v]; i < triangleStart[v + 1]; i++) {
			const t = 3 * triangleList[i];
			const a = corner[t];
			const b = corner[t + 1];
			const c = corner[t + 2];
			ring[2 * i] = a === v ? c : a;
			ring[2 * i + 1] = a !== v && b === v ? c : b;
		}
	}
	return ring;
}
