import { describe, expect, it } from "vitest";
import { type Drill, holeSolid, setWorstAim } from "../../../core/drilling/drill.ts";
import { finish } from "../../../core/job.ts";
import { seededRandom } from "../../../core/random.ts";
import type { TriangleMesh } from "../../../core/scan/mesh.ts";
import { createHoleProbe, newTouch } from "../../../core/surface/holeProbe.ts";
import { buildSurfaceIndex } from "../../../core/surface/surfaceIndex.ts";
import { capReach, capRest } from "../../../core/surface/sweptSolid.ts";
import { add, dot, length, scale, sub, unit, type Vec3 } from "../../../core/vector.ts";
import { lastTouch, offHole, radiusAt } from "../../support/holeGeometry.ts";
import { share } from "../../support/prove.ts";

const drill = (tip: Drill["tip"], holeRadius = 3, pointAngleDeg = 118): Drill => ({
	tip,
	holeRadius,
	diameter: 2 * holeRadius,
	pointAngleDeg,
	reach: 300,
	chuckRadius: 20,
	action: "carbide",
});
const TIPS = ["ball", "pointed", "flat"] as const;

const meshOf = (corners: readonly Vec3[]): TriangleMesh => ({
	positions: Float64Array.from(corners.flat()),
	triangles: Uint32Array.from(corners.map((_, i) => i)),
});
const probeOf = (corners: readonly Vec3[]) => createHoleProbe(finish(buildSurfaceIndex(meshOf(corners))));

describe.each(TIPS)("the cap of a %s end", (tip) => {
	it("reaches as far as the plain geometry says, at every width", () => {
		for (const allowance of [0, 0.7, 4]) {
			const solid = holeSolid(drill(tip), allowance);
			for (let w = 0; w < 3 + allowance; w += 0.05) {
				// A place at x = 0 is touched while the tip stands lower than the reach.
				const plain = lastTouch((at) =>
					allowance > 0
						? offHole({ tip, r: 3, pointAngleDeg: 118 }, at, 0, w) < allowance
						: radiusAt({ tip, r: 3, pointAngleDeg: 118 }, at, 0) > w,
				);
				expect(capReach(solid, w)).toBeCloseTo(plain, 6);
			}
			expect(capReach(solid, 3 + allowance + 1e-6)).toBe(Number.NEGATIVE_INFINITY);
		}
	});

	it("rests on a slope where no other width asks for more", () => {
		const solid = holeSolid(drill(tip), 2);
		for (const slope of [0.01, 0.3, 0.6, 0.62, 1, 5]) {
			const rest = capRest(solid, slope);
			const value = slope * rest + capReach(solid, rest);
			for (let w = 0; w <= 5; w += 0.01) expect(slope * w + capReach(solid, w)).toBeLessThanOrEqual(value + 1e-12);
		}
	});
});

describe("a hole against one triangle, by hand", () => {
	// A small triangle 10 mm ahead and 4 mm beside the line.
	const probe = probeOf([
		[4, 0, 10],
		[5, 1, 10],
		[5, -1, 10],
	]);
	probe.setLine([0, 0, 0], [0, 0, 1]);

	it("is not touched by a hole of radius 3, and lies 1 mm beside it", () => {
		probe.setSolids(holeSolid(drill("flat"), 0));
		expect(probe.touch(-100, newTouch()).triangle).toBe(-1);
		expect(probe.clearance(0)).toBeCloseTo(1, 9);
		// Tip 12: the triangle is left 2 behind and 1 beside.
		expect(probe.clearance(12)).toBeCloseTo(Math.sqrt(5), 9);
	});

	it("stops a hole that must keep 1.25 mm, at the corner", () => {
		probe.setSolids(holeSolid(drill("flat"), 1.25));
		const touch = probe.touch(-100, newTouch());
		// 1 beside the rim of the end, so √(1.25² − 1²) = 0.75 before it.
		expect(touch.tip).toBeCloseTo(10.75, 9);
		expect([touch.x, touch.y, touch.z].map((c) => Math.round(c * 1e6) / 1e6)).toEqual([4, 0, 10]);
		expect(probe.clearance(10.75)).toBe(0);
	});

	it("is met by the widening hole of a bad aim, whose push is added", () => {
		const worst = holeSolid(drill("flat"), 0);
		setWorstAim(worst, { mark: 1, leanDeg: 0, wander: 0.01, fromFace: true }, 0.01, 110, 0.5);
		probe.setSolids(worst);
		// At x = 10 the radius is 3 + 1 + 0.01 × 100 = 5; pushed in by 1 × 0.5.
		expect(probe.touch(-100, newTouch()).tip).toBeCloseTo(10.5, 9);
		setWorstAim(worst, { mark: 0.9, leanDeg: 0, wander: 0, fromFace: true }, 0, 110, 0.5);
		probe.setSolids(worst);
		expect(probe.touch(-100, newTouch()).tip).toBe(-100);
	});

	it("touches a triangle that it pierces without meeting its edges", () => {
		const wide = probeOf([
			[-50, -50, 7],
			[60, -50, 7],
			[0, 70, 7],
		]);
		wide.setLine([0, 0, 0], [0, 0, 1]);
		// Of each end the tip itself comes first; a ball used to be told 0 for a place straight ahead of its middle.
		for (const tip of TIPS) {
			wide.setSolids(holeSolid(drill(tip), 0));
			expect(wide.touch(-100, newTouch()).tip).toBeCloseTo(7, 12);
			expect(wide.clearance(3)).toBe(0);
			expect(wide.clearance(9)).toBeCloseTo(2, 12);
		}
	});
});

/** Greatest value over a triangle, by a net of places drawn ever closer around the best one; right where it is concave. */
function greatestOver(corners: readonly Vec3[], value: (p: Vec3) => number): number {
	const at = (u: number, v: number): Vec3 =>
		add(add(scale(corners[0], 1 - u - v), scale(corners[1], u)), scale(corners[2], v));
	let best = Number.NEGATIVE_INFINITY;
	let [bu, bv, size] = [1 / 3, 1 / 3, 1];
	for (let round = 0; round < 36; round++) {
		let [nu, nv] = [bu, bv];
		for (let i = -8; i <= 8; i++) {
			for (let j = -8; j <= 8; j++) {
				const u = Math.max(0, Math.min(1, bu + (i / 8) * size));
				const v = Math.max(0, Math.min(1 - u, bv + (j / 8) * size));
				const here = value(at(u, v));
				if (here > best) {
					best = here;
					[nu, nv] = [u, v];
				}
			}
		}
		[bu, bv] = [nu, nv];
		size *= 0.68;
	}
	return best;
}

const offTriangle = (corners: readonly Vec3[], place: Vec3): number =>
	finish(buildSurfaceIndex(meshOf(corners))).closestPoint(place)!.distance;

describe.each(TIPS)("a %s end against the slow twin on single triangles", (tip) => {
	const random = seededRandom(TIPS.indexOf(tip) + 41);
	const cases = Array.from({ length: share(160) }, () => {
		const middle: Vec3 = [8 * random.next() - 4, 8 * random.next() - 4, 20 * random.next()];
		const size = 0.3 + 12 * random.next() ** 2;
		const corners = [0, 1, 2].map(
			(): Vec3 => [
				middle[0] + size * (random.next() - 0.5),
				middle[1] + size * (random.next() - 0.5),
				middle[2] + size * (random.next() - 0.5),
			],
		);
		const direction = unit([random.normal() / 4, random.normal() / 4, 1]);
		return {
			corners,
			direction,
			allowance: 3 * random.next(),
			entry: 40 + 60 * random.next(),
			wander: 0.06 * random.next(),
		};
	});
	const plain = { tip, r: 3, pointAngleDeg: 118 } as const;
	const seen = (p: Vec3, direction: Vec3): { x: number; rho: number } => {
		const x = dot(p, direction);
		return { x, rho: length(sub(p, scale(direction, x))) };
	};

	it("stops where the hole as aimed keeps its allowance", () => {
		let touched = 0;
		for (const { corners, direction, allowance } of cases) {
			const probe = probeOf(corners);
			probe.setLine([0, 0, 0], direction);
			probe.setSolids(holeSolid(drill(tip), allowance));
			const found = probe.touch(-500, newTouch());
			const slow = greatestOver(corners, (p) => {
				const { x, rho } = seen(p, direction);
				return rho >= 3 + allowance ? -1e3 - rho : lastTouch((at) => offHole(plain, at, x, rho) < allowance);
			});
			if (slow < -500) expect(found.triangle).toBe(-1);
			else {
				touched++;
				expect(found.tip).toBeGreaterThan(slow - 1e-7);
				// Never farther back than needed: a hair deeper, the place that it names on the triangle is touched.
				const { x, rho } = seen([found.x, found.y, found.z], direction);
				expect(offHole(plain, found.tip - 1e-6, x, rho)).toBeLessThan(allowance);
				expect(offTriangle(corners, [found.x, found.y, found.z])).toBeLessThan(1e-9);
			}
		}
		expect(touched).toBeGreaterThan(cases.length / 3);
	});

	it("stops where the worst-aimed hole does not touch", () => {
		let touched = 0;
		for (const { corners, direction, entry, wander } of cases) {
			const probe = probeOf(corners);
			const aim = { mark: 1, leanDeg: 0, wander, fromFace: true };
			const worst = holeSolid(drill(tip), 0);
			setWorstAim(worst, aim, wander, entry, 0.2);
			probe.setLine([0, 0, 0], direction);
			probe.setSolids(worst);
			const found = probe.touch(-500, newTouch());
			const slow = greatestOver(corners, (p) => {
				const { x, rho } = seen(p, direction);
				const grown = 1 + wander * (entry - x);
				if (rho >= 3 + grown) return -1e3 - rho;
				return 0.2 + lastTouch((at) => x > at && radiusAt(plain, at, x) + grown > rho);
			});
			if (slow < -500) expect(found.triangle).toBe(-1);
			else {
				touched++;
				expect(found.tip).toBeGreaterThan(slow - 1e-7);
				const { x, rho } = seen([found.x, found.y, found.z], direction);
				expect(x).toBeGreaterThan(found.tip - 0.2 - 1e-6);
				expect(radiusAt(plain, found.tip - 0.2 - 1e-6, x) + 1 + wander * (entry - x)).toBeGreaterThan(rho - 1e-9);
				expect(offTriangle(corners, [found.x, found.y, found.z])).toBeLessThan(1e-9);
			}
		}
		expect(touched).toBeGreaterThan(cases.length / 3);
	});

	it("measures the distance from hole to triangle", () => {
		for (const { corners, direction } of cases) {
			const probe = probeOf(corners);
			probe.setLine([0, 0, 0], direction);
			for (const at of [-5, 5, 15, 25]) {
				probe.setSolids(holeSolid(drill(tip), 0));
				const slow = -greatestOver(corners, (p) => {
					const { x, rho } = seen(p, direction);
					return -offHole(plain, at, x, rho);
				});
				expect(probe.clearance(at)).toBeCloseTo(slow, 4);
				expect(probe.clearance(at)).toBeLessThan(slow + 1e-7);
			}
		}
	});
});

describe("a hole against many triangles", () => {
	const random = seededRandom(77);
	const corners: Vec3[] = [];
	for (let t = 0; t < 2000; t++) {
		const middle: Vec3 = [120 * random.next() - 60, 120 * random.next() - 60, 120 * random.next() - 60];
		for (let k = 0; k < 3; k++)
			corners.push([middle[0] + 6 * random.next(), middle[1] + 6 * random.next(), middle[2] + 6 * random.next()]);
	}
	const whole = probeOf(corners);
	const singles = Array.from({ length: 2000 }, (_, t) => probeOf(corners.slice(3 * t, 3 * t + 3)));

	it("answers as the worst of the triangles one by one", () => {
		for (let trial = 0; trial < 12; trial++) {
			const origin: Vec3 = [40 * random.next() - 20, 40 * random.next() - 20, 40 * random.next() - 20];
			const direction = unit([random.normal(), random.normal(), random.normal()]);
			const d = drill(TIPS[trial % 3], 1 + 2 * random.next());
			const worst = holeSolid(d, 0);
			setWorstAim(worst, { mark: 1, leanDeg: 0, wander: 0.02, fromFace: true }, 0.02, 90, 0.3);
			const solids = [holeSolid(d, 1.5), worst] as const;
			let tip = -1000;
			for (const single of singles) {
				single.setLine(origin, direction);
				single.setSolids(...solids);
				tip = Math.max(tip, single.touch(-1000, newTouch()).tip);
			}
			whole.setLine(origin, direction);
			whole.setSolids(...solids);
			const found = whole.touch(-1000, newTouch());
			expect(found.tip).toBe(tip);
			expect(whole.anyTouch(tip - 1e-6, newTouch()).triangle).toBeGreaterThanOrEqual(0);
			expect(whole.anyTouch(tip, newTouch()).triangle).toBe(-1);
			let least = Number.POSITIVE_INFINITY;
			for (const single of singles) {
				single.setLine(origin, direction);
				single.setSolids(holeSolid(d, 0));
				least = Math.min(least, single.clearance(tip + 3));
			}
			whole.setSolids(holeSolid(d, 0));
			expect(whole.clearance(tip + 3)).toBeCloseTo(least, 12);
		}
	});
});
