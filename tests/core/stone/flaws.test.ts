import { describe, expect, test } from "vitest";
import { finish } from "../../../core/job.ts";
import { seededRandom } from "../../../core/random.ts";
import { Refusal } from "../../../core/refusal.ts";
import type { TriangleMesh } from "../../../core/scan/mesh.ts";
import { stoneOf } from "../../../core/stone/block.ts";
import { type FitOptions, fitBlock } from "../../../core/stone/fitBlock.ts";
import { fitClearOf } from "../../../core/stone/fitStone.ts";
import { flawInModel, flawThrough, fromFlaw, sectionsOf } from "../../../core/stone/flaws.ts";
import { IDENTITY, rotationFromQuaternion, turn, type Vec3 } from "../../../core/vector.ts";
import { cuboid, ellipsoid, hullOf } from "./shapes.ts";

const meshOf = (points: readonly Vec3[]): TriangleMesh => {
	const { vertices, triangles } = hullOf(points);
	return { positions: vertices, triangles };
};

/** Both meshes as one; the second turned inside out when `hole`. */
function joined(a: TriangleMesh, b: TriangleMesh, hole = false): TriangleMesh {
	const more = [...b.triangles].map((v) => v + a.positions.length / 3);
	if (hole) for (let i = 0; i < more.length; i += 3) [more[i], more[i + 1]] = [more[i + 1], more[i]];
	return {
		positions: Float64Array.from([...a.positions, ...b.positions]),
		triangles: Uint32Array.from([...a.triangles, ...more]),
	};
}

const moved = (points: readonly Vec3[], by: Vec3): Vec3[] =>
	points.map(([x, y, z]) => [x + by[0], y + by[1], z + by[2]]);

describe("sections of a figure with a plane", () => {
	test("a cuboid across and askew, in closed form", () => {
		const mesh = meshOf(cuboid(120, 80, 50));
		const across = finish(sectionsOf(mesh, [1, 0, 0], 30));
		expect(across.map((s) => s.area)).toHaveLength(1);
		expect(across[0].area).toBeCloseTo(80 * 50, 9);
		expect(across[0].middle.map((x) => Math.round(x * 1e6) / 1e6)).toEqual([30, 40, 25]);
		// x = z: a rectangle of 80 × 50 √2.
		const askew = finish(sectionsOf(mesh, [Math.SQRT1_2, 0, -Math.SQRT1_2], 0));
		expect(askew[0].area).toBeCloseTo(80 * 50 * Math.SQRT2, 6);
		expect(finish(sectionsOf(mesh, [1, 0, 0], 130))).toEqual([]);
	});

	test("sections sum up to the volume, whichever way the figure is turned (Cavalieri)", () => {
		const points = ellipsoid(seededRandom(3), 300, 60, 45, 30);
		const hull = hullOf(points);
		const n = turn(rotationFromQuaternion([0.3, -0.2, 0.5, 0.7]), [0, 0, 1]);
		const mesh: TriangleMesh = { positions: hull.vertices, triangles: hull.triangles };
		let volume = 0;
		for (let z = -70; z < 70; z += 0.25)
			volume += 0.25 * finish(sectionsOf(mesh, n, z + 0.125)).reduce((sum, s) => sum + (s.area as number), 0);
		expect(volume / hull.volume).toBeCloseTo(1, 3);
	});

	test("two parts are told apart, and a hollow comes off the part around it", () => {
		const two = joined(meshOf(cuboid(100, 100, 100)), meshOf(moved(cuboid(20, 20, 100), [200, 0, 0])));
		expect(finish(sectionsOf(two, [0, 0, 1], 50)).map((s) => Math.round(s.area as number))).toEqual([10000, 400]);
		const hollow = joined(two, meshOf(moved(cuboid(40, 40, 40), [30, 30, 30])), true);
		expect(finish(sectionsOf(hollow, [0, 0, 1], 50)).map((s) => Math.round(s.area as number))).toEqual([8400, 400]);
	});

	test("outward normals along the outline; an open shell has no area there", () => {
		const mesh = meshOf(cuboid(100, 100, 100));
		for (const { position, normal } of finish(sectionsOf(mesh, [0, 0, 1], 50))[0].outline) {
			expect(normal[2]).toBeCloseTo(0, 12);
			expect(normal[0] * (position[0] - 50) + normal[1] * (position[1] - 50)).toBeGreaterThan(0);
		}
		const open = { ...mesh, triangles: mesh.triangles.filter((_, i) => i >= 3) };
		const cut = [0, 1, 2].map((k) => finish(sectionsOf(open, [k === 0 ? 1 : 0, k === 1 ? 1 : 0, k === 2 ? 1 : 0], 50)));
		expect(cut.flat().some((s) => s.area === null)).toBe(true);
	});
});

describe("flaws and what is to be kept sound", () => {
	test("by three places; distances in the placement, counted off", () => {
		const flaw = flawThrough(
			"vein",
			[
				[0, 0, 40],
				[100, 0, 40],
				[0, 100, 40],
			],
			4,
		);
		expect(flaw.normal.map(Math.abs)).toEqual([0, 0, 1]);
		const placement = { rotation: IDENTITY, translation: [5, 6, 10] as Vec3 };
		expect(fromFlaw(flaw, placement, [0, 0, 50])).toBeCloseTo(18, 12);
		expect(fromFlaw(flaw, placement, [0, 0, 31])).toBeCloseTo(-1, 12);
		const there = flawInModel(flaw, placement);
		expect(Math.abs(there.offset)).toBeCloseTo(30, 12);
		expect(() =>
			flawThrough(
				"line",
				[
					[0, 0, 0],
					[1, 1, 1],
					[2, 2, 2],
				],
				1,
			),
		).toThrow(Refusal);
	});

	const hull = hullOf(cuboid(100, 100, 200));
	const block = stoneOf({ kind: "box", size: [160, 160, 300] });
	const sound: Vec3[] = [
		[50, 50, 60],
		[50, 50, 140],
	];
	const clearIn = (options: FitOptions, within: number, at: number) => {
		const flaw = flawThrough(
			"vein",
			[
				[0, 0, at],
				[100, 0, at],
				[0, 100, at],
			],
			2,
		);
		const best = finish(fitBlock(hull, [160, 160, 300], options));
		return { best, flaw, clear: finish(fitClearOf(hull, block, [flaw], sound, within, options, best)) };
	};

	test("as it stands the best place is found for certain: moved just far enough along the vein's normal", () => {
		// In the middle the figure stands from 50 to 250; the places lie at 110 and 190, the vein at 115.
		const options: FitOptions = { turning: { kind: "fixed", rotation: IDENTITY } };
		const { best, flaw, clear } = clearIn(options, 10, 115);
		expect(fromFlaw(flaw, best.placement, sound[0])).toBeCloseTo(4, 9);
		// Up by 16 puts the first place at 126; 34 mm are left above, and the sides still hold the answer at 30.
		expect(clear?.spare).toBeCloseTo(30, 6);
		for (const at of sound) expect(fromFlaw(flaw, clear!.placement, at)).toBeGreaterThanOrEqual(10 - 1e-6);
		const tight = clearIn(options, 30, 150);
		// 39 mm of stone above or below the vein to each place: both sides of it are 80 apart.
		expect(tight.clear?.spare).toBeCloseTo(30, 6);
		expect(clearIn(options, 45, 150).clear?.spare).toBeLessThan(30);
	});

	test("turned, every place keeps its distance, nothing beats the bound, and the answer is the same each time", () => {
		const random = seededRandom(19);
		const figure = hullOf(ellipsoid(random, 200, 60, 50, 110));
		const stone = stoneOf({ kind: "box", size: [200, 190, 290] });
		const places: Vec3[] = [
			[40, 0, 0],
			[0, 0, 90],
			[0, 30, -60],
		];
		const flaws = [
			flawThrough(
				"vein",
				[
					[0, 0, 100],
					[200, 0, 150],
					[0, 190, 120],
				],
				3,
			),
			flawThrough(
				"crack",
				[
					[60, 0, 0],
					[70, 190, 0],
					[65, 0, 290],
				],
				1,
			),
		];
		for (const turning of [{ kind: "upright" }, { kind: "free" }] as const) {
			const best = finish(fitBlock(figure, [200, 190, 290], { turning }));
			const run = () => finish(fitClearOf(figure, stone, flaws, places, 8, { turning }, best));
			const clear = run();
			expect(clear).not.toBeNull();
			expect(clear!.spare).toBeLessThanOrEqual(best.bound);
			expect(clear!.spare).toBeGreaterThan(0);
			for (const flaw of flaws)
				for (const at of places) expect(fromFlaw(flaw, clear!.placement, at)).toBeGreaterThanOrEqual(8 - 1e-6);
			if (turning.kind === "upright") expect(clear!.placement.rotation.slice(6).map(Math.abs)).toEqual([0, 0, 1]);
			expect(JSON.stringify(run())).toBe(JSON.stringify(clear));
		}
	});

	test("where no placement in the stone keeps it clear there is none that fits", () => {
		const options: FitOptions = { turning: { kind: "fixed", rotation: IDENTITY } };
		const { clear } = clearIn(options, 100, 150);
		expect(clear === null || !clear.fits).toBe(true);
	});
});
