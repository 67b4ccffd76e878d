import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { finish } from "../../../core/job.ts";
import type { OpenedScan } from "../../../core/plan/answers.ts";
import { type Commission, newCommission } from "../../../core/plan/commission.ts";
import type { Plan } from "../../../core/plan/planFile.ts";
import { createPlanner, openScan } from "../../../core/plan/planner.ts";
import { memorySource } from "../../../core/scan/source.ts";
import { BLOCK_READINGS } from "../../../core/stone/measuredBlock.ts";
import { add, distance, dot, type Placement, place, scale, type Vec3 } from "../../../core/vector.ts";

const scan: OpenedScan = finish(
	openScan(
		memorySource(new Uint8Array(readFileSync(new URL("../../../fixtures/box.stl", import.meta.url)))),
		"box.stl",
	),
);
const plain = newCommission("box.stl");
const onStone = (stone: Partial<Commission["stone"]>): Commission => ({
	...plain,
	rounds: plain.rounds.slice(0, 2),
	stone: { ...plain.stone, ...stone },
});

/** Entries and seats lie on the face they name, where u and v say; the figure keeps within every face. */
function expectOnFaces(plan: Plan): void {
	const { faces, placement, planes } = plan.stone;
	expect(planes?.length).toBe(faces.length);
	const onFace = (name: string, u: number, v: number): Vec3 => {
		const face = faces.find((f) => f.name === name);
		if (!face) throw new Error(`no face ${name}`);
		return add(add(face.origin_mm, scale(face.u, u)), scale(face.v, v));
	};
	let entered = 0;
	for (const point of plan.points) {
		if (!point.face || !point.entry_mm) continue;
		entered++;
		expect(distance(onFace(point.face, point.u_mm!, point.v_mm!), point.entry_mm)).toBeLessThan(1e-4);
	}
	expect(entered).toBeGreaterThan(5);
	for (const set of plan.datumSets)
		for (const d of set.datums) {
			const face = faces.find((f) => f.name === d.face)!;
			expect(
				Math.abs(dot(face.normal, onFace(d.face, d.u_mm, d.v_mm)) - dot(face.normal, face.origin_mm)),
			).toBeLessThan(1e-4);
		}
	for (let i = 0; i < 8; i++) {
		const corner = place(placement as Placement, [i & 1 ? 150 : -150, i & 2 ? 100 : -100, i & 4 ? 100 : 0]);
		planes!.forEach(([x, y, z, b], f) => {
			const gap = b - dot([x, y, z], corner);
			expect(gap).toBeGreaterThanOrEqual(plan.stone.perFace[f].gap_mm - 1e-5);
		});
	}
}

describe("a plan in the stone as it is", () => {
	it("with two corners and an edge broken off", () => {
		const { plan, stone, waits } = finish(
			createPlanner().work(
				scan,
				onStone({
					block_mm: [420, 320, 200],
					breaks: [
						{ kind: "off", faces: ["right", "back", "top"], reach_mm: [90, 80, 70] },
						{ kind: "off", faces: ["left", "front", "top"], reach_mm: [60, 60, 60] },
						{ kind: "off", faces: ["right", "front"], reach_mm: [30, 40] },
					],
				}),
			),
		);
		expect(waits).toEqual([]);
		expect(stone?.stone.faces.length).toBe(9);
		expect(plan?.stone.block_mm).toEqual([420, 320, 200]);
		expectOnFaces(plan!);
	});

	it("measured by tape, a little out of square", () => {
		const lengths = BLOCK_READINGS.map(({ between: [a, b] }) => {
			const corner = (c: number): Vec3 => {
				const [x, y, z] = [c & 1, (c >> 1) & 1, (c >> 2) & 1];
				return [400 * x + 4 * z + 2 * y, 300 * y + 3 * z, 190 * z];
			};
			return distance(corner(a), corner(b));
		});
		const { plan, stone, waits } = finish(
			createPlanner().work(scan, onStone({ given: "measured", measured_mm: lengths })),
		);
		expect(waits).toEqual([]);
		expect(stone?.measured?.spread).toBeLessThan(1e-6);
		expect(stone?.measured?.wrong).toBeNull();
		expect(stone?.stone.faces.map((f) => f.name)).toEqual(["left", "right", "front", "back", "bed", "top"]);
		expectOnFaces(plan!);
	});

	it("an offcut by its faces, whose bounds are brought to the origin", () => {
		const planes: [number, number, number, number][] = [
			[-1, 0, 0, 100],
			[1, 0, 0, 320],
			[0, -1, 0, -50],
			[0, 1, 0, 400],
			[0, 0, -1, 0],
			[0, 0, 1, 180],
			[1, 1, 1, 800],
			[-1, -1, 1, 180],
		];
		const { plan, waits } = finish(createPlanner().work(scan, onStone({ given: "planes", planes })));
		expect(waits).toEqual([]);
		expect(plan?.stone.block_mm).toBeNull();
		expect(plan?.stone.extent_mm).toEqual([420, 350, 180]);
		expect(plan?.lies[0].name).toBe("upright, on face 5");
		expectOnFaces(plan!);
	});

	it("says which reading of the block comes next", () => {
		const measured_mm: (number | null)[] = new Array(24).fill(null);
		measured_mm[0] = 400;
		const { stone, waits } = finish(createPlanner().work(scan, onStone({ given: "measured", measured_mm })));
		expect(stone).toBeNull();
		expect(waits.map(({ page, issue }) => [page, issue.code, issue.facts.left])).toEqual([
			["stone", "stone.readingsMissing", 23],
		]);
	});
});

describe("how the figure may lie", () => {
	const answerOf = (stone: Partial<Commission["stone"]>) => finish(createPlanner().work(scan, onStone(stone)));

	it("the holding foot and what the stone may be off its sizes are taken off", () => {
		const block_mm: [number, number, number] = [340, 240, 180];
		const stood = { block_mm, turning: "as stood" as const };
		const plainFit = answerOf(stood).stone!.fit;
		expect(plainFit.gaps.map((g) => g.gap)).toEqual([20, 20, 20, 20, 40, 40]);
		const foot = answerOf({ ...stood, holdingFoot_mm: 50, outOfTrue_mm: 5 }).stone!.fit;
		expect(foot.gaps.map((g) => Math.round(g.gap * 1e6) / 1e6)).toEqual([20, 20, 20, 20, 15, 15]);
		expect(foot.spare).toBeCloseTo(12.5, 9);
		expect(foot.gaps.every((g) => g.margin === 2.5)).toBe(true);
	});

	it("tipped from upright by no more than said, never worse than upright and never better than free", () => {
		const block_mm: [number, number, number] = [308, 208, 112];
		const at = (turning: Commission["stone"]["turning"]) => answerOf({ block_mm, turning, tip_deg: 3 }).stone!.fit;
		const [upright, tipped, free] = [at("upright"), at("tipped"), at("free")];
		expect(tipped.placement.rotation[8]).toBeGreaterThanOrEqual(Math.cos((3 * Math.PI) / 180) - 1e-12);
		expect(tipped.bound).toBeGreaterThanOrEqual(upright.spare);
		expect(free.bound).toBeGreaterThanOrEqual(tipped.spare);
	});

	it("a natural bed within a limit, and a placement by hand with the bound of the best", () => {
		const block_mm: [number, number, number] = [340, 340, 340];
		const bed = answerOf({
			block_mm,
			turning: "free",
			naturalBed: { normal: [1, 0, 0], model: [0, 0, 1], within_deg: 5 },
		}).stone!.fit;
		// The model's height lies along the block's length.
		expect(Math.abs(bed.placement.rotation[2])).toBeGreaterThanOrEqual(Math.cos((5 * Math.PI) / 180) - 1e-11);
		const byHand = answerOf({
			block_mm,
			byHand: { quaternion: [0, 0, 0, 1], translation_mm: [170, 170, 7] },
		}).stone!.fit;
		expect(byHand.gaps.map((g) => g.gap)).toEqual([20, 20, 70, 70, 7, 233]);
		expect(byHand.bound).toBeGreaterThanOrEqual(20 - 1e-9);
	});

	it("a natural bed as a wish lies at the least angle at which the figure fits", () => {
		// The box is 300 × 200 × 100 and its length is wished along x, in a block 250 long and 350 wide, upright. Turned by t it
		// reaches 300 cos t + 200 sin t along x, which comes down to 250 at t = 79.79° (closed form; |cos t| is the bed's cosine).
		const along: [number, number, number] = [1, 0, 0];
		const naturalBed = { normal: along, model: along, within_deg: null };
		const tight = answerOf({ block_mm: [250, 350, 120], turning: "upright", naturalBed }).stone!;
		expect(tight.wish).toMatchObject({ degrees: 80, proved: true });
		const degrees = (Math.acos(Math.abs(tight.fit.placement.rotation[0])) * 180) / Math.PI;
		expect(degrees).toBeGreaterThan(
			(Math.atan2(200, 300) + Math.acos(250 / Math.hypot(300, 200))) * (180 / Math.PI) - 1e-6,
		);
		expect(degrees).toBeLessThanOrEqual(80 + 1e-9);
		expect(tight.fit.fits).toBe(true);
		expect(tight.fit.bound).toBe(tight.best.bound);
		// With room it lies as wished, whatever would spare more; with a limit, or by hand, nothing is wished.
		const roomy = answerOf({ block_mm: [340, 340, 340], turning: "free", naturalBed }).stone!;
		expect(roomy.wish).toMatchObject({ degrees: 0, proved: true });
		expect(Math.abs(roomy.fit.placement.rotation[0])).toBeGreaterThan(1 - 1e-9);
		const limited = { ...naturalBed, within_deg: 20 };
		expect(answerOf({ block_mm: [340, 340, 340], naturalBed: limited }).stone!.wish).toBeNull();
	});

	it("the smallest of the sizes in stock that takes it, stood on whichever face serves", () => {
		const { sizes } = answerOf({
			block_mm: [400, 400, 400],
			stock_mm: [
				[500, 400, 300],
				[130, 320, 220],
				[310, 210, 90],
				[320, 220, 90],
			],
		});
		expect(sizes?.stock?.index).toBe(1);
		expect([...sizes!.stock!.sides].sort((a, b) => a - b)).toEqual([130, 220, 320]);
		expect(sizes!.stock!.sides[2]).toBe(130);
		expect(sizes?.stock?.allProved).toBe(true);
	});
});
