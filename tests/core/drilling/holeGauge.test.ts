import { describe, expect, it } from "vitest";
import { type Aim, aimOf, type Drill, drillOf } from "../../../core/drilling/drill.ts";
import { createHoleGauge, type HoleLine } from "../../../core/drilling/holeGauge.ts";
import { finish } from "../../../core/job.ts";
import { toolSchema } from "../../../core/plan/commission.ts";
import { buildSurfaceIndex } from "../../../core/surface/surfaceIndex.ts";
import { unit, type Vec3 } from "../../../core/vector.ts";
import { patch, square } from "../../support/groundMesh.ts";
import { stopOnPlane } from "./stopOnPlane.ts";

const TIPS = ["ball", "pointed", "flat"] as const;
const drill = (tip: Drill["tip"], holeRadius = 3.25): Drill => ({ ...drillOf(toolSchema.parse({ tip })), holeRadius });
const STEADY: Aim = { mark: 0, leanDeg: 0, wander: 0, fromFace: false };
const radians = (degrees: number): number => (degrees * Math.PI) / 180;
const tan = (degrees: number): number => Math.tan(radians(degrees));
const gaugeOf = (mesh: Parameters<typeof buildSurfaceIndex>[0]) => createHoleGauge(finish(buildSurfaceIndex(mesh)));
/** A line from the origin, tilted by some degrees from z towards a direction that lies along no edge of the mesh. */
const tilted = (degrees: number, entry = 80, leanSine = 0): HoleLine => ({
	target: [0, 0, 0],
	direction: unit([Math.sin(radians(degrees)) * 0.8, Math.sin(radians(degrees)) * 0.6, Math.cos(radians(degrees))]),
	entry,
	leanSine,
});

describe.each(TIPS)("the stop of a %s end on a plane", (tip) => {
	const gauge = gaugeOf(square([0.3, -0.2, 0], 60));
	const tilts = [0, 5, 17, 30, 44.5];

	it("is the formula's, to 1e-6", () => {
		for (const t of tilts) {
			for (const allowance of [1, 2, 6]) {
				const stop = gauge.stopOnSurface(tilted(t), drill(tip), allowance, STEADY);
				expect(Math.abs(stop - stopOnPlane(drill(tip), allowance, tan(t)))).toBeLessThan(1e-6);
				expect(gauge.clearance(tilted(t), drill(tip), stop)).toBeCloseTo(allowance, 6);
			}
		}
	});

	it("at worst aim is that of the widened hole, pushed in by mark × sin(lean)", () => {
		const aim = aimOf("faces");
		const k = tan(1) + 0.01;
		for (const t of tilts.slice(1)) {
			const line = tilted(t, 80, 0.4);
			const stop = gauge.stopOnSurface(line, drill(tip), 0, aim);
			// The widened hole as seen by a plane: slope T / (1 + k T), and radius grown by mark + k × 80 at the target.
			const seen = tan(t) / (1 + k * tan(t));
			const expected = stopOnPlane(drill(tip), 0, seen) + seen * (1 + k * 80) + 0.4;
			expect(Math.abs(stop - expected)).toBeLessThan(1e-6);
			expect(gauge.worstSpare(line, drill(tip), stop, aim)).toBeCloseTo(0, 9);
		}
	});

	it("forgives just the lean error that it was made for, and more when it stands farther back", () => {
		const aim = aimOf("faces");
		const line = tilted(30, 80, 0.4);
		const stop = gauge.stopOnSurface(line, drill(tip), 0, aim);
		expect(gauge.safeLeanDeg(line, drill(tip), stop, aim)).toBe(1);
		// tan ε grows the radius at the target by 80 tan ε; each mm of it asks for about tan 30° mm of stop.
		const back = gauge.safeLeanDeg(line, drill(tip), stop + 1, aim);
		expect(back).toBeGreaterThan(1.9);
		expect(back).toBeLessThan(3);
		expect(gauge.safeLeanDeg(line, drill(tip), stop - 2, aim)).toBe(0);
		expect(gauge.safeLeanDeg(tilted(0), drill(tip), 5, aim)).toBe(10);
	});
});

/** Part of a sphere of radius R whose top is the origin, bulging towards +z, or hollow. Edges about 0.5 mm. */
function dome(radius: number, hollow: boolean, half: number): ReturnType<typeof patch> {
	const n = Math.ceil((4 * half) / 0.7);
	return patch(n, n, (u, v): Vec3 => {
		const a = half * (2 * u - 1);
		const b = half * (2 * v - 1);
		const drop = radius - Math.sqrt(Math.max(0, radius * radius - a * a - b * b));
		return [a, b, hollow ? drop : -drop];
	});
}

describe("the stop on spheres, to 0.05 mm against circle geometry", () => {
	const [a, r] = [2, 3.25];
	const cases = [25, 50, 100].flatMap((R) => [0, 10, 20, 30].map((t) => [R, t] as const));

	it("ball on a bulging sphere: √((R + a + r)² − R² sin² t) − R cos t − r", () => {
		for (const [R, t] of cases) {
			const gauge = gaugeOf(dome(R, false, 16));
			const expected = Math.sqrt((R + a + r) ** 2 - (R * Math.sin(radians(t))) ** 2) - R * Math.cos(radians(t)) - r;
			expect(Math.abs(gauge.stopOnSurface(tilted(t), drill("ball"), a, STEADY) - expected)).toBeLessThan(0.05);
		}
	});

	it("ball in a hollow sphere: R cos t − √((R − a − r)² − R² sin² t) − r", () => {
		for (const [R, t] of cases) {
			if ((R - a - r) ** 2 <= (R * Math.sin(radians(t))) ** 2) continue;
			const gauge = gaugeOf(dome(R, true, Math.min(20, 0.69 * R)));
			const expected = R * Math.cos(radians(t)) - Math.sqrt((R - a - r) ** 2 - (R * Math.sin(radians(t))) ** 2) - r;
			expect(Math.abs(gauge.stopOnSurface(tilted(t), drill("ball"), a, STEADY) - expected)).toBeLessThan(0.05);
		}
	});

	// In the plane of line and normal: centre of the sphere at (x, y) = (−R cos t, R sin t) seen along the line, y uphill.
	it("flat: the shoulder or the floor of the end at R + a from the middle of a bulging sphere", () => {
		for (const [R, t] of cases) {
			const [cx, cy] = [-R * Math.cos(radians(t)), R * Math.sin(radians(t))];
			const beside = Math.max(0, cy - r);
			const expected = cx + Math.sqrt((R + a) ** 2 - beside ** 2);
			const gauge = gaugeOf(dome(R, false, 16));
			expect(Math.abs(gauge.stopOnSurface(tilted(t), drill("flat"), a, STEADY) - expected)).toBeLessThan(0.05);
		}
	});

	it("flat in a hollow sphere: the far shoulder at R − a", () => {
		for (const R of [25, 50, 100]) {
			// Square to the surface the whole rim touches: R − √((R − a)² − r²).
			const gauge = gaugeOf(dome(R, true, 14));
			const expected = R - Math.sqrt((R - a) ** 2 - r * r);
			expect(Math.abs(gauge.stopOnSurface(tilted(0), drill("flat"), a, STEADY) - expected)).toBeLessThan(0.05);
		}
	});

	it("pointed: tip or shoulder, whichever comes to R + a first", () => {
		for (const [R, t] of cases) {
			const [cx, cy] = [-R * Math.cos(radians(t)), R * Math.sin(radians(t))];
			const cot = 1 / tan(59);
			// Least x of the tip at which the outline (0, 0) – (r cot, r) stays R + a from the middle.
			let expected = 0;
			for (let i = 0; i <= 2000; i++) {
				const y = (r * i) / 2000;
				expected = Math.max(expected, cx + Math.sqrt((R + a) ** 2 - (cy - y) ** 2) - y * cot);
			}
			const gauge = gaugeOf(dome(R, false, 16));
			expect(Math.abs(gauge.stopOnSurface(tilted(t), drill("pointed"), a, STEADY) - expected)).toBeLessThan(0.05);
		}
	});
});
