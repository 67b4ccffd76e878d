/**
 * Points spread evenly over the ground at a spacing that varies from place to place, between points that stay.
 *
 * Source: G. Peyré and L. Cohen, "Geodesic remeshing using front propagation" (2006): distances are measured in spacings
 * (slowness 1 / h), the next point is the place farthest from all others until none is farther than asked, which is a
 * Poisson disk that leaves no gaps; then each new point moves to the centre of its cell (S. Lloyd 1982), with the weight
 * h^-4 that keeps the spacing (Q. Du and D. Wang 2005). Points on a rim stay on it, so that the join reaches the rim.
 */

import { type Job, within } from "../job.ts";
import { Front } from "./front.ts";
import type { Surface } from "./ground.ts";

const STAGE = "spreading the points";

/**
 * Vertices of new points on `surface` (the patches). `fixed` are those of the points that stay; `gap` is the distance, in spacings, that no
 * place keeps from its nearest point before the points are evened out; `most` ends the choice earlier.
 */
export function* spreadPoints(
	surface: Surface,
	areas: Float64Array,
	spacing: Float32Array,
	fixed: readonly number[],
	options: { readonly gap: number; readonly most: number; readonly evenings: number },
): Job<number[]> {
	const vertices = spacing.length;
	const slowness = new Float32Array(vertices);
	for (let v = 0; v < vertices; v++) slowness[v] = surface.carries[v] ? 1 / spacing[v] : 1;
	const front = new Front(surface.mesh, surface.adjacency, slowness);
	fixed.forEach((v, i) => {
		front.seed(v, 0, i);
	});
	yield* within(front.spread(STAGE, 0), 0, 0.1);
	const added = yield* within(farthestPoints(surface, front, fixed.length, options.gap, options.most), 0.1, 0.5);
	for (let i = 0; i < options.evenings && added.length > 0; i++) {
		centre(surface, areas, spacing, front, fixed.length, added);
		front.clear();
		fixed.forEach((v, k) => {
			front.seed(v, 0, k);
		});
		added.forEach((v, k) => {
			front.seed(v, 0, fixed.length + k);
		});
		yield* within(front.spread(STAGE, 0), 0.5 + (0.5 * i) / options.evenings, 0.5 + (0.5 * (i + 1)) / options.evenings);
	}
	return added;
}

/** Takes the farthest vertex again and again, as long as it is farther than `gap`. */
function* farthestPoints(surface: Surface, front: Front, firstLabel: number, gap: number, most: number): Job<number[]> {
	const { cost } = front;
	// A heap of vertices by the cost that they had when they were entered; costs only fall, so an outdated top is entered
	// again with what it costs now.
	const heap: number[] = [];
	const key = new Float64Array(cost.length);
	const before = (a: number, b: number): boolean => key[a] > key[b] || (key[a] === key[b] && a < b);
	const sink = (from: number): void => {
		let at = from;
		const v = heap[at];
		for (;;) {
			let below = 2 * at + 1;
			if (below >= heap.length) break;
			if (below + 1 < heap.length && before(heap[below + 1], heap[below])) below++;
			if (!before(heap[below], v)) break;
			heap[at] = heap[below];
			at = below;
		}
		heap[at] = v;
	};
	for (let v = 0; v < cost.length; v++) {
		if (!surface.carries[v] || !(cost[v] > gap)) continue;
		key[v] = cost[v];
		heap.push(v);
	}
	for (let i = (heap.length >> 1) - 1; i >= 0; i--) sink(i);
	const added: number[] = [];
	for (let turns = 0; heap.length > 0 && added.length < most; turns++) {
		if (turns % 2048 === 2047) yield { stage: STAGE, share: 0.5 };
		const v = heap[0];
		if (key[v] === cost[v] && cost[v] > gap) {
			front.seed(v, 0, firstLabel + added.length);
			front.spreadAtOnce();
			added.push(v);
		}
		if (cost[v] > gap) {
			key[v] = cost[v];
		} else {
			const last = heap.pop() as number;
			if (heap.length === 0) break;
			if (last !== v) heap[0] = last;
			else continue;
		}
		sink(0);
	}
	return added;
}

/** Moves every added point to the vertex of its cell nearest to the cell's weighted centre; rim points along the rim. */
function centre(
	surface: Surface,
	areas: Float64Array,
	spacing: Float32Array,
	front: Front,
	firstLabel: number,
	added: number[],
): void {
	const p = surface.mesh.positions;
	const { onRim } = surface.adjacency;
	const { label } = front;
	const sums = new Float64Array(4 * added.length);
	const rimPoint = added.map((v) => onRim[v] === 1);
	for (let v = 0; v < label.length; v++) {
		const s = label[v] - firstLabel;
		if (s < 0 || !surface.carries[v]) continue;
		if (rimPoint[s] && !onRim[v]) continue;
		const h = spacing[v];
		const w = rimPoint[s] ? 1 / (h * h) : areas[v] / (h * h * h * h);
		sums[4 * s] += w * p[3 * v];
		sums[4 * s + 1] += w * p[3 * v + 1];
		sums[4 * s + 2] += w * p[3 * v + 2];
		sums[4 * s + 3] += w;
	}
	const nearest = new Float64Array(added.length).fill(Number.POSITIVE_INFINITY);
	for (let v = 0; v < label.length; v++) {
		const s = label[v] - firstLabel;
		if (s < 0 || !surface.carries[v] || !(sums[4 * s + 3] > 0)) continue;
		if (rimPoint[s] && !onRim[v]) continue;
		const dx = p[3 * v] - sums[4 * s] / sums[4 * s + 3];
		const dy = p[3 * v + 1] - sums[4 * s + 1] / sums[4 * s + 3];
		const dz = p[3 * v + 2] - sums[4 * s + 2] / sums[4 * s + 3];
		const d = dx * dx + dy * dy + dz * dz;
		if (d < nearest[s]) {
			nearest[s] = d;
			added[s] = v;
		}
	}
}
