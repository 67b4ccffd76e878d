/**
 * Averaging over the surface with a Gaussian of a chosen width, at any density of the mesh: explicit steps of the heat
 * equation with cotangent weights (U. Pinkall and K. Polthier 1993; M. Desbrun and others 1999) over a third of the
 * triangles around each vertex. A step that would overshoot at a crowded vertex is shortened there alone, so that slivers
 * cannot make the averaging unstable.
 */

import type { Job } from "../job.ts";
import { cotangent } from "../scan/measures.ts";
import { type TriangleMesh, triangleCount } from "../scan/mesh.ts";
import type { Adjacency } from "../surface/adjacency.ts";

/** Share of the way to the neighbours' mean that one step goes at most; the steps oscillate from 4/3. */
const LONGEST_STEP = 0.8;
/** The steps are counted so that this share of the vertices needs no shortening. */
const SERVED_SHARE = 0.8;
/** Past this (a width of 15 edges and more) the kernel stays narrower than asked, so that dust cannot stall the program. */
const MOST_STEPS = 200;
const SLICE = 16384;

export interface Diffusion {
	readonly adjacency: Adjacency;
	/** Share of each neighbour in the mean, one for every entry of `adjacency.neighbourList`; each row sums to 1 or 0. */
	readonly share: Float32Array;
	/** How fast each vertex closes on its neighbours' mean, 1/mm². */
	readonly rate: Float64Array;
}

/** Weights for `diffuse`. `areas` as from `vertexAreas`. */
export function prepareDiffusion(mesh: TriangleMesh, adjacency: Adjacency, areas: Float64Array): Diffusion {
	const { positions: p, triangles: corner } = mesh;
	const { neighbourStart, neighbourList } = adjacency;
	const share = new Float32Array(neighbourList.length);
	const triangles = triangleCount(mesh);
	const enter = (v: number, w: number, half: number): void => {
		for (let i = neighbourStart[v]; i < neighbourStart[v + 1]; i++) {
			if (neighbourList[i] === w) {
				share[i] += half;
				return;
			}
		}
	};
	for (let t = 0; t < triangles; t++) {
		for (let c = 0; c < 3; c++) {
			const o = corner[3 * t + c];
			const v = corner[3 * t + ((c + 1) % 3)];
			const w = corner[3 * t + ((c + 2) % 3)];
			const whole = cotangent(p, o, v, w);
			if (!Number.isFinite(whole)) continue;
			// Slivers would have weights without bound.
			const half = Math.max(-5, Math.min(5, 0.5 * whole));
			enter(v, w, half);
			enter(w, v, half);
		}
	}
	const vertices = areas.length;
	const rate = new Float64Array(vertices);
	for (let v = 0; v < vertices; v++) {
		let sum = 0;
		for (let i = neighbourStart[v]; i < neighbourStart[v + 1]; i++) {
			// Across two obtuse angles the weight turns negative and would push values apart.
			if (share[i] < 0) share[i] = 0;
			sum += share[i];
		}
		if (!(sum > 0 && areas[v] > 0)) continue;
		rate[v] = sum / areas[v];
		for (let i = neighbourStart[v]; i < neighbourStart[v + 1]; i++) share[i] /= sum;
	}
	return { adjacency, share, rate };
}

/**
 * Averages `values` (`stride` numbers a vertex) over the surface, in place, with a Gaussian of standard deviation `width` mm.
 * Open edges reflect.
 */
export function* diffuse(
	diffusion: Diffusion,
	values: Float32Array,
	stride: number,
	width: number,
	stage: string,
): Job<void> {
	const { rate } = diffusion;
	const vertices = rate.length;
	if (vertices === 0) return;
	const time = (width * width) / 2;
	const steps = Math.min(MOST_STEPS, Math.max(1, Math.ceil((time * servedRate(rate)) / LONGEST_STEP)));
	const stepTime = time / steps;
	let from: Float32Array = values;
	let to: Float32Array = new Float32Array(values.length);
	for (let step = 0; step < steps; step++) {
		for (let begin = 0; begin < vertices; begin += SLICE) {
			const end = Math.min(vertices, begin + SLICE);
			let c = 0;
			for (; c + 3 <= stride; c += 3) stepThree(diffusion, from, to, stride, c, stepTime, begin, end);
			for (; c < stride; c++) stepOne(diffusion, from, to, stride, c, stepTime, begin, end);
			yield { stage, share: (step + begin / vertices) / steps };
		}
		const swap = from;
		from = to;
		to = swap;
	}
	if (from !== values) values.set(from);
}

/** One step for the numbers c, c + 1 and c + 2 of the vertices from `begin` to `end`: three at once stay in registers. */
function stepThree(
	diffusion: Diffusion,
	from: Float32Array,
	to: Float32Array,
	stride: number,
	c: number,
	stepTime: number,
	begin: number,
	end: number,
): void {
	const { share, rate } = diffusion;
	const { neighbourStart, neighbourList } = diffusion.adjacency;
	for (let v = begin; v < end; v++) {
		let s0 = 0;
		let s1 = 0;
		let s2 = 0;
		for (let i = neighbourStart[v], last = neighbourStart[v + 1]; i < last; i++) {
			const w = share[i];
			const at = stride * neighbourList[i] + c;
			s0 += w * from[at];
			s1 += w * from[at + 1];
			s2 += w * from[at + 2];
		}
		const move = Math.min(LONGEST_STEP, stepTime * rate[v]);
		const at = stride * v + c;
		to[at] = from[at] + move * (s0 - from[at]);
		to[at + 1] = from[at + 1] + move * (s1 - from[at + 1]);
		to[at + 2] = from[at + 2] + move * (s2 - from[at + 2]);
	}
}

/** The same for the single number c. */
function stepOne(
	diffusion: Diffusion,
	from: Float32Array,
	to: Float32Array,
	stride: number,
	c: number,
	stepTime: number,
	begin: number,
	end: number,
): void {
	const { share, rate } = diffusion;
	const { neighbourStart, neighbourList } = diffusion.adjacency;
	for (let v = begin; v < end; v++) {
		let sum = 0;
		for (let i = neighbourStart[v], last = neighbourStart[v + 1]; i < last; i++)
			sum += share[i] * from[stride * neighbourList[i] + c];
		const at = stride * v + c;
		to[at] = from[at] + Math.min(LONGEST_STEP, stepTime * rate[v]) * (sum - from[at]);
	}
}

/** The rate that `SERVED_SHARE` of the vertices stay under, from a sample spread evenly over the indices. */
function servedRate(rate: Float64Array): number {
	const stride = Math.max(1, Math.floor(rate.length / 4096));
	const sample: number[] = [];
	for (let v = 0; v < rate.length; v += stride) if (rate[v] > 0) sample.push(rate[v]);
	if (sample.length === 0) return 0;
	sample.sort((a, b) => a - b);
	return sample[Math.min(sample.length - 1, Math.floor(sample.length * SERVED_SHARE))];
}
