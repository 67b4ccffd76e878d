import { describe, expect, test } from "vitest";
import { finish } from "../../../core/job.ts";
import { type Random, seededRandom } from "../../../core/random.ts";
import { Refusal } from "../../../core/refusal.ts";
import { depthInStone, type Stone, stoneOf } from "../../../core/stone/block.ts";
import { type Break, brokenBlock } from "../../../core/stone/breaks.ts";
import { type FitOptions, fitBlock, NO_MARGINS, type StoneFit } from "../../../core/stone/fitBlock.ts";
import { fitStone, largestScaleIn } from "../../../core/stone/fitStone.ts";
import { convexHull, type Hull } from "../../../core/stone/hull.ts";
import { leastEigenvalue } from "../../../core/stone/stoneJudge.ts";
import {
	dot,
	IDENTITY,
	type Mat3,
	multiply,
	place,
	rotationFromQuaternion,
	turn,
	unit,
	type Vec3,
} from "../../../core/vector.ts";
import { share } from "../../support/prove.ts";
import { dragonPoints } from "./dragonPoints.ts";
import { OFFCUT_CASES } from "./offcutCases.ts";
import { cloud, cuboid, EIGHT_CORNERS, ellipsoid, hullOf, randomRotation, turned } from "./shapes.ts";

const fit = (hull: Hull, stone: Stone, options?: FitOptions): StoneFit => finish(fitStone(hull, stone, options));
const offcut = (...planes: number[]): Stone => stoneOf({ kind: "planes", planes: Float64Array.from(planes) });

const boxPlanes = (x: number, y: number, z: number): number[] => [
	...[-1, 0, 0, 0],
	...[1, 0, 0, x],
	...[0, -1, 0, 0],
	...[0, 1, 0, y],
	...[0, 0, -1, 0],
	...[0, 0, 1, z],
];

/** A closed stone of 7 to 20 faces around the origin. */
function seededOffcut(random: Random, size: number): Stone {
	const planes: number[] = [];
	for (let k = 0; k < 6; k++) {
		const n = [0, 0, 0];
		n[k >> 1] = k & 1 ? 1 : -1;
		planes.push(...n, size * (1 + 0.3 * random.next()));
	}
	for (let k = 1 + random.below(14); k > 0; k--) {
		planes.push(...unit([random.normal(), random.normal(), random.normal()]), size * (0.8 + 0.3 * random.next()));
	}
	return offcut(...planes);
}

/** What must hold of every answer. */
function expectSound(found: StoneFit, points: Float64Array, stone: Stone, tolerance = 0.1): void {
	expect(found.gaps.map((g) => g.face)).toEqual(stone.faces.map((f) => f.name));
	const least = stone.faces.map(() => Infinity);
	for (let i = 0; i < points.length; i += 3) {
		const p = place(found.placement, [points[i], points[i + 1], points[i + 2]]);
		stone.faces.forEach((face, f) => {
			least[f] = Math.min(least[f], face.offset - dot(face.normal, p));
		});
	}
	found.gaps.forEach((g, f) => {
		expect(g.gap).toBeCloseTo(least[f], 8);
		expect(depthInStone(stone, g.touchingInStone)).toBeLessThanOrEqual(g.gap + 1e-8);
	});
	expect(found.spare).toBeCloseTo(Math.min(...found.gaps.map((g) => g.gap - g.margin)), 12);
	expect(found.certified).toBe(true);
	expect(found.bound).toBeGreaterThanOrEqual(found.spare);
	expect(found.bound - found.spare).toBeLessThanOrEqual(tolerance);
	if (found.fits) for (const g of found.gaps) expect(g.gap).toBeGreaterThanOrEqual(g.margin - 1e-6);
}

describe("fixed turn: the best place in an offcut", () => {
	OFFCUT_CASES.forEach((given, n) => {
		test(`case ${n + 1} of the reference, ${given.planes.length / 4} faces`, () => {
			const body = Float64Array.from(given.body);
			const stone = offcut(...given.planes);
			const rotation = given.rotation as unknown as Mat3;
			const found = fit(finish(convexHull(body)), stone, { turning: { kind: "fixed", rotation } });
			// The reference knows all planes, the stone only those that bound it: the others hold nothing back.
			expect(found.spare).toBeCloseTo(given.clearance, 7);
			expectSound(found, body, stone);
		});
	});

	test("a ball of points in a wedge touches three faces, in closed form", () => {
		// In a 3-4-5 triangle of 300 × 400 the inscribed circle has radius (300 + 400 − 500) ÷ 2 = 100.
		const wedge = offcut(-1, 0, 0, 0, 0, -1, 0, 0, 0, 1, 0, 1000, 0, 0, -1, 0, 3, 0, 4, 1200);
		const cube = hullOf(cuboid(1e-6, 1e-6, 1e-6));
		const found = fit(cube, wedge, { turning: { kind: "fixed", rotation: IDENTITY } });
		expect(found.spare).toBeCloseTo(100, 5);
		expect(found.gaps.filter((g) => Math.abs(g.gap - 100) < 1e-5).map((g) => g.face)).toEqual([
			"face 1",
			"face 4",
			"face 5",
		]);
	});
});

describe("turning freely in an offcut", () => {
	test("a block given by its planes gives what the block gives", () => {
		const hull = finish(convexHull(dragonPoints()));
		const found = fit(hull, offcut(...boxPlanes(300, 220, 140)));
		// Interval of an independent branch and bound: 1.645 to 1.663 mm.
		expect(found.spare).toBeLessThanOrEqual(1.663);
		expect(found.bound).toBeGreaterThanOrEqual(1.645);
		expectSound(found, hull.vertices, offcut(...boxPlanes(300, 220, 140)));
	});

	test("a tetrahedron fits its own shape exactly, whichever way it lies", () => {
		const corners: Vec3[] = [
			[0, 0, 0],
			[100, 100, 0],
			[100, 0, 100],
			[0, 100, 100],
		];
		const stone = offcut(1, 1, 1, 200, -1, -1, 1, 0, -1, 1, -1, 0, 1, -1, -1, 0);
		const random = seededRandom(9);
		for (let n = 0; n < 3; n++) {
			const found = fit(hullOf(turned(corners, randomRotation(random))), stone);
			expect(found.spare).toBeCloseTo(0, 6);
			expect(found.fits).toBe(true);
			expect(found.bound).toBeLessThan(0.1);
		}
	});

	test("seeded stones of 7 to 20 faces: the proof closes, and no seeded turn beats it", () => {
		const random = seededRandom(5);
		for (let n = 0; n < share(200); n++) {
			const points =
				n % 3 === 0
					? EIGHT_CORNERS
					: n % 3 === 1
						? cloud(random, 120, 60, 45, 30)
						: ellipsoid(random, 150, 120, 90, 60);
			const hull = hullOf(points);
			const stone = seededOffcut(random, 130);
			const margin = 4 * random.next();
			const found = fit(hull, stone, { otherMargin: margin });
			expectSound(found, hull.vertices, stone);
			for (let k = 0; k < 40; k++) {
				const fixed = fit(hull, stone, {
					turning: { kind: "fixed", rotation: randomRotation(random) },
					otherMargin: margin,
				});
				expect(fixed.spare).toBeLessThanOrEqual(found.bound);
			}
		}
	});

	test("near the best turn nothing beats the bound either", () => {
		const random = seededRandom(6);
		const hull = hullOf(ellipsoid(random, 200, 100, 104, 108));
		const stone = seededOffcut(random, 130);
		const found = fit(hull, stone);
		let { rotation } = found.placement;
		let best = found.spare;
		for (let step = 0.3; step > 1e-3; step *= 0.93) {
			const small = rotationFromQuaternion([random.normal() * step, random.normal() * step, random.normal() * step, 1]);
			const next = multiply(small, rotation);
			const { spare } = fit(hull, stone, { turning: { kind: "fixed", rotation: next } });
			if (spare > best) {
				best = spare;
				rotation = next;
			}
		}
		expect(best).toBeLessThanOrEqual(found.bound);
		expect(best).toBeLessThanOrEqual(found.spare + 0.1);
	});

	test("turning figure or stone changes nothing; three times as large gives three times the clearance", () => {
		const random = seededRandom(12);
		const points = cloud(random, 100, 60, 45, 30);
		const planes = [...seededOffcut(random, 140).planes];
		const first = fit(hullOf(points), offcut(...planes), { tolerance: 0.02 });
		const figure = fit(hullOf(turned(points, randomRotation(random))), offcut(...planes), { tolerance: 0.02 });
		expect(Math.abs(figure.spare - first.spare)).toBeLessThan(0.04);
		const rotation = randomRotation(random);
		const other = planes.flatMap((_, k) => {
			if (k % 4 !== 0) return [];
			const n = turn(rotation, [planes[k], planes[k + 1], planes[k + 2]]);
			return [...n, planes[k + 3] + dot(n, [50, 60, -70])];
		});
		expect(Math.abs(fit(hullOf(points), offcut(...other), { tolerance: 0.02 }).spare - first.spare)).toBeLessThan(0.04);
		const large = planes.map((x, k) => (k % 4 === 3 ? 3 * x : x));
		const threefold = fit(hullOf(points.map(([x, y, z]): Vec3 => [3 * x, 3 * y, 3 * z])), offcut(...large), {
			tolerance: 0.06,
		});
		expect(Math.abs(threefold.spare - 3 * first.spare)).toBeLessThan(0.12);
	});
});

describe("a block with breaks", () => {
	const corner: Break = { kind: "off", faces: ["right", "back", "top"], reach: [60, 40, 30] };
	const edge: Break = { kind: "off", faces: ["left", "bed"], reach: [50, 20] };

	test("volumes in closed form, faces named", () => {
		const stone = stoneOf(brokenBlock([300, 200, 500], [corner, edge]));
		expect(stone.volume).toBeCloseTo(3e7 - (60 * 40 * 30) / 6 - (50 * 20 * 200) / 2, 3);
		expect(stone.faces.map((f) => f.name)).toEqual([
			"left",
			"right",
			"front",
			"back",
			"bed",
			"top",
			"break 1",
			"break 2",
		]);
	});

	test("a plane through the three places where the corner breaks off is the same break", () => {
		const through: Break = {
			kind: "plane",
			through: [
				[240, 200, 500],
				[300, 160, 500],
				[300, 200, 470],
			],
		};
		const stone = stoneOf(brokenBlock([300, 200, 500], [through]));
		expect(stone.volume).toBeCloseTo(3e7 - (60 * 40 * 30) / 6, 3);
	});

	test("margins go by the faces' names, and the breaks have their own", () => {
		const stone = stoneOf(brokenBlock([300, 200, 500], [corner]));
		const options: FitOptions = { margins: { ...NO_MARGINS, bed: 12 }, otherMargin: 7 };
		const found = fit(hullOf(EIGHT_CORNERS), stone, options);
		expect(found.gaps.map((g) => g.margin)).toEqual([0, 0, 0, 0, 12, 0, 7]);
		expectSound(found, Float64Array.from(EIGHT_CORNERS.flat()), stone);
	});

	test("breaks never help: at most what the whole block spares, and less when they reach the figure", () => {
		const hull = hullOf(cuboid(280, 180, 480));
		const whole = finish(fitBlock(hull, [300, 200, 500]));
		const broken = fit(hull, stoneOf(brokenBlock([300, 200, 500], [corner])));
		expect(broken.spare).toBeLessThanOrEqual(whole.bound);
		expect(broken.bound).toBeLessThan(whole.spare - 1);
		const far = fit(hull, stoneOf(brokenBlock([300, 200, 500], [{ ...corner, reach: [3, 3, 3] }])));
		expect(Math.abs(far.spare - whole.spare)).toBeLessThan(0.2);
	});

	test("what cannot be measured so is refused", () => {
		const code = (broken: Break): string => {
			try {
				brokenBlock([300, 200, 500], [broken]);
			} catch (error) {
				if (error instanceof Refusal) return error.issue.code;
				throw error;
			}
			return "none";
		};
		expect(code({ kind: "off", faces: ["left", "right"], reach: [10, 10] })).toBe("stone.breakFaces");
		expect(code({ kind: "off", faces: ["left"], reach: [10] })).toBe("stone.breakFaces");
		expect(code({ kind: "off", faces: ["left", "bed"], reach: [10] })).toBe("stone.breakFaces");
		expect(code({ ...corner, reach: [60, 0, 30] })).toBe("stone.breakReach");
		expect(code({ ...corner, reach: [60, 250, 30] })).toBe("stone.breakReach");
		expect(
			code({
				kind: "plane",
				through: [
					[0, 0, 0],
					[1, 1, 1],
					[9, 9, 9],
				],
			}),
		).toBe("stone.breakLine");
		expect(
			code({
				kind: "plane",
				through: [
					[0, 0, 0],
					[300, 200, 500],
					[0, 200, 0],
				],
			}),
		).toBe("stone.breakMiddle");
	});
});

describe("only some turns", () => {
	const random = seededRandom(40);
	const points = cloud(random, 150, 70, 50, 40);
	const hull = hullOf(points);
	const stone = seededOffcut(random, 190);
	const UP: Vec3 = [0, 0, 1];
	const cosTo = (found: StoneFit, model: Vec3, to: Vec3): number =>
		dot(turn(found.placement.rotation, unit(model)), unit(to));

	test("upright: the vertical stays, and no seeded turn about it beats the bound", () => {
		const found = fit(hull, stone, { turning: { kind: "upright" } });
		expectSound(found, hull.vertices, stone);
		expect(found.placement.rotation[8]).toBe(1);
		for (let k = 0; k < 200; k++) {
			const t = Math.tan((Math.PI * (random.next() - 0.5)) / 2) * (k % 2 === 0 ? 1 : 1e6);
			const rotation = rotationFromQuaternion([0, 0, t, 1]);
			expect(fit(hull, stone, { turning: { kind: "fixed", rotation } }).spare).toBeLessThanOrEqual(found.bound);
		}
	});

	test("within an angle of a stance: kept, proved, and between upright and free", () => {
		const upright = fit(hull, stone, { turning: { kind: "upright" } });
		const free = fit(hull, stone);
		let last = upright;
		for (const degrees of [5, 20, 60]) {
			const found = fit(hull, stone, { turning: { kind: "free", limits: [{ model: UP, stone: UP, degrees }] } });
			expectSound(found, hull.vertices, stone);
			expect(cosTo(found, UP, UP)).toBeGreaterThanOrEqual(Math.cos((degrees * Math.PI) / 180) - 1e-11);
			expect(found.bound).toBeGreaterThanOrEqual(last.spare);
			expect(found.spare).toBeLessThanOrEqual(free.bound);
			last = found;
		}
	});

	test("seeded turns that keep the limits never beat the bound, in a block and in an offcut", () => {
		const bed: Vec3 = [1, 2, 4];
		const limits = [
			{ model: bed, stone: UP, degrees: 25, eitherWay: true },
			{ model: [1, 0, 0] as Vec3, stone: [1, 0.2, 0] as Vec3, degrees: 70 },
		];
		const block = stoneOf({ kind: "box", size: [300, 330, 280] });
		for (const where of [stone, block]) {
			const found = fit(hull, where, { turning: { kind: "free", limits } });
			expectSound(found, hull.vertices, where);
			const kept = (r: Mat3): boolean =>
				Math.abs(dot(turn(r, unit(bed)), UP)) >= Math.cos((25 * Math.PI) / 180) - 1e-11 &&
				dot(turn(r, [1, 0, 0]), unit([1, 0.2, 0])) >= Math.cos((70 * Math.PI) / 180) - 1e-11;
			expect(kept(found.placement.rotation)).toBe(true);
			let tried = 0;
			while (tried < share(3000)) {
				const rotation = randomRotation(random);
				if (!kept(rotation)) continue;
				tried++;
				expect(fit(hull, where, { turning: { kind: "fixed", rotation } }).spare).toBeLessThanOrEqual(found.bound);
			}
		}
	});

	test("directions that contradict each other, have no length or no angle are refused", () => {
		const code = (...limits: { model: Vec3; stone: Vec3; degrees: number }[]): string => {
			try {
				fit(hull, stone, { turning: { kind: "free", limits } });
			} catch (error) {
				if (error instanceof Refusal) return error.issue.code;
				throw error;
			}
			return "none";
		};
		const up = { model: UP, stone: UP, degrees: 20 };
		expect(code(up, { ...up, stone: [0, 0, -1] })).toBe("stone.limitsContradict");
		expect(code({ ...up, model: [0, 0, 0] })).toBe("stone.limitDirection");
		expect(code({ ...up, degrees: -1 })).toBe("stone.limitAngle");
	});
});

describe("largest scale in an offcut", () => {
	test("a ball of points in a wedge, in closed form, and a cube in its own planes", () => {
		const ball = hullOf(ellipsoid(seededRandom(3), 4000, 50, 50, 50));
		const wedge = offcut(-1, 0, 0, 0, 0, -1, 0, 0, 0, 1, 0, 1000, 0, 0, -1, 0, 3, 0, 4, 1200);
		const found = finish(
			largestScaleIn(ball, wedge, { turning: { kind: "fixed", rotation: IDENTITY }, otherMargin: 20 }),
		);
		// Radius 100 is inscribed, less 20 of margin; the points lie in the ball of 50 and nearly fill it.
		expect(found.scale).toBeGreaterThanOrEqual(80 / 50);
		expect(found.scale).toBeLessThan((80 / 50) * 1.005);
		const cube = finish(largestScaleIn(hullOf(cuboid(100, 100, 100)), offcut(...boxPlanes(150, 150, 150))));
		expect(cube.scale).toBeCloseTo(1.5, 3);
		expect(cube.bound).toBeGreaterThanOrEqual(1.5 - 1e-9);
		expect(cube.certified).toBe(true);
	});

	test("at the scale found it fits, beyond the bound it does not", () => {
		const random = seededRandom(17);
		for (let n = 0; n < 3; n++) {
			const points = cloud(random, 80, 60, 45, 30);
			const stone = seededOffcut(random, 150);
			const found = finish(largestScaleIn(hullOf(points), stone, { otherMargin: 5 }));
			expect(found.certified).toBe(true);
			for (const p of points) {
				const at = place(found.placement, [found.scale * p[0], found.scale * p[1], found.scale * p[2]]);
				expect(depthInStone(stone, at)).toBeGreaterThan(5 - 1e-6);
			}
			const at = (factor: number): Hull => hullOf(points.map(([x, y, z]) => [factor * x, factor * y, factor * z]));
			expect(fit(at(found.scale * 0.999), stone, { otherMargin: 5 }).fits).toBe(true);
			expect(fit(at(found.bound * 1.001), stone, { otherMargin: 5 }).fits).toBe(false);
		}
	});

	test("margins that leave no room are refused", () => {
		const job = largestScaleIn(hullOf(EIGHT_CORNERS), offcut(...boxPlanes(100, 100, 100)), { otherMargin: 51 });
		expect(() => finish(job)).toThrow(Refusal);
	});
});

describe("what the bound rests on", () => {
	test("the least eigenvalue is never overstated, and right to rounding", () => {
		const random = seededRandom(30);
		for (let n = 0; n < 500; n++) {
			// Known eigenvalues, two of them alike at times.
			const values = [random.normal(), random.normal(), n % 5 === 0 ? 0 : random.normal()].map((x) => 100 * x);
			if (n % 7 === 0) values[1] = values[0];
			const r = randomRotation(random);
			const m = (i: number, j: number): number =>
				values.reduce((s, value, k) => s + value * r[3 * i + k] * r[3 * j + k], 0);
			const found = leastEigenvalue(m(0, 0), m(1, 1), m(2, 2), m(0, 1), m(1, 2), m(2, 0));
			const least = Math.min(...values);
			expect(found).toBeLessThanOrEqual(least + 1e-9);
			// Twin eigenvalues are approached by halves only, always from below.
			expect(found).toBeGreaterThan(least - 4);
		}
	});
});
