import { describe, expect, test } from "vitest";
import { finish } from "../../../core/job.ts";
import { type Random, seededRandom } from "../../../core/random.ts";
import type { TriangleMesh } from "../../../core/scan/mesh.ts";
import { depthAt, depthGrid } from "../../../core/surface/depthGrid.ts";
import { isInside } from "../../../core/surface/insideness.ts";
import { surfaceGap } from "../../../core/surface/surfaceGap.ts";
import { buildSurfaceIndex, type SurfaceIndex } from "../../../core/surface/surfaceIndex.ts";
import { add, distance, rotationFromQuaternion, turn, type Vec3 } from "../../../core/vector.ts";
import { box } from "../../support/groundMesh.ts";

const index = (mesh: TriangleMesh): SurfaceIndex => finish(buildSurfaceIndex(mesh));

/** A ball of facets, its corners on the sphere. */
function ball(radius: number, middle: Vec3, around = 24): TriangleMesh {
	const positions: number[] = [];
	const triangles: number[] = [];
	const rings = around / 2;
	for (let i = 0; i <= rings; i++) {
		for (let j = 0; j < around; j++) {
			const [a, b] = [(Math.PI * i) / rings, (2 * Math.PI * j) / around];
			const d = [Math.sin(a) * Math.cos(b), Math.sin(a) * Math.sin(b), Math.cos(a)];
			positions.push(...d.map((x, k) => middle[k] + radius * x));
			if (i === rings) continue;
			const [p, q] = [i * around + j, i * around + ((j + 1) % around)];
			if (i > 0) triangles.push(p, p + around, q);
			if (i < rings - 1) triangles.push(q, p + around, q + around);
		}
	}
	return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}

function triangleSoup(random: Random, count: number, middle: Vec3, spread: number): TriangleMesh {
	const positions = Float64Array.from({ length: 9 * count }, (_, i) => middle[i % 3] + spread * random.normal());
	return { positions, triangles: Uint32Array.from({ length: 3 * count }, (_, i) => i) };
}

/** The slow twin: either triangle sampled densely, each sample to the other surface's closest place. */
function sampledGap(a: TriangleMesh, b: TriangleMesh, steps: number): number {
	let least = Infinity;
	for (const [of, to] of [
		[a, index(b)],
		[b, index(a)],
	] as const) {
		for (let t = 0; t < of.triangles.length; t += 3) {
			const [p, q, r] = [0, 1, 2].map((i) => {
				const at = 3 * of.triangles[t + i];
				return [of.positions[at], of.positions[at + 1], of.positions[at + 2]];
			});
			for (let i = 0; i <= steps; i++) {
				for (let j = 0; i + j <= steps; j++) {
					const at = p.map((x, k) => x + ((q[k] - x) * i) / steps + ((r[k] - x) * j) / steps);
					least = Math.min(least, to.closestPoint(at as unknown as Vec3)!.distance);
				}
			}
		}
	}
	return least;
}

describe("the gap between two surfaces", () => {
	test("two cubes corner to edge, counted off", () => {
		const cube = (at: Vec3): TriangleMesh => box(at, add(at, [1, 1, 1]));
		const gap = finish(surfaceGap(index(cube([0, 0, 0])), index(cube([4, 5, 0]))))!;
		expect(gap.distance).toBeCloseTo(5, 12);
		expect(gap.onFirst.slice(0, 2)).toEqual([1, 1]);
		expect(gap.onSecond.slice(0, 2)).toEqual([4, 5]);
		expect(finish(surfaceGap(index(cube([0, 0, 0])), index(cube([0.5, 0.5, 0.5]))))!.distance).toBe(0);
		expect(finish(surfaceGap(index(cube([0, 0, 0])), index(cube([4, 5, 0])), 4))).toBeNull();
	});

	test("seeded triangles agree with dense samples, from above and nearly from below", () => {
		const random = seededRandom(31);
		let met = 0;
		for (let n = 0; n < 12; n++) {
			const a = triangleSoup(random, 6, [0, 0, 0], 4);
			const b = triangleSoup(random, 6, [7 + 5 * random.next(), 0, 0], 4);
			const gap = finish(surfaceGap(index(a), index(b)))!;
			const twin = sampledGap(a, b, 60);
			expect(gap.distance).toBeLessThanOrEqual(twin + 1e-9);
			if (gap.distance === 0) {
				met++;
				expect(twin).toBeLessThan(0.5);
			} else {
				expect(gap.distance).toBeCloseTo(distance(gap.onFirst, gap.onSecond), 9);
				expect(twin - gap.distance).toBeLessThan(0.3);
			}
		}
		expect(met).toBeGreaterThan(0);
	});

	test("a ball in a ball and a ball beside one, turned: no more than the facets' sag from the closed form", () => {
		const sag = 50 * (1 - Math.cos(Math.PI / 24));
		const r = rotationFromQuaternion([0.2, -0.5, 0.1, 0.8]);
		for (const [middle, radius, expected] of [
			[[10, 5, -4], 20, 50 - 20 - Math.hypot(10, 5, 4)],
			[[90, 0, 30], 20, Math.hypot(90, 30) - 70],
		] as [Vec3, number, number][]) {
			const gap = finish(surfaceGap(index(ball(50, [0, 0, 0])), index(ball(radius, turn(r, middle)))))!;
			expect(Math.abs(gap.distance - expected)).toBeLessThan(2 * sag);
		}
	});
});

describe("inside and how deep", () => {
	test("a ball: seeded places inside and outside, depths by the grid within a tenth of a cell", () => {
		const surface = index(ball(50, [3, 4, 5], 48));
		const grid = finish(depthGrid(surface));
		const random = seededRandom(8);
		const at = new Float64Array(4);
		for (let n = 0; n < 400; n++) {
			const place: Vec3 = [3 + 34 * random.normal(), 4 + 34 * random.normal(), 5 + 34 * random.normal()];
			const deep = 50 - distance(place, [3, 4, 5]);
			if (Math.abs(deep) > 0.3) expect(isInside(surface, place, 100)).toBe(deep > 0);
			depthAt(grid, place[0], place[1], place[2], at);
			// Near the middle of the ball the depth has a ridge, which no grid holds; far outside the grid ends.
			if (deep < 40 && deep > -5) expect(Math.abs(at[0] - deep)).toBeLessThan(0.25 * grid.step);
		}
	});
});
