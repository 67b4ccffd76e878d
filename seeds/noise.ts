/** What a scanner adds: a fine grain from place to place and a drift over wider patches, both along the normal. */

import type { Job } from "../core/job.ts";
import { seededRandom } from "../core/random.ts";
import { crossInto } from "../core/scan/measures.ts";
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

/** Root mean square of `latticeNoise`: 1/√3 at the corners; easing between them keeps √(26/35) of it in each direction. */
export const LATTICE_RMS = Math.sqrt((1 / 3) * (26 / 35) * (26 / 35) * (26 / 35));
/** Triangles or vertices handled between two reports of progress: a few milliseconds. */
const SLICE = 16384;

/** A number in [−1, 1) that belongs to a corner of the lattice. */
const cornerValue = (i: number, j: number, k: number, seed: number): number => {
	let h = Math.imul(i, 0x9e3779b1) ^ Math.imul(j, 0x85ebca6b) ^ Math.imul(k, 0xc2b2ae35) ^ seed;
	h = Math.imul(h ^ (h >>> 16), 0x7feb352d);
	h = Math.imul(h ^ (h >>> 15), 0x846ca68b);
	return ((h ^ (h >>> 16)) >>> 0) / 2147483648 - 1;
};

const ease = (t: number): number => t * t * (3 - 2 * t);

/** Smooth noise in [−1, 1] that never repeats; x, y, z in lattice steps. */
export function latticeNoise(x: number, y: number, z: number, seed: number): number {
	const i = Math.floor(x);
	const j = Math.floor(y);
	const k = Math.floor(z);
	const u = ease(x - i);
	const v = ease(y - j);
	const w = ease(z - k);
	let sum = 0;
	for (let c = 0; c < 8; c++) {
		const weight = (c & 1 ? u : 1 - u) * (c & 2 ? v : 1 - v) * (c & 4 ? w : 1 - w);
		sum += weight * cornerValue(i + (c & 1), j + ((c >> 1) & 1), k + (c >> 2), seed);
	}
	return sum;
}

/** Adds the normals of triangles from … to (indices into `triangles`), as long as twice their area, to their vertices. */
function addNormals({ positions: p, triangles }: TriangleMesh, from: number, to: number, normals: Float64Array): void {
	const n = new Float64Array(3);
	for (let t = from; t < to; t += 3) {
		crossInto(n, p, triangles[t], triangles[t + 1], triangles[t + 2]);
		for (let i = t; i < t + 3; i++) for (let k = 0; k < 3; k++) normals[3 * triangles[i] + k] += n[k];
	}
}

/** The same mesh as a scanner would give it: vertices moved along their normals, triangles weighted by area. */
export function* scanned(mesh: TriangleMesh, noise: ScanNoise): Job<TriangleMesh> {
	const stage = "adding scan noise";
	const { triangles } = mesh;
	const positions = mesh.positions.slice();
	const normals = new Float64Array(positions.length);
	for (let from = 0; from < triangles.length; from += 3 * SLICE) {
		addNormals(mesh, from, Math.min(from + 3 * SLICE, triangles.length), normals);
		yield { stage, share: (0.4 * from) / triangles.length };
	}
	const random = seededRandom(noise.seed);
	const move = (from: number, to: number): void => {
		for (let v = from; v < to; v += 3) {
			const nx = normals[v];
			const ny = normals[v + 1];
			const nz = normals[v + 2];
			const x = positions[v];
			const y = positions[v + 1];
			const z = positions[v + 2];
			const patch = latticeNoise(x / noise.patchMm, y / noise.patchMm, z / noise.patchMm, noise.seed);
			// The sum of three uniforms less their mean: near enough to normal, variance 1/4.
			const grain = 2 * (random.next() + random.next() + random.next() - 1.5);
			const l = Math.sqrt(nx * nx + ny * ny + nz * nz);
			const by = ((noise.driftMm / LATTICE_RMS) * patch + noise.grainMm * grain) / (l > 0 ? l : 1);
			positions[v] = x + by * nx;
			positions[v + 1] = y + by * ny;
			positions[v + 2] = z + by * nz;
		}
	};
	for (let from = 0; from < positions.length; from += 3 * SLICE) {
		move(from, Math.min(from + 3 * SLICE, positions.length));
		yield { stage, share: 0.4 + (0.6 * from) / positions.length };
	}
	return { positions, triangles };
}
