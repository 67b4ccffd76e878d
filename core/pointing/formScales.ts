/**
 * Curvature as a facet sees it. The sag of a flat facet of spacing h is, for gentle ground, the curvature averaged over the
 * facet's circle of radius p = h/√3 with the weight log(p / r) (Green's function of the disc); that weight has the standard
 * deviation p/√8 = h/4.9. The rule s = k h²/6 is therefore read with k averaged over a Gaussian of that width, so that a
 * ripple that no facet of spacing h can feel asks for no points. Where k is even over the facet this changes nothing.
 * Tensors are averaged, not curvatures, so that the two flanks of a ripple cancel.
 */

import { diffuse, prepareDiffusion } from "../curvature/diffusion.ts";
import type { CurvatureField } from "../curvature/principalCurvatures.ts";
import { newPrincipal, readTensor } from "../curvature/tensor.ts";
import { type Job, within } from "../job.ts";
import { type Coarse, gatherPatches } from "./coarse.ts";

/** Spacing ÷ standard deviation of what a facet of that spacing sees: √3 · √8. */
const SPACING_PER_WIDTH = Math.sqrt(24);
/** Each scale is wider than the one before by this factor. */
const STEP = Math.SQRT2;
/** Patches grow with the scale, to keep the averaging quick: their cells stay under this share of its width. */
const CELL_SHARE = 1;
/** xx, xy, xz, yy, yz, zz of the tensor, then the normal. */
const STRIDE = 9;

/** Curvatures at one scale, one entry per patch, 1/mm. */
export interface FormScale {
	/** Spacing of the facets that see the ground so, mm. */
	readonly spacing: number;
	readonly k1: Float32Array;
	readonly k2: Float32Array;
}

/**
 * Curvatures of the patches at scales from the field's own up to facets of `most` mm.
 * `cell`: size of the patches, mm; `fieldWidth`: standard deviation over which the field was read, mm; `areas` of the fine
 * vertices.
 */
export function* formScales(
	coarse: Coarse,
	cell: number,
	areas: Float64Array,
	field: CurvatureField,
	fieldWidth: number,
	most: number,
): Job<FormScale[]> {
	const stage = "reading the forms";
	const patches = coarse.areas.length;
	const scales: FormScale[] = [];
	const last = Math.max(fieldWidth, most / SPACING_PER_WIDTH);
	let ground = coarse;
	let size = cell;
	let values = gatherField(coarse, areas, field);
	let diffusion = prepareDiffusion(coarse.surface.mesh, coarse.surface.adjacency, coarse.areas);
	// Where each of the given patches lies in `ground`.
	let place = Int32Array.from({ length: patches }, (_, c) => c);
	yield { stage, share: 0.2 };
	for (let width = fieldWidth; ; ) {
		scales.push(readScale(values, place, width));
		if (width >= last) return scales;
		if (width * CELL_SHARE >= 2 * size) {
			size *= 2;
			const wider = gatherPatches(ground.surface, ground.areas, size);
			values = gatherValues(wider, ground.areas, values);
			place = place.map((c) => wider.patch[c]);
			diffusion = prepareDiffusion(wider.surface.mesh, wider.surface.adjacency, wider.areas);
			ground = wider;
		}
		// Widths add as squares.
		const next = Math.min(last, width * STEP);
		const share = 0.2 + 0.8 * (width / last);
		yield* within(diffuse(diffusion, values, STRIDE, Math.sqrt(next * next - width * width), stage), share, share);
		width = next;
	}
}

/** Area means over the patches of the curvature tensor and of the normal. */
function gatherField(coarse: Coarse, areas: Float64Array, field: CurvatureField): Float32Array {
	const { k1, k2, direction1, normals } = field;
	const values = new Float32Array(STRIDE * k1.length);
	for (let v = 0; v < k1.length; v++) {
		const x = direction1[3 * v];
		const y = direction1[3 * v + 1];
		const z = direction1[3 * v + 2];
		const nx = normals[3 * v];
		const ny = normals[3 * v + 1];
		const nz = normals[3 * v + 2];
		// T = k2 (1 − n nᵀ) + (k1 − k2) d dᵀ; where the two are equal d is zero and nothing is missing.
		const e = k2[v];
		const d = k1[v] - e;
		const at = STRIDE * v;
		values[at] = e * (1 - nx * nx) + d * x * x;
		values[at + 1] = d * x * y - e * nx * ny;
		values[at + 2] = d * x * z - e * nx * nz;
		values[at + 3] = e * (1 - ny * ny) + d * y * y;
		values[at + 4] = d * y * z - e * ny * nz;
		values[at + 5] = e * (1 - nz * nz) + d * z * z;
		values[at + 6] = nx;
		values[at + 7] = ny;
		values[at + 8] = nz;
	}
	return gatherValues(coarse, areas, values);
}

/** Area means of `values` over the patches; plain means where a patch has no area. */
function gatherValues(coarse: Coarse, areas: Float64Array, values: Float32Array): Float32Array {
	const { memberStart, memberList } = coarse;
	const patches = coarse.areas.length;
	const means = new Float32Array(STRIDE * patches);
	const sum = new Float64Array(STRIDE);
	for (let c = 0; c < patches; c++) {
		sum.fill(0);
		const weightless = !(coarse.areas[c] > 0);
		let weight = 0;
		for (let i = memberStart[c]; i < memberStart[c + 1]; i++) {
			const v = memberList[i];
			const a = weightless ? 1 : areas[v];
			for (let k = 0; k < STRIDE; k++) sum[k] += a * values[STRIDE * v + k];
			weight += a;
		}
		for (let k = 0; k < STRIDE; k++) means[STRIDE * c + k] = sum[k] / weight;
	}
	return means;
}

function readScale(values: Float32Array, place: Int32Array, width: number): FormScale {
	const held = values.length / STRIDE;
	const k1 = new Float32Array(held);
	const k2 = new Float32Array(held);
	const principal = newPrincipal();
	for (let c = 0; c < held; c++) {
		const at = STRIDE * c;
		const nx = values[at + 6];
		const ny = values[at + 7];
		const nz = values[at + 8];
		const n = Math.sqrt(nx * nx + ny * ny + nz * nz);
		if (!(n > 0)) continue;
		readTensor(
			values[at],
			values[at + 1],
			values[at + 2],
			values[at + 3],
			values[at + 4],
			values[at + 5],
			nx / n,
			ny / n,
			nz / n,
			width,
			principal,
		);
		k1[c] = principal.k1;
		k2[c] = principal.k2;
	}
	return {
		spacing: width * SPACING_PER_WIDTH,
		k1: Float32Array.from(place, (c) => k1[c]),
		k2: Float32Array.from(place, (c) => k2[c]),
	};
}
