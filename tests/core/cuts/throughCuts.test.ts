import { beforeAll, describe, expect, it } from "vitest";
import {
	type ConvexSolid,
	cutBy,
	measuresOf,
	type Plane,
	solidOf,
	volumeBeyond,
} from "../../../core/cuts/convexSolid.ts";
import { describeCut } from "../../../core/cuts/describeCut.ts";
import { nextCut } from "../../../core/cuts/proposeCuts.ts";
import { sidesNeeded, USUAL_SAWS } from "../../../core/cuts/saws.ts";
import { type Kept, markedCorner, type Spared, sparedBody, spareOf } from "../../../core/cuts/spared.ts";
import { standingOn } from "../../../core/cuts/standing.ts";
import { removableWaste } from "../../../core/cuts/waste.ts";
import { finish } from "../../../core/job.ts";
import { seededRandom } from "../../../core/random.ts";
import { stoneOf } from "../../../core/stone/block.ts";
import { convexHull, type Hull } from "../../../core/stone/hull.ts";
import {
	cross,
	dot,
	IDENTITY,
	type Placement,
	place,
	rotationFromQuaternion,
	sub,
	unit,
	type Vec3,
} from "../../../core/vector.ts";
import type { Seed } from "../../../seeds/index.ts";
import { demoInput } from "../../support/demoPlans.ts";

const block = (size: Vec3): ConvexSolid => solidOf(stoneOf({ kind: "box", size }));
const boxHull = ([x, y, z]: Vec3): Hull =>
	finish(
		convexHull(
			Float64Array.from([0, 1, 2, 3, 4, 5, 6, 7].flatMap((i) => [i & 1 ? x : 0, i & 2 ? y : 0, i & 4 ? z : 0])),
		),
	);
const moved = (translation: Vec3): Placement => ({ rotation: IDENTITY, translation });
const saw = USUAL_SAWS["wire saw"];

/** Volume of a box grown all round (Steiner's formula). */
const grownBox = ([a, b, c]: Vec3, r: number): number =>
	a * b * c + 2 * r * (a * b + b * c + c * a) + Math.PI * r * r * (a + b + c) + (4 / 3) * Math.PI * r ** 3;

describe("removable waste", () => {
	it("is the stone less the grown figure, as Steiner's formula counts it, never understated", () => {
		for (const [over, size] of [
			[17, [200, 150, 300]],
			[27, [90, 400, 60]],
		] as [number, Vec3][]) {
			const stock: Vec3 = [size[0] + 100, size[1] + 100, size[2] + 100];
			const spared = sparedBody(boxHull(size), moved([50, 50, 50]), [], over);
			const exact = stock[0] * stock[1] * stock[2] - grownBox(size, over);
			const found = finish(removableWaste(block(stock), spared));
			expect(found).toBeGreaterThanOrEqual(exact - 1e-3);
			expect((found - exact) / exact).toBeLessThan(1e-3);
		}
	});

	it("counts nothing outside the stone where the grown figure sticks out of it", () => {
		// Of a block 10 wider all round, a figure grown by 15 leaves the eight corners alone, each beyond a ball around its corner.
		const spared = sparedBody(boxHull([100, 100, 100]), moved([10, 10, 10]), [], 15);
		let outside = 0;
		const steps = 60;
		for (let i = 0; i < steps ** 3; i++) {
			const [x, y, z] = [i % steps, Math.floor(i / steps) % steps, Math.floor(i / steps ** 2)].map(
				(k) => ((k + 0.5) * 10) / steps,
			);
			if (x * x + y * y + z * z > 225) outside += (10 / steps) ** 3;
		}
		const found = finish(removableWaste(block([120, 120, 120]), spared));
		expect(found).toBeGreaterThan(8 * outside);
		expect(found).toBeLessThan(8 * outside * 1.1);
	});
});

describe("what is spared", () => {
	it("keeps bosses, bridges and the corner: the limit is the farthest of dense points on them", () => {
		const kept: Kept[] = [
			{ kind: "boss", name: "boss A", from: [150, 90, 200], to: [180, 80, 240], radius: 15 },
			{ kind: "bridge", name: "bridge 1", from: [20, 20, 50], to: [60, 10, 180], radius: 22 },
			markedCorner([300, 200, 400]),
		];
		const spared = sparedBody(boxHull([100, 80, 200]), moved([60, 50, 40]), kept, 17);
		const random = seededRandom(77);
		for (let trial = 0; trial < 60; trial++) {
			const n = unit([random.normal(), random.normal(), random.normal()]);
			let reach =
				Math.max(...[160, 60].flatMap((x) => [130, 50].flatMap((y) => [240, 40].map((z) => dot(n, [x, y, z]))))) + 17;
			for (const one of kept) {
				if (one.kind === "corner" || one.kind === "places") {
					reach = Math.max(reach, ...one.places.map((at) => dot(n, at)));
					continue;
				}
				const axis = unit(sub(one.to, one.from));
				const a = unit(cross(axis, Math.abs(axis[0]) < 0.7 ? [1, 0, 0] : [0, 1, 0]));
				const b = cross(axis, a);
				for (const end of [one.from, one.to])
					for (let k = 0; k < 2000; k++) {
						const t = (Math.PI * k) / 1000;
						const p: Vec3 =
							one.kind === "bridge"
								? n
								: ([0, 1, 2].map((i) => Math.cos(t) * a[i] + Math.sin(t) * b[i]) as unknown as Vec3);
						reach = Math.max(
							reach,
							dot(n, [end[0] + one.radius * p[0], end[1] + one.radius * p[1], end[2] + one.radius * p[2]]) + 17,
						);
					}
			}
			expect(Math.abs(spared.limit(n).offset - reach)).toBeLessThan(1e-3);
		}
	});
});

describe("reach of the saw", () => {
	const rectangle: Vec3[] = [
		[0, 0, 0],
		[300, 0, 0],
		[300, 180, 0],
		[0, 180, 0],
	];
	it("goes through from one side, from two, or not at all", () => {
		expect(sidesNeeded(rectangle, [0, 0, 1], 180)).toBe(1);
		expect(sidesNeeded(rectangle, [0, 0, 1], 179)).toBe(2);
		expect(sidesNeeded(rectangle, [0, 0, 1], 90)).toBe(2);
		expect(sidesNeeded(rectangle, [0, 0, 1], 89)).toBe(null);
		expect(sidesNeeded(rectangle, [0, 0, 1], Number.POSITIVE_INFINITY)).toBe(1);
		// A triangle of 300 by 180: its height over the long side is 300 · 180 / √(300² + 180²) = 154.3.
		const triangle: Vec3[] = [
			[0, 0, 0],
			[300, 0, 0],
			[0, 180, 0],
		];
		expect(sidesNeeded(triangle, [0, 0, 1], 155)).toBe(1);
		expect(sidesNeeded(triangle, [0, 0, 1], 154)).toBe(2);
	});
});

describe("one cut described", () => {
	it("is drawn, weighed and propped as counted by hand", () => {
		// A vertical cut off the back right edge of a block, 60 along each face.
		const solid = block([300, 200, 400]);
		const n = unit([1, 1, 0]);
		const plane: Plane = { normal: n, offset: dot(n, [240, 200, 0]) };
		const report = describeCut(solid, plane, "cut 1", "bed", saw, [2600, 2800]);
		expect(report?.volume).toBeCloseTo((60 * 60 * 400) / 2, 4);
		expect(report?.mass[0]).toBeCloseTo(0.72e-3 * 2600, 9);
		expect(report?.mass[1]).toBeCloseTo(0.72e-3 * 2800, 9);
		const marks = report?.marks.map((m) => [m.faces.join("/"), m.from, Math.round(m.distance * 1e6) / 1e6]);
		expect(marks).toEqual([
			["back/bed", "left", 240],
			["back/top", "left", 240],
			["right/top", "front", 140],
			["right/bed", "front", 140],
		]);
		// The piece is a slender prism, 400 high on a foot whose middle lies 17 mm from its rim.
		expect(report?.loose).toBe("topples");
		expect(report?.stands).toBe(true);
		const off = (normal: Vec3, through: Vec3) =>
			describeCut(solid, { normal: unit(normal), offset: dot(unit(normal), through) }, "cut", "bed", saw, [1, 1])
				?.loose;
		expect(off([0, 0, 1], [0, 0, 300])).toBe("rests");
		expect(off([0, 1, 1], [0, 200, 300])).toBe("slides");
		expect(off([1, 0, 0.01], [200, 0, 300])).toBe("stands");
		expect(describeCut(solid, { normal: [0, 0, 1], offset: 400 }, "cut", "bed", saw, [1, 1])).toBe(null);
	});

	it("says whether what is left stands", () => {
		// A wedge: the block cut from the whole top front edge down to the back of the bed leaves a triangle of 200 by 400 whose
		// centre stands a third in from the back.
		const n = unit([0, -2, 1]);
		const left = cutBy(block([300, 200, 400]), { normal: n, offset: dot(n, [0, 0, 0]) }, "cut 1") as ConvexSolid;
		const standing = standingOn(left, "bed");
		expect(standing?.margin).toBeCloseTo(200 / 3, 6);
		expect(standing?.height).toBeCloseTo(400 / 3, 6);
		// Leant over: bed only 40 deep at the front, stone hanging over to the back.
		const m = unit([0, 2, -1]);
		const over = cutBy(block([300, 200, 400]), { normal: m, offset: dot(m, [0, 40, 0]) }, "cut 1") as ConvexSolid;
		expect(standingOn(over, "bed")?.margin).toBeLessThan(0);
		expect(standingOn(over, "cut 2")).toBe(null);
	});
});

/** Hulls and block of a demo's figure with 25 mm on all sides. */
function figure(
	name: Seed["name"],
	margin = 25,
): { hull: Hull; size: Vec3; placement: Placement; positions: Float64Array } {
	const { positions } = demoInput(name).scan.file.mesh;
	const low = [Infinity, Infinity, Infinity];
	const high = [-Infinity, -Infinity, -Infinity];
	positions.forEach((x, i) => {
		low[i % 3] = Math.min(low[i % 3], x);
		high[i % 3] = Math.max(high[i % 3], x);
	});
	const size: Vec3 = [high[0] - low[0] + 2 * margin, high[1] - low[1] + 2 * margin, high[2] - low[2] + 2 * margin];
	return {
		hull: finish(convexHull(positions)),
		size,
		placement: moved([margin - low[0], margin - low[1], margin - low[2]]),
		positions,
	};
}

describe("proposed cuts", () => {
	it("cut a cube free by its edges: the first cut takes the most that any of 20,000 random planes takes", () => {
		const spared = sparedBody(
			boxHull([100, 100, 100]),
			{ rotation: rotationFromQuaternion([0.2, 0.1, 0.4, 1]), translation: [90, 100, 80] },
			[],
			17,
		);
		const solid = block([260, 240, 250]);
		const cut = finish(nextCut(solid, { spared, saw, lieFaces: [], unwanted: [] }, 1)) as Plane;
		const freed = volumeBeyond(solid, cut);
		const random = seededRandom(31);
		let most = 0;
		for (let trial = 0; trial < 20_000; trial++) {
			const normal = unit([random.normal(), random.normal(), random.normal()]);
			most = Math.max(most, volumeBeyond(solid, { normal, offset: spared.limit(normal).offset }));
		}
		expect(freed).toBeGreaterThan(most * (1 - 1e-6));
	});

	describe("on the owl with 25 mm margins", () => {
		let owl: ReturnType<typeof figure>;
		beforeAll(() => {
			owl = figure("owl");
		}, 60_000);

		it("free 65 % of the removable waste with eight cuts, whatever the saw; by brute force none comes nearer than its allowance", () => {
			for (const kind of ["bridge saw", "wire saw", "hand disc"] as const) {
				const tool = USUAL_SAWS[kind];
				const kept: Kept[] = [
					{
						kind: "boss",
						name: "boss A",
						from: place(owl.placement, [0, -60, 40]),
						to: place(owl.placement, [0, -88, 40]),
						radius: 15,
					},
					{
						kind: "bridge",
						name: "bridge 1",
						from: place(owl.placement, [40, 0, 200]),
						to: place(owl.placement, [70, -20, 180]),
						radius: 20,
					},
					markedCorner(owl.size),
				];
				const over = tool.allowance + tool.kerf / 2;
				const spared: Spared = sparedBody(owl.hull, owl.placement, kept, over);
				let solid = block(owl.size);
				const waste = finish(removableWaste(solid, spared));
				const whole = measuresOf(solid).volume;
				for (let k = 1; k <= 8; k++) {
					const cut = finish(
						nextCut(solid, { spared, saw: tool, lieFaces: ["bed", "back"], unwanted: [] }, 1),
					) as Plane;
					expect(spareOf(spared, cut).spare).toBeCloseTo(0, 9);
					const { normal: n, offset } = cut;
					let nearest = Infinity;
					for (let i = 0; i < owl.positions.length; i += 3) {
						const at = place(owl.placement, [owl.positions[i], owl.positions[i + 1], owl.positions[i + 2]]);
						nearest = Math.min(nearest, offset - dot(n, at));
					}
					expect(nearest).toBeGreaterThan(over - 1e-9);
					for (const one of kept)
						if (one.kind === "bridge")
							expect(offset - Math.max(dot(n, one.from), dot(n, one.to)) - one.radius).toBeGreaterThan(over - 1e-9);
					expect(offset).toBeGreaterThanOrEqual(0);
					const report = describeCut(solid, cut, `cut ${k}`, "bed", tool, [2600, 2800]);
					expect(report?.sides).not.toBe(null);
					expect(report?.stands).toBe(true);
					solid = report?.left as ConvexSolid;
				}
				const share = (whole - measuresOf(solid).volume) / waste;
				expect(share, kind).toBeGreaterThan(0.65);
				expect(share, kind).toBeLessThan(1);
			}
		});

		it("looks elsewhere for a cut that is not wanted", () => {
			const tool = USUAL_SAWS["bridge saw"];
			const spared = sparedBody(owl.hull, owl.placement, [], tool.allowance + tool.kerf / 2);
			const solid = block(owl.size);
			const bench = { spared, saw: tool, lieFaces: [], unwanted: [] as Vec3[] };
			const first = finish(nextCut(solid, bench, 1)) as Plane;
			const second = finish(nextCut(solid, { ...bench, unwanted: [first.normal] }, 1)) as Plane;
			expect(dot(first.normal, second.normal)).toBeLessThan(0.967);
			expect(volumeBeyond(solid, second)).toBeLessThan(volumeBeyond(solid, first));
			expect(finish(nextCut(solid, bench, 1e9))).toBe(null);
		});
	});
});
