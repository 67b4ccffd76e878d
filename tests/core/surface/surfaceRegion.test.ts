import { describe, expect, it } from "vitest";
import { principalCurvatures } from "../../../core/curvature/principalCurvatures.ts";
import { finish } from "../../../core/job.ts";
import { seededRandom } from "../../../core/random.ts";
import type { TriangleMesh } from "../../../core/scan/mesh.ts";
import { buildAdjacency } from "../../../core/surface/adjacency.ts";
import { buildSurfaceIndex } from "../../../core/surface/surfaceIndex.ts";
import { type SurfaceStroke, surfaceRegion, vertexShares } from "../../../core/surface/surfaceRegion.ts";
import { vertexAreas } from "../../../core/surface/vertexNormals.ts";
import type { Vec3 } from "../../../core/vector.ts";
import { demoModel, seedNames } from "../../support/demoPlans.ts";
import { box } from "../../support/groundMesh.ts";
import { sphere } from "../../support/shapes.ts";
import { bruteRegionArea } from "./bruteRegion.ts";

const FLAT = { k1: new Float64Array(1e6), k2: new Float64Array(1e6) };

const regionOn = (mesh: TriangleMesh, strokes: readonly SurfaceStroke[], bent = FLAT) =>
	finish(surfaceRegion(finish(buildSurfaceIndex(mesh)), buildAdjacency(mesh), bent, strokes));

const brush = (at: Vec3, radius: number, adds = true): SurfaceStroke => ({ at, radius, crease: null, adds });

describe("a brushed area", () => {
	// Archimedes: the part of a sphere within a straight distance r of one of its places has the area π r², whatever the sphere.
	it.each([5, 20, 45, 70, 110])("is the cap of a sphere of 60 mm within %d mm, to half a per cent", (r) => {
		const { mesh } = sphere(60, { edge: 2.5 });
		const { area, lost } = regionOn(mesh, [brush([36, 0, 48], r)]);
		expect(lost).toEqual([]);
		expect(Math.abs(area / (Math.PI * r * r) - 1)).toBeLessThan(0.005);
	});

	it("has the area of two overlapping discs on a flat face, and of a ring where the later stroke takes away", () => {
		const mesh = box([0, 0, 0], [200, 200, 30]);
		const lens = (r: number, d: number): number =>
			2 * r * r * Math.acos(d / (2 * r)) - (d / 2) * Math.sqrt(4 * r * r - d * d);
		const two = regionOn(mesh, [brush([80, 100, 30], 30), brush([110, 100, 30], 30)]).area;
		expect(Math.abs(two / (2 * Math.PI * 900 - lens(30, 30)) - 1)).toBeLessThan(0.005);
		const ring = regionOn(mesh, [brush([100, 100, 30], 40), brush([100, 100, 30], 20, false)]).area;
		expect(Math.abs(ring / (Math.PI * 1200) - 1)).toBeLessThan(0.005);
		// Taken away first, added after: the order is the carver's.
		const whole = regionOn(mesh, [brush([100, 100, 30], 20, false), brush([100, 100, 30], 40)]).area;
		expect(Math.abs(whole / (Math.PI * 1600) - 1)).toBeLessThan(0.005);
	});

	it("does not jump to a wall behind that is joined only far away", () => {
		const mesh = box([0, 0, 0], [200, 200, 4]);
		expect(Math.abs(regionOn(mesh, [brush([100, 100, 4], 30)]).area / (Math.PI * 900) - 1)).toBeLessThan(0.005);
	});

	it("turns and moves with the surface", () => {
		const mesh = sphere(60, { edge: 4 }).mesh;
		const moved: TriangleMesh = {
			triangles: mesh.triangles,
			positions: mesh.positions.map(
				(_, i) => [-mesh.positions[i + 1], mesh.positions[i - 1], mesh.positions[i]][i % 3] + 500,
			),
		};
		const here = regionOn(mesh, [brush([60, 0, 0], 25)]).area;
		expect(regionOn(moved, [brush([500, 560, 500], 25)]).area).toBeCloseTo(here, 6);
	});

	it("names strokes that have lost their surface", () => {
		expect(regionOn(box([0, 0, 0], [10, 10, 10]), [brush([5, 5, 14], 3)])).toMatchObject({ lost: [0], area: 0 });
	});
});

describe("a filled area", () => {
	it("ends at the creases of a box of twelve triangles", () => {
		const mesh = box([0, 0, 0], [120, 80, 30]);
		const bent = { k1: new Float64Array(8).fill(1), k2: new Float64Array(8) };
		const face = regionOn(mesh, [{ at: [30, 30, 30], radius: null, crease: 5, adds: true }], bent);
		expect(face.area).toBeCloseTo(120 * 80, 9);
		expect(regionOn(mesh, [{ at: [30, 30, 30], radius: null, crease: 0.5, adds: true }], bent).area).toBeCloseTo(
			2 * (120 * 80 + 120 * 30 + 80 * 30),
			9,
		);
	});
});

describe.each(seedNames)("areas on the %s", (name) => {
	const { mesh } = demoModel(name);
	const adjacency = buildAdjacency(mesh);
	const index = finish(buildSurfaceIndex(mesh));
	const field = finish(principalCurvatures(mesh, adjacency, 3));
	const random = seededRandom(7);
	const onSurface = (): Vec3 => {
		const v = 3 * Math.floor(random.next() * (mesh.positions.length / 3));
		return [mesh.positions[v], mesh.positions[v + 1], mesh.positions[v + 2]];
	};
	const strokes: SurfaceStroke[] = [12, 25, 8, 40, 18].map((radius, i) => ({
		at: onSurface(),
		radius,
		crease: null,
		adds: i !== 2,
	}));

	it("agree with brute force to 0.5 % (seed 7)", () => {
		const { area, shares } = finish(surfaceRegion(index, adjacency, field, strokes));
		const brute = bruteRegionArea(mesh, strokes);
		expect(Math.abs(area / brute - 1)).toBeLessThan(0.005);
		// Read at the vertices, it is the same ground.
		const at = vertexShares(adjacency, shares);
		const areas = vertexAreas(mesh);
		const read = at.reduce((sum, share, v) => sum + share * areas[v], 0);
		expect(Math.abs(read / area - 1)).toBeLessThan(0.02);
	});

	it("filled to the creases holds no tightly bent ground within, and is part of the shell", () => {
		const at = onSurface();
		const { area, shares } = finish(
			surfaceRegion(index, adjacency, field, [{ at, radius: null, crease: 6, adds: true }]),
		);
		const all = finish(surfaceRegion(index, adjacency, field, [{ at, radius: null, crease: null, adds: true }]));
		expect(area).toBeGreaterThan(0);
		expect(area).toBeLessThanOrEqual(all.area * (1 + 1e-12));
		// A triangle all of whose corners are creased is entered only across one plane.
		const creased = (v: number): boolean => Math.max(field.k1[v], -field.k2[v]) > 1 / 6;
		let bad = 0;
		for (let t = 0; t < shares.length; t++)
			if (shares[t] > 0 && [0, 1, 2].every((k) => creased(mesh.triangles[3 * t + k]))) bad += shares[t];
		expect(bad).toBeLessThanOrEqual(1);
	});
});
