import { describe, expect, it } from "vitest";
import { crossingHoles, distanceOfSegments, webBetween } from "../../../core/drilling/crossings.ts";
import { aimOf, behindFloor, drillOf } from "../../../core/drilling/drill.ts";
import { type DrillLine, type Hole, isUndercut } from "../../../core/drilling/drillLine.ts";
import { createLineSearch } from "../../../core/drilling/lineSearch.ts";
import { holeOf, separateHoles } from "../../../core/drilling/separateHoles.ts";
import { finish } from "../../../core/job.ts";
import { toolSchema } from "../../../core/plan/commission.ts";
import { seededRandom } from "../../../core/random.ts";
import { stoneOf } from "../../../core/stone/block.ts";
import { buildSurfaceIndex } from "../../../core/surface/surfaceIndex.ts";
import { along, distance, IDENTITY, sub, unit, type Vec3 } from "../../../core/vector.ts";
import { patch } from "../../support/groundMesh.ts";

const upright = (x: number, y: number, radius = 2): Hole => ({ tip: [x, y, 0], entry: [x, y, 50], radius });

describe("the stone between two holes", () => {
	it("is counted by hand on parallel, crossing and end-to-end holes", () => {
		expect(webBetween(upright(0, 0), upright(7, 0, 3))).toBe(2);
		const across: Hole = { tip: [-20, 6, 25], entry: [20, 6, 25], radius: 1 };
		expect(webBetween(upright(0, 0), across)).toBe(3);
		expect(webBetween(upright(0, 0), { tip: [0, 0, -9], entry: [0, 0, -30], radius: 2 })).toBe(5);
		expect(webBetween(upright(0, 0), { tip: [-20, 0, 25], entry: [20, 0, 25], radius: 1 })).toBe(-3);
	});

	it("must be two drill diameters where two holes come into a thin part from its two sides", () => {
		const drill = drillOf(toolSchema.parse({ drill_mm: 4 }));
		// An ear 9 mm thick: 2 mm are left over it on either side, so that the floors are 13 mm apart when they meet head on.
		const hole = (x: number, from: 1 | -1, gap: number, thickness?: number): Hole => ({
			tip: [x, 0, from * gap],
			entry: [x, 0, from * 60],
			radius: 2.25,
			behind: behindFloor(drill, thickness),
		});
		const pairs = (gap: number, second: 1 | -1, thickness?: number): number =>
			finish(crossingHoles([hole(0, 1, gap, thickness), hole(6.5, second, gap, thickness)])).length;
		expect(behindFloor(drill, 9)).toBe(8);
		expect(behindFloor(drill, 40)).toBe(0);
		// Seen past each other: √(6.5² + (2 · gap)²) − 4.5 of stone.
		expect(pairs(5, -1, 9)).toBe(1);
		expect(pairs(5.5, -1, 9)).toBe(0);
		expect(pairs(5, 1, 9)).toBe(0);
		expect(pairs(5, -1, 40)).toBe(0);
	});

	it("agrees with sampling, points and parallels included", () => {
		const random = seededRandom(8);
		const place = (): Vec3 => [20 * random.next(), 20 * random.next(), 20 * random.next()];
		for (let trial = 0; trial < 60; trial++) {
			const [p, q, e] = [place(), place(), place()];
			const f = trial % 4 === 0 ? along(e, sub(q, p), 0.7) : trial % 4 === 1 ? e : place();
			let least = Infinity;
			for (let i = 0; i <= 300; i++)
				for (let j = 0; j <= 300; j++)
					least = Math.min(least, distance(along(p, sub(q, p), i / 300), along(e, sub(f, e), j / 300)));
			const exact = distanceOfSegments(p, q, e, f);
			expect(exact).toBeLessThanOrEqual(least + 1e-9);
			expect(exact).toBeGreaterThan(least - 0.1);
			expect(distanceOfSegments(e, f, p, q)).toBeCloseTo(exact, 9);
		}
	});

	it("finds all pairs that a plain double loop finds", () => {
		const random = seededRandom(4);
		const holes = Array.from({ length: 150 }, (): Hole => {
			const tip: Vec3 = [200 * random.next(), 100 * random.next(), 100 * random.next()];
			const entry = along(tip, unit([random.normal(), random.normal(), random.normal()]), 60 * random.next());
			return { tip, entry, radius: 1 + 2 * random.next() };
		});
		const plain = holes.flatMap((a, i) =>
			holes.flatMap((b, j) => (i < j && webBetween(a, b) < 1.5 ? [{ a: i, b: j, web: webBetween(a, b) }] : [])),
		);
		expect(plain.length).toBeGreaterThan(5);
		expect(finish(crossingHoles(holes, 1.5))).toEqual(plain);
	});
});

describe("parting holes", () => {
	// A hollow trough: holes square to its sides meet over its middle.
	const trough = patch(40, 8, (u, v): Vec3 => {
		const x = 60 * u - 30;
		return [x, 40 * v - 20, (x * x) / 90];
	});
	const search = createLineSearch({
		index: finish(buildSurfaceIndex(trough)),
		stone: stoneOf({ kind: "box", size: [120, 80, 140] }),
		placement: { rotation: IDENTITY, translation: [60, 40, 40] },
		lies: [{ name: "upright", closedFace: "bed" }],
		coneDeg: 30,
		leanDeg: 25,
		outsideMm: 300,
		aim: aimOf("machine"),
	});
	const drill = drillOf(toolSchema.parse({}));
	const at = (x: number, y: number) => ({
		position: [x, y, (x * x) / 90] as Vec3,
		normal: unit([(-2 * x) / 90, 0, 1]),
	});
	const plan = (...targets: ReturnType<typeof at>[]) =>
		targets.map((target) => ({ target, drill, allowance: 2, answer: search.find(target, drill, 2) }));

	it("moves the later of two crossing holes, to a line that is still clear", () => {
		const points = plan(at(-18, 0), at(18, 0), at(0, 15));
		const before = points.map(({ answer }) => holeOf(answer as DrillLine, drill));
		expect(finish(crossingHoles(before))).toMatchObject([{ a: 0, b: 1 }]);
		const { answers, moved, crossings } = finish(separateHoles(points, search));
		expect(moved).toEqual([1]);
		expect(crossings).toEqual([]);
		expect(answers[0]).toBe(points[0].answer);
		const [old, line] = [points[1].answer as DrillLine, answers[1] as DrillLine];
		expect(isUndercut(line)).toBe(false);
		expect(line.tiltCosine).toBeLessThan(old.tiltCosine);
		expect(line.clearance).toBeGreaterThan(2 - 1e-9);
		expect(webBetween(holeOf(answers[0] as DrillLine, drill), holeOf(line, drill))).toBeGreaterThanOrEqual(1);
	});

	it("lists what cannot be parted: two points nearer than their holes are wide", () => {
		const { moved, crossings } = finish(separateHoles(plan(at(0, 0), at(0, 4)), search));
		expect(moved).toEqual([]);
		expect(crossings).toMatchObject([{ a: 0, b: 1, web: expect.closeTo(-2.5, 1) }]);
	});
});
