import { describe, expect, test } from "vitest";
import { diffuse, prepareDiffusion } from "../../../core/curvature/diffusion.ts";
import { finish } from "../../../core/job.ts";
import { seededRandom } from "../../../core/random.ts";
import { buildAdjacency } from "../../../core/surface/adjacency.ts";
import { vertexAreas, vertexNormals } from "../../../core/surface/vertexNormals.ts";
import { flat, sphere } from "../../support/shapes.ts";

/**
 * A square of two triangles with a third standing on its diagonal:
 *
 *   3 ── 2
 *   │  ╱ │      4 stands over the diagonal 0–2
 *   0 ── 1
 */
const fin = {
	positions: new Float64Array([0, 0, 0, 1, 0, 0, 1, 1, 0, 0, 1, 0, 0.5, 0.5, 1]),
	triangles: new Uint32Array([0, 1, 2, 0, 2, 3, 0, 2, 4]),
};
const row = (start: Uint32Array, list: Uint32Array, v: number): number[] => [...list.slice(start[v], start[v + 1])];

describe("adjacency", () => {
	const a = buildAdjacency(fin);
	test("names the triangles and the neighbours of each vertex once", () => {
		expect(row(a.triangleStart, a.triangleList, 0)).toEqual([0, 1, 2]);
		expect(row(a.triangleStart, a.triangleList, 1)).toEqual([0]);
		expect(row(a.neighbourStart, a.neighbourList, 0).sort()).toEqual([1, 2, 3, 4]);
		expect(row(a.neighbourStart, a.neighbourList, 4).sort()).toEqual([0, 2]);
	});
	test("an edge of one triangle is a rim, one of three is not", () => {
		expect([...a.onRim]).toEqual([1, 1, 1, 1, 1]);
		const closed = {
			positions: fin.positions.slice(0, 12),
			triangles: new Uint32Array([0, 2, 1, 0, 1, 3, 1, 2, 3, 0, 3, 2]),
		};
		expect([...buildAdjacency(closed).onRim]).toEqual([0, 0, 0, 0]);
	});
	test("agrees with the slow twin on a seeded tangle of triangles, doubled and degenerate ones among them (seed 5)", () => {
		const random = seededRandom(5);
		const n = 40;
		const triangles = Uint32Array.from({ length: 300 }, () => random.below(n));
		const b = buildAdjacency({ positions: new Float64Array(3 * n), triangles });
		for (let v = 0; v < n; v++) {
			const neighbours = new Map<number, number>();
			const around = new Set<number>();
			for (let t = 0; t < 100; t++) {
				const corners = [...triangles.slice(3 * t, 3 * t + 3)];
				if (!corners.includes(v)) continue;
				around.add(t);
				for (const w of corners)
					if (w !== v) neighbours.set(w, (neighbours.get(w) ?? 0) + corners.filter((c) => c === v).length);
			}
			expect(new Set(row(b.triangleStart, b.triangleList, v))).toEqual(around);
			expect(row(b.neighbourStart, b.neighbourList, v).sort((x, y) => x - y)).toEqual(
				[...neighbours.keys()].sort((x, y) => x - y),
			);
			expect(b.onRim[v]).toBe([...neighbours.values()].includes(1) ? 1 : 0);
		}
	});
});

describe("normals and areas", () => {
	test("normals are exact on a sphere, whatever the triangles (Max 1999)", () => {
		const shape = sphere(10, { edge: 2.5 });
		const normals = vertexNormals(shape.mesh);
		for (let i = 0; i < normals.length; i++) expect(normals[i]).toBeCloseTo(shape.normals[i], 10);
	});
	test("areas add up to the area of the mesh", () => {
		expect(vertexAreas(fin).reduce((x, y) => x + y, 0)).toBeCloseTo(1 + Math.SQRT2 / 2, 12);
		// A sphere's mesh approaches 4πR² from below.
		const area = vertexAreas(sphere(10, { edge: 0.7 }).mesh).reduce((x, y) => x + y, 0);
		expect(area / (400 * Math.PI)).toBeGreaterThan(0.998);
		expect(area / (400 * Math.PI)).toBeLessThan(1);
	});
});

test.each([0.4, 0.8, 1.6])("averaging spreads a peak into a Gaussian of the width asked, at edges of %s mm", (edge) => {
	const shape = flat(40, { edge, seed: 2 });
	const adjacency = buildAdjacency(shape.mesh);
	const areas = vertexAreas(shape.mesh);
	const p = shape.mesh.positions;
	const width = 2.4;
	// A narrow Gaussian of width 1.2 in, one of √(1.2² + 2.4²) out.
	const values = Float32Array.from(areas, (_, v) => Math.exp(-(p[3 * v] ** 2 + p[3 * v + 1] ** 2) / (2 * 1.2 ** 2)));
	const before = values.reduce((sum, x, v) => sum + areas[v] * x, 0);
	finish(diffuse(prepareDiffusion(shape.mesh, adjacency, areas), values, 1, width, ""));
	let [sum, squares] = [0, 0];
	for (let v = 0; v < values.length; v++) {
		sum += areas[v] * values[v];
		squares += areas[v] * values[v] * (p[3 * v] ** 2 + p[3 * v + 1] ** 2);
	}
	expect(sum / before).toBeCloseTo(1, 1);
	expect(Math.sqrt(squares / sum / 2)).toBeCloseTo(Math.sqrt(1.2 ** 2 + width ** 2), 0);
});
