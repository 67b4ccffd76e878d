/** What a scanner adds: a fine grain from place to place and a drift over wider patches, both along the normal. */

import { seededRandom } from "../core/random.ts";
import type { TriangleMesh } from "../core/scan/mesh.ts";

export interface ScanNoise {
	readonly seed: number;
	/** Root mean square in mm of the part that differs from vertex to vertex. */
	readonly grainMm: number;
	/** Root mean square in mm of the part that drifts. */
	readonly driftMm: number;
	/** Over what width it drifts, in mm. */
	readonly patchMm: number;
}

/** Root mean square of the lattice noise below, uniform values in [−1, 1] at the corners, smoothed between: measured. */
const DRIFT_RMS = 0.265;

/** A number in [−1, 1) that belongs to a corner of the lattice. */
const cornerValue = (i: number, j: number, k: number, seed: number): number => {
	let h = Math.imul(i, 0x9e3779b1) ^ Math.imul(j, 0x85ebca6b) ^ Math.imul(k, 0xc2b2ae35) ^ seed;
	h = Math.imul(h ^ (h >>> 16), 0x7feb352d);
	h = Math.imul(h ^ (h >>> 15), 0x846ca68b);
	return ((h ^ (h >>> 16)) >>> 0) / 2147483648 - 1;
};

/** Smooth lattice noise in [−1, 1], period none; x, y, z in lattice steps. */
export function latticeNoise(x: number, y: number, z: number, seed: number): number {
	const i = Math.floor(x);
	const j = Math.floor(y);
	const k = Math.floor(z);
	const ease = (t: number): number => t * t * (3 - 2 * t);
	const u = ease(x - i);
	const v = ease(y - j);
	const w = ease(z - k);
	let sum = 0;
	for (let c = 0; c < 8; c++) {
		const weight = (c & 1 ? u : 1 - u) * (c & 2 ? v : 1 - v) * (c & 4 ? w : 1 - w);
		sum += weight * cornerValue(i + (c & 1), j + ((c >> 1) & 1), k + ((c >> 2) & 1), seed);
	}
	return sum;
}

/** Unit normals at the vertices, triangles weighted by area; x, y, z of each. */
export function vertexNormals(mesh: TriangleMesh): Float64Array {
	const { positions: p, triangles } = mesh;
	const normals = new Float64Array(p.length);
	for (let t = 0; t < triangles.length; t += 3) {
		const a = 3 * triangles[t];
		const b = 3 * triangles[t + 1];
		const c = 3 * triangles[t + 2];
		const ux = p[b] - p[a];
		const uy = p[b + 1] - p[a + 1];
		const uz = p[b + 2] - p[a + 2];
		const vx = p[c] - p[a];
		const vy = p[c + 1] - p[a + 1];
		const vz = p[c + 2] - p[a + 2];
		const nx = uy * vz - uz * vy;
		const ny = uz * vx - ux * vz;
		const nz = ux * vy - uy * vx;
		for (let i = 0; i < 3; i++) {
			const at = 3 * triangles[t + i];
			normals[at] += nx;
			normals[at + 1] += ny;
			normals[at + 2] += nz;
		}
	}
	for (let v = 0; v < normals.length; v += 3) {
		const l = Math.sqrt(normals[v] * normals[v] + normals[v + 1] * normals[v + 1] + normals[v + 2] * normals[v + 2]);
		if (l > 0) for (let i = 0; i < 3; i++) normals[v + i] /= l;
	}
	return normals;
}

/** The same mesh as a scanner would give it. */
export function scanned(mesh: TriangleMesh, noise: ScanNoise): TriangleMesh {
	const normals = vertexNormals(mesh);
	const positions = mesh.positions.slice();
	const random = seededRandom(noise.seed);
	for (let v = 0; v < positions.length; v += 3) {
		const x = positions[v] / noise.patchMm;
		const y = positions[v + 1] / noise.patchMm;
		const z = positions[v + 2] / noise.patchMm;
		const drift = (noise.driftMm / DRIFT_RMS) * latticeNoise(x, y, z, noise.seed);
		// Sum of four uniforms: near enough to normal, variance 1/3.
		const grain =
			noise.grainMm * 1.7320508075688772 * (random.next() + random.next() + random.next() + random.next() - 2);
		for (let i = 0; i < 3; i++) positions[v + i] += (drift + grain) * normals[v + i];
	}
	return { positions, triangles: mesh.triangles };
}
