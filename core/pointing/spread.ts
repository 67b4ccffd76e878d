/**
 * Points spread evenly over the ground at a spacing that varies from place to place, between points that stay.
 *
 * Source: G. Peyré and L. Cohen, "Geodesic remeshing using front propagation" (2006): distances are measured in spacings
 * (slowness 1 / h), the next point is the place farthest from all others until none is farther than asked, which is a
 * Poisson disk that leaves no gaps; then each new point moves to the centre of its cell (S. Lloyd 1982), with the weight
 * h^-4 that keeps the spacing (Q. Du and D. Wang 2005). Points on a rim stay on it, so that the join reaches the rim.
 */

import { type Job, within } from "../job.ts";
import type { Coarse } from "./coarse.ts";
import { Front } from "./front.ts";
import type { Surface } from "./ground.ts";

const STAGE = "spreading the points";
/** Points overshoot the centre of their cells by this factor, which settles the pattern in a third of the rounds. */
const OVERSHOOT = 1.6;

/** Places of points on the patches. */
export interface Spread {
	/** Patch of each new point. */
	readonly patches: readonly number[];
	/** The place itself, 3 a point, mm: near the middle of its patch, not on a vertex. */
	readonly places: Float64Array;
}

export interface SpreadOptions {
	/** Distance, in spacings, that no place keeps from its nearest point before the points are evened out. */
	readonly gap: number;
	/** Ends the choice earlier. */
	readonly most: number;
	/** How often the points are moved to the centres of their cells. */
	readonly evenings: number;
}

/** Spreads new points over the patches between those that stay (`fixedPlaces`, 3 each, in the patches `fixed`). */
export function* spreadPoints(
	coarse: Coarse,
	normals: Float64Array,
	spacing: Float32Array,
	fixed: readonly number[],
	fixedPlaces: Float64Array,
	options: SpreadOptions,
): Job<Spread> {
	const { surface } = coarse;
	const slowness = spacing.map((h) => (h > 0 ? 1 / h : 1));
	const front = new Front(surface.mesh, surface.adjacency, slowness);
	fixed.forEach((c, i) => {
		seedAt(surface, front, slowness, c, fixedPlaces, i, i);
	});
	yield* within(front.spread(STAGE, 0), 0, 0.1);
	const patches = yield* within(farthestPoints(surface, front, fixed.length, options.gap, options.most), 0.1, 0.4);
	const places = new Float64Array(3 * patches.length);
	patches.forEach((c, k) => {
		places.set(surface.mesh.positions.subarray(3 * c, 3 * c + 3), 3 * k);
	});
	for (let i = 0; i < options.evenings && patches.length > 0; i++) {
		centre(coarse, normals, spacing, front, fixed.length, patches, places, i < options.evenings - 2 ? OVERSHOOT : 1);
		front.clear();
		fixed.forEach((c, k) => {
			seedAt(surface, front, slowness, c, fixedPlaces, k, k);
		});
		patches.forEach((c, k) => {
			seedAt(surface, front, slowness, c, places, k, fixed.length + k);
		});
		const share = 0.4 + (0.6 * i) / options.evenings;
		yield* within(front.spread(STAGE, 0), share, share);
	}
	return { patches, places };
}

/** Seeds place k of `places`, which lies in patch c, over the patches around it, so that a place need not be a vertex. */
function seedAt(
	surface: Surface,
	front: Front,
	slowness: Float32Array,
	c: number,
	places: Float64Array,
	k: number,
	label: number,
): void {
	const p = surface.mesh.positions;
	const { neighbourStart, neighbourList } = surface.adjacency;
	for (let i = neighbourStart[c] - 1; i < neighbourStart[c + 1]; i++) {
		const w = i < neighbourStart[c] ? c : neighbourList[i];
		const dx = p[3 * w] - places[3 * k];
		const dy = p[3 * w + 1] - places[3 * k + 1];
		const dz = p[3 * w + 2] - places[3 * k + 2];
		front.seed(w, slowness[w] * Math.sqrt(dx * dx + dy * dy + dz * dz), label);
	}
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

/**
 * Moves every new point to the weighted centre of its cell (past it by `overshoot`), flat on the patch that is nearest
 * there; rim points along the rim.
 */
function centre(
	coarse: Coarse,
	normals: Float64Array,
	spacing: Float32Array,
	front: Front,
	firstLabel: number,
	patches: number[],
	places: Float64Array,
	overshoot: number,
): void {
	const { surface, areas } = coarse;
	const p = surface.mesh.positions;
	const { onRim } = surface.adjacency;
	const { label } = front;
	const sums = new Float64Array(4 * patches.length);
	const rimPoint = patches.map((c) => onRim[c] === 1);
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
	for (let s = 0; s < patches.length; s++) {
		const w = sums[4 * s + 3];
		if (!(w > 0)) continue;
		for (let k = 0; k < 3; k++) places[3 * s + k] += overshoot * (sums[4 * s + k] / w - places[3 * s + k]);
	}
	const nearest = new Float64Array(patches.length).fill(Number.POSITIVE_INFINITY);
	for (let v = 0; v < label.length; v++) {
		const s = label[v] - firstLabel;
		if (s < 0 || !surface.carries[v] || !(sums[4 * s + 3] > 0)) continue;
		if (rimPoint[s] && !onRim[v]) continue;
		const dx = p[3 * v] - places[3 * s];
		const dy = p[3 * v + 1] - places[3 * s + 1];
		const dz = p[3 * v + 2] - places[3 * s + 2];
		const d = dx * dx + dy * dy + dz * dz;
		if (d < nearest[s]) {
			nearest[s] = d;
			patches[s] = v;
		}
	}
	for (let s = 0; s < patches.length; s++) {
		if (!(nearest[s] < Number.POSITIVE_INFINITY)) continue;
		const c = 3 * patches[s];
		const n = normals[c] * normals[c] + normals[c + 1] * normals[c + 1] + normals[c + 2] * normals[c + 2];
		if (!(n > 0)) continue;
		const off =
			((places[3 * s] - p[c]) * normals[c] +
				(places[3 * s + 1] - p[c + 1]) * normals[c + 1] +
				(places[3 * s + 2] - p[c + 2]) * normals[c + 2]) /
			n;
		for (let k = 0; k < 3; k++) places[3 * s + k] -= off * normals[c + k];
	}
}
