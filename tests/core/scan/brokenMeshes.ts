/** Seeded meshes with every fault that a scan may have. */

import { type Random, seededRandom } from "../../../core/random.ts";
import type { TriangleMesh } from "../../../core/scan/mesh.ts";
import type { Vec3 } from "../../../core/vector.ts";
import { box as boxMesh } from "../../support/groundMesh.ts";
import { squareFigure, trianglesOf } from "./scanWriters.ts";

interface Draft {
	points: number[][];
	faces: number[][];
}

export const meshFrom = (draft: Draft): TriangleMesh => ({
	positions: Float64Array.from(draft.points.flat()),
	triangles: Uint32Array.from(draft.faces.flat()),
});

/** A closed box from `low` to `high`, 12 triangles facing outwards (inwards when `inward`). */
export function box(low: Vec3, high: Vec3, inward = false): Draft {
	const { positions, triangles } = boxMesh(low, high);
	const triples = (list: Float64Array | Uint32Array): number[][] =>
		Array.from({ length: list.length / 3 }, (_, i) => [...list.subarray(3 * i, 3 * i + 3)]);
	const points = triples(positions);
	const faces = triples(triangles);
	return { points, faces: inward ? faces.map(([a, b, c]) => [a, c, b]) : faces };
}

export function together(...parts: Draft[]): Draft {
	const points: number[][] = [];
	const faces: number[][] = [];
	for (const part of parts) {
		const offset = points.length;
		points.push(...part.points);
		faces.push(...part.faces.map((f) => f.map((v) => v + offset)));
	}
	return { points, faces };
}

/** n sections of m corners each, facing outwards. */
export function torus(n: number, m: number, big: number, small: number): TriangleMesh {
	const points: number[][] = [];
	const faces: number[][] = [];
	for (let i = 0; i < n; i++)
		for (let j = 0; j < m; j++) {
			const [u, v] = [(2 * Math.PI * i) / n, (2 * Math.PI * j) / m];
			const r = big + small * Math.cos(v);
			points.push([r * Math.cos(u), r * Math.sin(u), small * Math.sin(v)]);
			const [a, b] = [i * m + j, ((i + 1) % n) * m + j];
			const [c, d] = [((i + 1) % n) * m + ((j + 1) % m), i * m + ((j + 1) % m)];
			faces.push([a, b, c], [a, c, d]);
		}
	return meshFrom({ points, faces });
}

const turn = (f: number[]): number[] => [f[0], f[2], f[1]];

/** A heap of cubes, a box with or without a hollow, or both, damaged in up to six ways. */
export function brokenMesh(seed: number): TriangleMesh {
	const random = seededRandom(seed);
	const figure = squareFigure(seed, 3 + random.below(12));
	// Shaken a little, so that nothing lies exactly over anything else.
	const shake = (x: number): number => x + 0.5 * (random.next() - 0.5);
	const heap: Draft = { points: figure.points.map((p) => p.map(shake)), faces: trianglesOf(figure) };
	const parts = [heap];
	if (random.below(2) === 0) parts.push(box([200, 0, 0], [300, 100, 100], random.below(3) === 0));
	if (parts.length === 2 && random.below(2) === 0) parts.push(box([220, 20, 20], [260, 60, 60], random.below(3) > 0));
	if (random.below(4) === 0) parts.push(box([400, 1, 2], [440, 47, 33], random.below(2) === 0));
	const draft = together(...parts);
	for (let n = random.below(7); n > 0; n--) damage(draft, random);
	return meshFrom(draft);
}

function damage(draft: Draft, random: Random): void {
	const { points, faces } = draft;
	const some = (): number => random.below(faces.length);
	const times = 1 + random.below(5);
	switch (random.below(8)) {
		case 0:
			for (let i = 0; i < times && faces.length > 2; i++) faces.splice(some(), 1);
			break;
		case 1:
			for (let i = 0; i < times; i++) faces.splice(some(), 0, [...faces[some()]]);
			break;
		case 2:
			for (let i = 0; i < times; i++) faces.push(turn(faces[some()]));
			break;
		case 3:
			for (let i = 0; i < times; i++) {
				const t = some();
				faces[t] = turn(faces[t]);
			}
			break;
		case 4: {
			// A fin: a third triangle on an edge.
			const f = faces[some()];
			points.push([random.below(100), random.below(100), 500 + random.below(100)]);
			faces.push([f[0], f[1], points.length - 1]);
			break;
		}
		case 5: {
			const f = faces[some()];
			faces.push([f[0], f[1], f[0]], [f[2], f[2], f[2]]);
			break;
		}
		case 6: {
			// Three corners in a line along an edge.
			const f = faces[some()];
			points.push([0, 1, 2].map((k) => (points[f[0]][k] + points[f[1]][k]) / 2));
			faces.push([f[0], points.length - 1, f[1]]);
			break;
		}
		default: {
			// A whole stretch faces the other way.
			const from = some();
			for (let t = from; t < Math.min(faces.length, from + 40); t++) faces[t] = turn(faces[t]);
		}
	}
}
