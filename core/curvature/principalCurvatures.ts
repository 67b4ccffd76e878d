/**
 * Principal curvatures at the smallest form (handbook 5).
 *
 * Source: S. Rusinkiewicz, "Estimating curvatures and their derivatives on triangle meshes" (2004): on every triangle the
 * change of the vertex normals along its edges gives the curvature tensor, and tensors are averaged at the vertices.
 * Changed here: the normals are averaged over the smallest form first; on a triangle the tensor is taken from the linear
 * interpolation of the three normals in the plane square to their mean (the same tensor, without solving a system), so
 * that triangle × area telescopes and scan noise in the edges cancels; tensors are averaged over the smallest form with
 * the area as weight, little of it at rims, where the normals have been averaged from one side only.
 */

import { type Job, within } from "../job.ts";
import { crossInto } from "../scan/measures.ts";
import { type TriangleMesh, triangleCount, vertexCount } from "../scan/mesh.ts";
import type { Adjacency } from "../surface/adjacency.ts";
import { normalise, vertexAreas } from "../surface/vertexNormals.ts";
import { diffuse, prepareDiffusion } from "./diffusion.ts";
import { newPrincipal, readTensor } from "./tensor.ts";

export interface CurvatureField {
	/** Greater principal curvature of each vertex, 1/mm, positive = bulging. */
	readonly k1: Float64Array;
	/** Lesser principal curvature of each vertex, 1/mm: k2 ≤ k1. */
	readonly k2: Float64Array;
	/** Unit direction of k1, 3 a vertex, sign free; (0, 0, 0) where the two are equal or there is no surface. */
	readonly direction1: Float32Array;
	/** Unit outward normals averaged over the smallest form, 3 a vertex. */
	readonly normals: Float64Array;
}

/**
 * Standard deviation of each of the two averagings, as a share of the smallest form. Both together make a Gaussian of
 * 0.47 smallest forms, whose width at half height is 1.1 of them.
 */
const NORMAL_WIDTH = 1 / 3;
const TENSOR_WIDTH = 1 / 3;
/** Standard deviation of the Gaussian over which `CurvatureField` is read, as a share of the smallest form. */
export const FIELD_WIDTH = Math.sqrt(NORMAL_WIDTH * NORMAL_WIDTH + TENSOR_WIDTH * TENSOR_WIDTH);
/** Normals are trusted fully from this many of their standard deviations inside a rim. */
const RIM_WIDTHS = 2;
/** Weight at a rim itself: small, but enough where there is nothing else. */
const RIM_TRUST = 1e-3;
/** xx, xy, xz, yy, yz, zz of the tensor, and the weight. */
const STRIDE = 7;
const SLICE = 16384;

/**
 * Curvatures of every vertex of `mesh` (mm) read over `smallestForm` mm. Turning or scaling mesh and smallest form
 * together changes nothing else.
 */
export function* principalCurvatures(
	mesh: TriangleMesh,
	adjacency: Adjacency,
	smallestForm: number,
): Job<CurvatureField> {
	const stage = "reading the curvature";
	const vertices = vertexCount(mesh);
	const triangles = triangleCount(mesh);
	const areas = vertexAreas(mesh);
	yield { stage, share: 0.05 };
	const diffusion = prepareDiffusion(mesh, adjacency, areas);
	yield { stage, share: 0.1 };
	const normalWidth = NORMAL_WIDTH * smallestForm;
	const tensorWidth = TENSOR_WIDTH * smallestForm;

	const soft = areaNormals(mesh, areas);
	yield* within(diffuse(diffusion, soft, 3, normalWidth, stage), 0.1, 0.4);
	const normals = Float64Array.from(soft);
	normalise(normals);

	const trust = rimTrust(mesh, adjacency, RIM_WIDTHS * normalWidth);
	const tensors = new Float32Array(STRIDE * vertices);
	for (let begin = 0; begin < triangles; begin += SLICE) {
		addTensors(mesh, normals, trust, tensors, begin, Math.min(triangles, begin + SLICE));
		yield { stage, share: 0.4 + (0.15 * begin) / triangles };
	}
	for (let v = 0; v < vertices; v++) {
		if (!(areas[v] > 0)) continue;
		for (let c = 0; c < STRIDE; c++) tensors[STRIDE * v + c] /= areas[v];
	}
	yield* within(diffuse(diffusion, tensors, STRIDE, tensorWidth, stage), 0.55, 0.95);

	const k1 = new Float64Array(vertices);
	const k2 = new Float64Array(vertices);
	const direction1 = new Float32Array(3 * vertices);
	const principal = newPrincipal();
	for (let v = 0; v < vertices; v++) {
		const at = STRIDE * v;
		const w = tensors[at + 6];
		if (!(w > 0)) continue;
		readTensor(
			tensors[at] / w,
			tensors[at + 1] / w,
			tensors[at + 2] / w,
			tensors[at + 3] / w,
			tensors[at + 4] / w,
			tensors[at + 5] / w,
			normals[3 * v],
			normals[3 * v + 1],
			normals[3 * v + 2],
			tensorWidth,
			principal,
		);
		k1[v] = principal.k1;
		k2[v] = principal.k2;
		direction1[3 * v] = principal.x;
		direction1[3 * v + 1] = principal.y;
		direction1[3 * v + 2] = principal.z;
	}
	yield { stage, share: 1 };
	return { k1, k2, direction1, normals };
}

/** Mean of the triangle normals around each vertex, by area and not brought to length 1: linear in the positions. */
function areaNormals(mesh: TriangleMesh, areas: Float64Array): Float32Array {
	const { positions: p, triangles: corner } = mesh;
	const sum = new Float64Array(p.length);
	const n = new Float64Array(3);
	for (let i = 0; i < corner.length; i += 3) {
		crossInto(n, p, corner[i], corner[i + 1], corner[i + 2]);
		for (let k = 0; k < 3; k++) {
			const v = 3 * corner[i + k];
			sum[v] += n[0] / 6;
			sum[v + 1] += n[1] / 6;
			sum[v + 2] += n[2] / 6;
		}
	}
	const mean = new Float32Array(p.length);
	for (let i = 0; i < mean.length; i++) {
		const area = areas[Math.floor(i / 3)];
		mean[i] = area > 0 ? sum[i] / area : 0;
	}
	return mean;
}

/** Weight of each vertex's normal by its distance from the nearest open edge: `RIM_TRUST` there, 1 from `width` mm on. */
function rimTrust(mesh: TriangleMesh, adjacency: Adjacency, width: number): Float32Array {
	const { positions: p } = mesh;
	const { onRim, neighbourStart, neighbourList } = adjacency;
	const distance = new Float32Array(onRim.length).fill(width);
	const waiting: number[] = [];
	for (let v = 0; v < onRim.length; v++) {
		if (onRim[v]) {
			distance[v] = 0;
			waiting.push(v);
		}
	}
	// Few vertices lie near a rim, so a plain list that may visit one again is quick enough.
	for (let next = 0; next < waiting.length; next++) {
		const v = waiting[next];
		for (let i = neighbourStart[v]; i < neighbourStart[v + 1]; i++) {
			const w = neighbourList[i];
			const dx = p[3 * w] - p[3 * v];
			const dy = p[3 * w + 1] - p[3 * v + 1];
			const dz = p[3 * w + 2] - p[3 * v + 2];
			const d = Math.fround(distance[v] + Math.sqrt(dx * dx + dy * dy + dz * dz));
			if (d < distance[w]) {
				distance[w] = d;
				waiting.push(w);
			}
		}
	}
	for (let v = 0; v < distance.length; v++) {
		const inside = distance[v] / width;
		distance[v] = RIM_TRUST + (1 - RIM_TRUST) * inside * inside * inside * inside;
	}
	return distance;
}

/** Adds a third of trust × area × tensor, and of trust × area, of the triangles from `begin` to `end` to their corners. */
function addTensors(
	mesh: TriangleMesh,
	normals: Float64Array,
	trust: Float32Array,
	tensors: Float32Array,
	begin: number,
	end: number,
): void {
	const { positions: p, triangles: corner } = mesh;
	for (let t = begin; t < end; t++) {
		const va = corner[3 * t];
		const vb = corner[3 * t + 1];
		const vc = corner[3 * t + 2];
		const a = 3 * va;
		const b = 3 * vb;
		const c = 3 * vc;
		let mx = normals[a] + normals[b] + normals[c];
		let my = normals[a + 1] + normals[b + 1] + normals[c + 1];
		let mz = normals[a + 2] + normals[b + 2] + normals[c + 2];
		const m = Math.sqrt(mx * mx + my * my + mz * mz);
		if (!(m > 0)) continue;
		mx /= m;
		my /= m;
		mz /= m;
		// Edges from a to b and from a to c, and the change of the normal along them.
		const ux = p[b] - p[a];
		const uy = p[b + 1] - p[a + 1];
		const uz = p[b + 2] - p[a + 2];
		const wx = p[c] - p[a];
		const wy = p[c + 1] - p[a + 1];
		const wz = p[c + 2] - p[a + 2];
		const area = 0.5 * (mx * (uy * wz - uz * wy) + my * (uz * wx - ux * wz) + mz * (ux * wy - uy * wx));
		const dux = normals[b] - normals[a];
		const duy = normals[b + 1] - normals[a + 1];
		const duz = normals[b + 2] - normals[a + 2];
		const dwx = normals[c] - normals[a];
		const dwy = normals[c + 1] - normals[a + 1];
		const dwz = normals[c + 2] - normals[a + 2];
		// 2 × area × (gradient of the weight of b, of c) in the plane square to m: w × m and m × u.
		const gx = wy * mz - wz * my;
		const gy = wz * mx - wx * mz;
		const gz = wx * my - wy * mx;
		const hx = my * uz - mz * uy;
		const hy = mz * ux - mx * uz;
		const hz = mx * uy - my * ux;
		const f = (trust[va] + trust[vb] + trust[vc]) / 18;
		const xx = f * (dux * gx + dwx * hx);
		const yy = f * (duy * gy + dwy * hy);
		const zz = f * (duz * gz + dwz * hz);
		const xy = 0.5 * f * (dux * gy + duy * gx + dwx * hy + dwy * hx);
		const xz = 0.5 * f * (dux * gz + duz * gx + dwx * hz + dwz * hx);
		const yz = 0.5 * f * (duy * gz + duz * gy + dwy * hz + dwz * hy);
		const weight = 2 * f * area;
		for (let k = 0; k < 3; k++) {
			const at = STRIDE * corner[3 * t + k];
			tensors[at] += xx;
			tensors[at + 1] += xy;
			tensors[at + 2] += xz;
			tensors[at + 3] += yy;
			tensors[at + 4] += yz;
			tensors[at + 5] += zz;
			tensors[at + 6] += weight;
		}
	}
}
