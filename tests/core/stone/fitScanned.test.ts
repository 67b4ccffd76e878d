import { describe, expect, test } from "vitest";
import { finish } from "../../../core/job.ts";
import { seededRandom } from "../../../core/random.ts";
import type { Refusal } from "../../../core/refusal.ts";
import type { TriangleMesh } from "../../../core/scan/mesh.ts";
import { stoneOf } from "../../../core/stone/block.ts";
import type { FitOptions } from "../../../core/stone/fitBlock.ts";
import { fitScanned, type ScannedFit } from "../../../core/stone/fitScanned.ts";
import { fitStone } from "../../../core/stone/fitStone.ts";
import { convexHull } from "../../../core/stone/hull.ts";
import { polyhedronAround, type ScannedStone, scannedStone } from "../../../core/stone/scannedStone.ts";
import { place, rotationFromQuaternion, turn, type Vec3 } from "../../../core/vector.ts";
import { cloud, ellipsoid, hullOf, prism } from "./shapes.ts";

/** A right prism over an L: two arms of length `a` and width `w`, from z = 0, cut into small triangles `times` times. */
function ell(a: number, w: number, height: number, times = 0): TriangleMesh {
	const outline: [number, number][] = [
		[0, 0],
		[a, 0],
		[a, w],
		[w, w],
		[w, a],
		[0, a],
	];
	const n = outline.length;
	const triangles: number[] = [];
	for (const [p, q, r] of [
		[0, 1, 2],
		[0, 2, 3],
		[0, 3, 5],
		[3, 4, 5],
	])
		triangles.push(n + p, n + q, n + r, p, r, q);
	for (let i = 0; i < n; i++) {
		const j = (i + 1) % n;
		triangles.push(i, j, n + j, i, n + j, n + i);
	}
	const positions = [...outline.map(([x, y]) => [x, y, 0]), ...outline.map(([x, y]) => [x, y, height])].flat();
	let mesh: TriangleMesh = { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
	for (let k = 0; k < times; k++) mesh = halved(mesh);
	return mesh;
}

/** Every triangle cut into four at the middles of its edges. */
function halved({ positions, triangles }: TriangleMesh): TriangleMesh {
	const places = [...positions];
	const middles = new Map<string, number>();
	const middle = (a: number, b: number): number => {
		const key = a < b ? `${a},${b}` : `${b},${a}`;
		const known = middles.get(key);
		if (known !== undefined) return known;
		for (let k = 0; k < 3; k++) places.push((places[3 * a + k] + places[3 * b + k]) / 2);
		middles.set(key, places.length / 3 - 1);
		return places.length / 3 - 1;
	};
	const cut: number[] = [];
	for (let t = 0; t < triangles.length; t += 3) {
		const [a, b, c] = triangles.subarray(t, t + 3);
		const [ab, bc, ca] = [middle(a, b), middle(b, c), middle(c, a)];
		cut.push(a, ab, ca, b, bc, ab, c, ca, bc, ab, bc, ca);
	}
	return { positions: Float64Array.from(places), triangles: Uint32Array.from(cut) };
}

const turnedMesh = (mesh: TriangleMesh, q: readonly [number, number, number, number]): TriangleMesh => {
	const r = rotationFromQuaternion(q);
	const positions = new Float64Array(mesh.positions.length);
	for (let i = 0; i < positions.length; i += 3)
		positions.set(turn(r, [mesh.positions[i], mesh.positions[i + 1], mesh.positions[i + 2]]), i);
	return { ...mesh, positions };
};

const fit = (figure: TriangleMesh, stone: ScannedStone, options?: FitOptions): ScannedFit =>
	finish(fitScanned(figure, finish(convexHull(figure.positions)), stone, options));

// An L of 400 × 400 with arms of 150, 200 high.
const stone = finish(scannedStone(ell(400, 150, 200), 1, "ell.stl"));

/** How far a place lies within the L, by its seven planes: negative outside. */
function within([x, y, z]: Vec3): number {
	const outer = Math.min(x, y, z, 400 - x, 400 - y, 200 - z);
	const [dx, dy] = [x - 150, y - 150];
	const notch = dx > 0 && dy > 0 ? -Math.min(dx, dy) : Math.hypot(Math.max(-dx, 0), Math.max(-dy, 0));
	return Math.min(outer, notch);
}

function expectCountedOff(found: ScannedFit, figure: TriangleMesh): void {
	let least = Infinity;
	for (let i = 0; i < figure.positions.length; i += 3) {
		const at: Vec3 = [figure.positions[i], figure.positions[i + 1], figure.positions[i + 2]];
		least = Math.min(least, within(place(found.placement, at)));
	}
	// Between the figure's corners its edges may come a little nearer to the stone's inner arris.
	expect(found.clearance).toBeLessThanOrEqual(least + 1e-6);
	expect(found.clearance).toBeGreaterThan(least - 2);
	expect(found.bound).toBeGreaterThanOrEqual(found.spare);
}

describe("a scanned stone", () => {
	test("an L has seven faces around it and nearly a quarter of air, counted off", () => {
		expect(stone.stone.faces.length).toBe(7);
		expect(stone.over).toBeLessThan(1e-9);
		// Hull: the square less half of the square of 250 that is cut off the corner.
		expect(stone.hollow).toBeCloseTo(1 - (2 * 400 * 150 - 150 * 150) / (400 * 400 - (250 * 250) / 2), 9);
		expect(stone.volume).toBeCloseTo((2 * 400 * 150 - 150 * 150) * 200, 3);
	});

	test("a polyhedron is found again by its faces; a round stone gets few faces that hold it", () => {
		const hexagon = Array.from({ length: 6 }, (_, i): [number, number] => {
			const angle = (Math.PI * i) / 3 + 0.2;
			return [100 * Math.cos(angle), 100 * Math.sin(angle)];
		});
		const around = finish(polyhedronAround(hullOf(prism(hexagon, 80))));
		expect(around.stone.faces.length).toBe(8);
		expect(around.over).toBeLessThan(1e-9);
		const round = hullOf(ellipsoid(seededRandom(4), 800, 200, 150, 120));
		const held = finish(polyhedronAround(round));
		expect(held.stone.faces.length).toBeLessThanOrEqual(33);
		for (let i = 0; i < round.vertices.length; i += 3)
			for (const { normal, offset } of held.stone.faces)
				expect(
					normal[0] * round.vertices[i] + normal[1] * round.vertices[i + 1] + normal[2] * round.vertices[i + 2],
				).toBeLessThanOrEqual(offset + 1e-9);
		expect(held.over).toBeLessThan(30);
		expect(held.stone.volume).toBeGreaterThan(round.volume);
	});

	test("a smaller L fits as it lies or turned anyhow, proved, because the hull cannot do better", () => {
		for (const q of [
			[0, 0, 0, 1],
			[0.3, 0.5, -0.2, 0.7],
		] as const) {
			const figure = turnedMesh(ell(380, 130, 180, 4), q);
			const found = fit(figure, stone);
			expect(found.clearance).toBeCloseTo(10, 4);
			expect(found.certified).toBe(true);
			expectCountedOff(found, figure);
		}
	});

	test("a ball rests where its middle is as far from the walls as from the inner arris; the bound is the hull's", () => {
		const points = ellipsoid(seededRandom(1), 600, 60, 60, 60);
		const { vertices, triangles } = hullOf(points);
		const figure: TriangleMesh = { positions: vertices, triangles };
		const found = fit(figure, stone);
		// c = √2 (150 − c); the facets of the ball lie up to a millimetre within it.
		const expected = (150 * Math.SQRT2) / (1 + Math.SQRT2) - 60;
		expect(found.clearance).toBeGreaterThan(expected - 0.02);
		expect(found.clearance).toBeLessThan(expected + 1.2);
		expect(found.certified).toBe(false);
		const ofHull = finish(fitStone(finish(convexHull(figure.positions)), stone.stone));
		expect(found.bound).toBe(ofHull.bound);
		expectCountedOff(found, figure);
	});

	test("upright with a margin: an L whose arms leave 5 mm spares 2 of a margin of 3", () => {
		const figure = ell(240, 140, 150, 3);
		const found = fit(figure, stone, { turning: { kind: "upright" }, otherMargin: 3 });
		expect(found.spare).toBeCloseTo(2, 3);
		expect(found.fits).toBe(true);
		expect(found.placement.rotation.slice(6)).toEqual([0, 0, 1]);
		expect(found.gaps.every((gap) => gap.margin === 3)).toBe(true);
		expectCountedOff(found, figure);
	});

	test("what the hull would take but the stone does not has no fit, and says by how much it stands out", () => {
		const figure = ell(230, 230, 150, 3);
		const found = fit(figure, stone);
		expect(found.bound).toBeGreaterThan(0);
		expect(found.fits).toBe(false);
		expect(found.clearance).toBeLessThan(-10);
	});

	test("scan noise on a convex stone: the answer on the scan is within the noise of the hull's bound", () => {
		const random = seededRandom(12);
		const { vertices, triangles } = hullOf(ellipsoid(random, 500, 200, 150, 120));
		const noisy = finish(scannedStone({ positions: vertices, triangles }, 1, "round.stl"));
		const figure = hullOf(cloud(random, 300, 40, 30, 25));
		const found = fit({ positions: figure.vertices, triangles: figure.triangles }, noisy);
		expect(found.clearance).toBeGreaterThan(0);
		expect(found.bound - found.clearance).toBeLessThan(noisy.over + 0.2);
		const again = fit({ positions: figure.vertices, triangles: figure.triangles }, noisy);
		expect(JSON.stringify(again.placement)).toBe(JSON.stringify(found.placement));
	});

	test("an open scan is refused", () => {
		const { positions, triangles } = ell(400, 150, 200);
		const open = { positions, triangles: triangles.slice(3) };
		try {
			finish(scannedStone(open, 1, "open.stl"));
			expect.unreachable();
		} catch (error) {
			expect((error as Refusal).issue).toEqual({ code: "stone.scanOpen", facts: { name: "open.stl" } });
		}
	});
});

test("the margins of an offcut's faces and a stone's planes agree with the stone of its scan", () => {
	const { vertices, triangles } = hullOf(
		prism(
			[
				[0, 0],
				[300, 0],
				[300, 200],
				[100, 260],
				[0, 200],
			],
			150,
		),
	);
	const scanned = finish(scannedStone({ positions: vertices, triangles }, 1, "prism.stl"));
	const figure = hullOf(
		prism(
			[
				[0, 0],
				[200, 0],
				[200, 120],
				[0, 120],
			],
			90,
		),
	);
	const onScan = fit({ positions: figure.vertices, triangles: figure.triangles }, scanned, { otherMargin: 4 });
	const byPlanes = finish(
		fitStone(figure, stoneOf({ kind: "planes", planes: scanned.stone.planes }), { otherMargin: 4 }),
	);
	expect(Math.abs(onScan.spare - byPlanes.spare)).toBeLessThan(0.1);
	expect(onScan.certified).toBe(true);
});
