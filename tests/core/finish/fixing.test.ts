import { describe, expect, it } from "vitest";
import { choosePin } from "../../../core/finish/choosePin.ts";
import { type FixingWishes, fixingOf, footOf } from "../../../core/finish/fixing.ts";
import { createPinGauge, type PinGauge, pinSetting } from "../../../core/finish/pinHole.ts";
import type { PinRules } from "../../../core/finish/pinRules.ts";
import type { Place2 } from "../../../core/finish/tipping.ts";
import { finish } from "../../../core/job.ts";
import { seededRandom } from "../../../core/random.ts";
import { backShell } from "../../../core/scan/backShell.ts";
import { examine } from "../../../core/scan/health.ts";
import type { TriangleMesh } from "../../../core/scan/mesh.ts";
import { convexHull } from "../../../core/stone/hull.ts";
import { buildAdjacency } from "../../../core/surface/adjacency.ts";
import { buildSurfaceIndex, type SurfaceIndex } from "../../../core/surface/surfaceIndex.ts";
import type { Vec3 } from "../../../core/vector.ts";
import { demoModel, seedNames } from "../../support/demoPlans.ts";
import { proving } from "../../support/prove.ts";
import { cone } from "./solids.ts";

const RULES: PinRules = {
	cover_mm: 25,
	thicknessShare: 1 / 3,
	depthInBars: 8,
	clearance_mm: 2,
	extra_mm: 5,
	aside: 0.5,
};
const TRIES = proving ? 20 : 1;
const FREE = { bar_mm: null, depth_mm: null, at: null };

const gaugeOf = (mesh: TriangleMesh, centre: Place2): { gauge: PinGauge; index: SurfaceIndex } => {
	const index = finish(buildSurfaceIndex(mesh));
	return { index, gauge: finish(createPinGauge(index, buildAdjacency(mesh), centre)) };
};

/** An upright box with its foot at z = 0, its sides cut into n × n cells. */
function block(x: number, y: number, z: number, n: number): TriangleMesh {
	const positions: number[] = [];
	const triangles: number[] = [];
	const known = new Map<string, number>();
	const vertex = (p: number[]): number => {
		const key = p.join();
		let at = known.get(key);
		if (at === undefined) {
			at = known.size;
			known.set(key, at);
			positions.push(p[0] * x - x / 2, p[1] * y - y / 2, p[2] * z);
		}
		return at;
	};
	const sides: ((u: number, v: number) => number[])[] = [
		(u, v) => [v, u, 0],
		(u, v) => [u, v, 1],
		(u, v) => [u, 0, v],
		(u, v) => [v, 1, u],
		(u, v) => [0, v, u],
		(u, v) => [1, u, v],
	];
	for (const side of sides)
		for (let i = 0; i < n; i++)
			for (let j = 0; j < n; j++) {
				const q = [
					[i, j],
					[i + 1, j],
					[i + 1, j + 1],
					[i, j + 1],
				].map(([u, v]) => vertex(side(u / n, v / n)));
				triangles.push(q[0], q[1], q[2], q[0], q[2], q[3]);
			}
	return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}

describe("stone round the pin", () => {
	it("is what is left of a box at its sides and over the end of the hole", () => {
		const { gauge } = gaugeOf(block(100, 80, 200, 6), [0, 0]);
		expect(gauge.mouth([0, 0])).toBeCloseTo(0, 12);
		expect(gauge.cover({ at: [0, 0], depth: 100, radius: 8 })).toBeCloseTo(32, 7);
		expect(gauge.cover({ at: [30, 10], depth: 100, radius: 8 })).toBeCloseTo(12, 7);
		expect(gauge.cover({ at: [0, 0], depth: 190, radius: 8 })).toBeCloseTo(10, 7);
		expect(gauge.cover({ at: [45, 0], depth: 100, radius: 8 })).toBe(0);
		expect(gauge.cover({ at: [60, 0], depth: 100, radius: 8 })).toBeNull();
	});

	it("of a cone is closed form: least at the end of the hole", () => {
		// A cone of radius 60, 150 high: the flank is (60(1 − z/150) − ρ)·cos α from a place, tan α = 60/150.
		const { gauge } = gaugeOf(cone(60, 150, 720).mesh, [0, 0]);
		const flank = 150 / Math.hypot(60, 150);
		for (const depth of [30, 60, 90])
			expect(gauge.cover({ at: [0, 0], depth, radius: 6 })).toBeCloseTo((60 * (1 - depth / 150) - 6) * flank, 2);
	});

	/** Least distance that rays find: level from the axis at many heights, and over the end from its rim and middle. */
	function byRays(index: SurfaceIndex, at: Place2, mouth: number, depth: number, radius: number): number {
		let least = Number.POSITIVE_INFINITY;
		const ways = proving ? 120 : 48;
		const { positions: p, triangles } = index.mesh;
		/** A hit on the foot, by which the hole enters, does not count. */
		const onFoot = (t: number, z: number): boolean => {
			const [a, b, c] = [0, 1, 2].map((k) => [0, 1, 2].map((i) => p[3 * triangles[3 * t + k] + i]));
			const [u, v] = [b.map((x, i) => x - a[i]), c.map((x, i) => x - a[i])];
			const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
			return z <= mouth + 10 && n[2] / Math.hypot(...n) <= -0.5;
		};
		const cast = (from: Vec3, way: Vec3): number => {
			const hit = index.castRay(from, way);
			return !hit || onFoot(hit.triangle, from[2] + hit.distance * way[2]) ? Number.POSITIVE_INFINITY : hit.distance;
		};
		for (let h = 0; h <= 30; h++) {
			const z = mouth + 0.02 + ((depth - 0.02) * h) / 30;
			for (let k = 0; k < ways; k++) {
				const a = (2 * Math.PI * k) / ways;
				const from: Vec3 = [at[0] + radius * Math.cos(a), at[1] + radius * Math.sin(a), z];
				for (let up = -1.5; up <= 1.5; up += 0.1)
					least = Math.min(least, cast(from, [Math.cos(a) * Math.cos(up), Math.sin(a) * Math.cos(up), Math.sin(up)]));
			}
		}
		for (let i = -4; i <= 4; i++)
			for (let j = -4; j <= 4; j++)
				if (Math.hypot(i, j) <= 4)
					least = Math.min(least, cast([at[0] + (radius * i) / 4, at[1] + (radius * j) / 4, mouth + depth], [0, 0, 1]));
		return least;
	}

	it.each(seedNames)("of the %s agrees with rays (seed 3)", (name) => {
		const model = demoModel(name);
		const mesh = model.closed ? model.mesh : finish(backShell(model.mesh, [0, 1, 0], 20)).mesh;
		const centroid = finish(examine(mesh)).centroid as Vec3;
		const centre: Place2 = [centroid[0], centroid[1]];
		const { gauge, index } = gaugeOf(mesh, centre);
		const random = seededRandom(3);
		let tried = 0;
		for (let i = 0; i < 200 && tried < TRIES; i++) {
			const at: Place2 = [centre[0] + 60 * (random.next() - 0.5), centre[1] + 60 * (random.next() - 0.5)];
			const [depth, radius] = [30 + 80 * random.next(), 3 + 6 * random.next()];
			const mouth = gauge.mouth(at);
			const cover = gauge.cover({ at, depth, radius });
			if (mouth === null || cover === null || cover === 0) continue;
			tried++;
			const rays = byRays(index, at, mouth, depth, radius);
			// Rays can only overlook: they never find less, and miss little.
			expect(rays).toBeGreaterThanOrEqual(cover - 1e-6);
			expect(rays - cover).toBeLessThan(0.02 * cover + 0.2);
		}
		expect(tried).toBe(TRIES);
	});
});

describe("a pin", () => {
	const box = block(100, 80, 200, 6);
	const ground = { gauge: gaugeOf(box, [0, 0]).gauge, centre: [0, 0] as Place2, margin: 40, height: 200 };

	it("takes the resin of its closed form", () => {
		// π/4 (18² − 16²)·128 round the bar and π/4·18²·5 under it.
		const { resin, depth } = pinSetting(16, 128, 2, 5);
		expect(depth).toBe(133);
		expect(resin).toBeCloseTo((Math.PI / 4) * (68 * 128 + 324 * 5), 9);
	});

	it("stands under the centre of mass with the bar that a memorial of its height takes", () => {
		// 16 mm up to 900 mm of height: a supplier's summary of the memorial masons' rules (2018).
		const pin = choosePin(ground, FREE, RULES);
		expect(pin).toMatchObject({ holds: true, at: [0, 0], aside: 0, reasons: [] });
		expect(pin.setting.bar_mm).toBe(16);
		expect(pin.cover).toBeCloseTo(40 - 9, 7);
	});

	it("at the rim is refused with the reason", () => {
		const at = (x: number) => choosePin(ground, { ...FREE, bar_mm: 16, at: [x, 0] }, { ...RULES, aside: 2 });
		expect(at(0).holds).toBe(true);
		expect(at(20)).toMatchObject({ holds: false, reasons: [{ code: "fixing.cover" }] });
		expect(at(38)).toMatchObject({ holds: false, cover: expect.closeTo(3, 6) });
		expect(at(38).reasons.map(({ code }) => code)).toContain("fixing.thickBar");
		expect(at(45)).toMatchObject({ holds: false, cover: 0, reasons: [{ code: "fixing.breaksOut" }] });
		expect(at(70)).toMatchObject({ holds: false, cover: null, reasons: [{ code: "fixing.noStone" }] });
		expect(choosePin(ground, { ...FREE, bar_mm: 4, at: [24, 0] }, RULES).reasons.map(({ code }) => code)).toContain(
			"fixing.aside",
		);
	});

	it("grows thinner where the stone is thin, and moves to where there is more of it", () => {
		const thin = gaugeOf(block(60, 30, 200, 6), [0, 0]).gauge;
		const pin = choosePin({ gauge: thin, centre: [0, 0], margin: 15, height: 200 }, FREE, { ...RULES, cover_mm: 10 });
		// Cover 15 − r ≥ 10, and the bar at most a third of 30 mm.
		expect(pin).toMatchObject({ holds: true, setting: { bar_mm: 8 } });
		const leaning = choosePin(
			{ ...ground, centre: [30, 0], margin: 40 },
			{ ...FREE, bar_mm: 12 },
			{ ...RULES, aside: 1 },
		);
		expect(leaning.holds).toBe(true);
		expect(leaning.at[0]).toBeLessThan(30);
	});
});

describe("a figure on its base", () => {
	const mesh = block(100, 80, 200, 4);
	const health = finish(examine(mesh));
	const figure = {
		hull: finish(convexHull(mesh.positions)),
		volume: health.volume as number,
		centre: health.centroid as Vec3,
		mass: [4, 4.5] as const,
		wet: null,
		height: 200,
	};
	const wishes: FixingWishes = {
		base: { length: 160, width: 140, height: 60, density: [2600, 2800] },
		slopeDeg: 0,
		leastTipDeg: 10,
		place: "indoors",
		pin: FREE,
		rules: RULES,
		resinWaste: 0.2,
		lift: { reach: 30, from: 0, to: 115, twist_deg: 0, frequency: 1, grip: 0.9 },
	};
	const { gauge } = gaugeOf(mesh, [0, 0]);

	it("tips as a box tips, alone and on its base", () => {
		const found = fixingOf(figure, gauge, wishes);
		expect(footOf(figure.hull, figure.centre)).toHaveLength(4);
		// Alone: 40 mm to the long edge, its weight 100 mm up.
		expect(found.figure?.angle).toBeCloseTo((Math.atan(40 / 100) * 180) / Math.PI, 3);
		// On the base: worst with a heavy figure, 4.5 kg at 160 mm, on a light base of 160·140·60 mm³ at 2600 kg/m³ and 30 mm.
		const base = 160 * 140 * 60e-9 * 2600;
		const high = (4.5 * 160 + base * 30) / (4.5 + base);
		expect(found.whole?.heavy).toBeCloseTo(high, 9);
		expect(found.whole?.angle).toBeCloseTo((Math.atan(70 / high) * 180) / Math.PI, 3);
		expect(found.topPush).toBeCloseTo(((4 + base) * 9.80665 * 70) / 260, 9);
		expect(found.stands).toBe(true);
		// The published lift of CCOHS: 11.4 kg.
		expect(Math.abs(found.recommended / 11.4 - 1)).toBeLessThan(0.01);
	});

	it("slides by its weight times the sine of the slope, and falls where that passes what tips it", () => {
		// 15°: 4.5 · 9.80665 · sin 15°.
		const found = fixingOf(figure, gauge, { ...wishes, slopeDeg: 15 });
		expect(found.slopeLoad).toBeCloseTo(4.5 * 9.80665 * Math.sin(Math.PI / 12), 9);
		const narrow = { ...wishes, base: { length: 100, width: 30, height: 60, density: [2600, 2800] as const } };
		expect(fixingOf(figure, gauge, narrow)).toMatchObject({ stands: false, reasons: [{ code: "fixing.baseTips" }] });
	});

	it("bores no deeper into the base than its cover allows, and counts the resin of both holes with waste", () => {
		const found = fixingOf(figure, gauge, wishes);
		expect(found.baseDepth).toBe(60 - 25 - 5);
		expect(found.barLength).toBe(128 + 30);
		const ring = (Math.PI / 4) * (18 * 18 - 16 * 16);
		const end = (Math.PI / 4) * 18 * 18 * 5;
		expect(found.resin).toBeCloseTo(1.2 * (ring * (128 + 30) + 2 * end), 6);
	});

	it("asks for an engineer where people may be under it, wind may push it, or no rule was found", () => {
		const asks = (change: Partial<FixingWishes>) =>
			fixingOf(figure, gauge, { ...wishes, ...change }).engineer.map(({ code }) => code);
		expect(asks({})).toEqual([]);
		expect(asks({ place: "overhead" })).toEqual(["fixing.engineerOverhead"]);
		expect(asks({ place: "outdoors" })).toEqual(["fixing.engineerWind"]);
		expect(asks({ place: "public" })).toEqual(["fixing.engineerPublic"]);
		expect(fixingOf({ ...figure, height: 1300 }, gauge, wishes).engineer.map(({ code }) => code)).toEqual([
			"fixing.engineerHeight",
		]);
	});
});
