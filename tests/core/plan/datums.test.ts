import { describe, expect, it } from "vitest";
import type { Triangle } from "../../../core/datum/seatError.ts";
import { finish } from "../../../core/job.ts";
import type { Answers } from "../../../core/plan/answers.ts";
import { type Commission, newCommission } from "../../../core/plan/commission.ts";
import { type Plan, planSchema } from "../../../core/plan/planFile.ts";
import { createPlanner, openScan } from "../../../core/plan/planner.ts";
import type { TriangleMesh } from "../../../core/scan/mesh.ts";
import { memorySource } from "../../../core/scan/source.ts";
import { writeBinaryStl } from "../../../core/scan/writeScan.ts";
import {
	add,
	distance,
	length,
	type Placement,
	place,
	rotationFromQuaternion,
	scale,
	sub,
	turn,
	type Vec3,
} from "../../../core/vector.ts";
import { patch, together } from "../../support/groundMesh.ts";
import { placeFromLengths } from "../../support/placeFromLengths.ts";

/** A box of 300 × 200 × 100 mm on its foot, with a vertex every 10 mm, as a scan has them. */
function fineBox(): TriangleMesh {
	const side = (o: Vec3, u: Vec3, v: Vec3): TriangleMesh =>
		patch(Math.round(length(u) / 10), Math.round(length(v) / 10), (s, t) => add(o, add(scale(u, s), scale(v, t))));
	const [l, w, h]: Vec3[] = [
		[300, 0, 0],
		[0, 200, 0],
		[0, 0, 100],
	];
	const [low, high]: Vec3[] = [
		[-150, -100, 0],
		[150, 100, 100],
	];
	const back = (a: Vec3): Vec3 => scale(a, -1);
	return together(
		side(low, w, l),
		side(low, l, h),
		side(low, h, w),
		side(high, back(l), back(w)),
		side(high, back(h), back(l)),
		side(high, back(w), back(h)),
	);
}

const scan = finish(openScan(memorySource(writeBinaryStl(fineBox())), "box.stl"));
const plain = newCommission("box.stl");
/** In a block with room around it; 30 points keep it quick. */
const machine: Commission = {
	...plain,
	transfer: "machine",
	rounds: [{ ...plain.rounds[1], count: 30 }],
	stone: { ...plain.stone, block_mm: [420, 320, 200], turning: "as stood" },
};
const planner = createPlanner();
const work = (commission: Commission, by = planner): Answers => finish(by.work(scan, commission));
const planOf = (commission: Commission, by = planner): Plan => {
	const { plan, waits } = work(commission, by);
	if (!plan) throw new Error(JSON.stringify(waits));
	return plan;
};
const codes = ({ waits }: Answers): string[] => [...new Set(waits.map(({ issue }) => issue.code))];

/** Datums on the front half of the top and of the front; and the same behind. */
const on = (position_mm: Vec3, normal: Vec3) => ({ position_mm: [...position_mm], normal: [...normal] }) as const;
const frontSet = (): Commission["datumSets"][number] => ({
	name: "front",
	datums: [
		on([0, -100, 80], [0, -1, 0]),
		on([120, -100, 20], [0, -1, 0]),
		on([-120, -100, 20], [0, -1, 0]),
	] as unknown as Commission["datumSets"][number]["datums"],
	link: null,
	measured_mm: null,
});
const backSet = (): Commission["datumSets"][number] => ({
	...frontSet(),
	name: "back",
	datums: [
		on([0, 100, 80], [0, 1, 0]),
		on([-120, 100, 20], [0, 1, 0]),
		on([120, 100, 20], [0, 1, 0]),
	] as unknown as Commission["datumSets"][number]["datums"],
});

describe("seats as they were measured", () => {
	const before = planOf({ ...machine, datumSets: [frontSet()] });
	const [set] = before.datumSets;
	/** A small motion of the whole setting: 1.5 mm and half a degree. */
	const moved: Placement = {
		rotation: rotationFromQuaternion([0.002, -0.001, 0.004, 1]),
		translation: [1.2, -0.8, 0.4],
	};
	const middle: Vec3 = [210, 160, 100];
	const move = (p: Vec3): Vec3 => add(turn(moved.rotation, sub(p, middle)), add(middle, moved.translation));
	const measured_mm = set.datums.map((d) => [...move(d.stone_mm)]) as Commission["datumSets"][number]["measured_mm"];

	it("carry the figure with them, and everything is worked out again", () => {
		const after = planOf({ ...machine, datumSets: [{ ...frontSet(), measured_mm }] });
		expect(planSchema.safeParse(after).success).toBe(true);
		const now = after.stone.placement as Placement;
		const then = before.stone.placement as Placement;
		for (const corner of [
			[150, 100, 100],
			[-150, -100, 0],
			[0, 0, 50],
		] as const)
			expect(distance(place(now, corner), move(place(then, corner)))).toBeLessThan(1e-5);
		expect(after.datumSets[0].measured).toBe(true);
		expect(after.cautions.some((c) => c.includes("lies where its seats were measured"))).toBe(true);
		for (const off of after.datumSets[0].seatOff_mm ?? []) expect(off).toBeLessThan(1e-5);
		// The gap to each face is that of the figure where it now lies.
		const corners = [-150, 150].flatMap((x) => [-100, 100].flatMap((y) => [0, 100].map((z): Vec3 => [x, y, z])));
		for (const { face, gap_mm } of after.stone.perFace) {
			const [k, high] = (
				{ left: [0, 0], right: [0, 1], front: [1, 0], back: [1, 1], bed: [2, 0], top: [2, 1] } as const
			)[face as "left"];
			const at = corners.map((c) => place(now, c)[k]);
			expect(gap_mm).toBeCloseTo(high ? after.stone.block_mm![k] - Math.max(...at) : Math.min(...at), 5);
		}
		for (const point of after.points.filter((p) => !p.undercut)) {
			const tip = add(place(now, point.model_mm), point.line!.map((d) => d * point.stop_mm!) as unknown as Vec3);
			expect(
				distance(add(point.entry_mm!, point.line!.map((d) => -d * point.depth_mm!) as unknown as Vec3), tip),
			).toBeLessThan(1e-4);
		}
	});

	it("that do not match the model say by how much each is off, and which side to read again", () => {
		const wrong = structuredClone(measured_mm)!;
		wrong[1][0] += 2;
		const after = planOf({ ...machine, datumSets: [{ ...frontSet(), measured_mm: wrong }] });
		const off = after.datumSets[0].seatOff_mm!;
		expect(Math.max(...off)).toBeGreaterThan(0.5);
		expect(after.cautions.some((c) => c.startsWith("AB of set front measures"))).toBe(true);
	});

	it("are refused outside the stone, far from the mark, and where they push the figure out", () => {
		const shifted = (dx: number): Commission["datumSets"] => [
			{
				...frontSet(),
				measured_mm: set.datums.map((d) => [d.stone_mm[0] + dx, d.stone_mm[1], d.stone_mm[2]]) as typeof measured_mm,
			},
		];
		expect(codes(work({ ...machine, datumSets: shifted(-40) }))).toEqual(["datum.measuredFar"]);
		expect(codes(work({ ...machine, datumSets: shifted(500) }))).toEqual(["datum.measuredOutside"]);
		const tight: Commission = { ...machine, stone: { ...machine.stone, block_mm: [310, 320, 200] } };
		const inTight = planOf({ ...tight, datumSets: [frontSet()] }).datumSets[0].datums;
		const pushed = inTight.map((d) => [d.stone_mm[0] + 12, d.stone_mm[1], d.stone_mm[2]]) as typeof measured_mm;
		expect(codes(work({ ...tight, datumSets: [{ ...frontSet(), measured_mm: pushed }] }))).toEqual([
			"plan.seatsPushOut",
		]);
	});
});

describe("linked sets", () => {
	const linked = planOf({
		...machine,
		arm_mm: 400,
		datumSets: [frontSet(), { ...backSet(), link: { to: 0, points: [] } }],
	});

	it("serve the points on their own side, with the error of the link added", () => {
		const [front, back] = linked.datumSets;
		expect(front.link).toBeNull();
		expect(back.link?.points).toHaveLength(3);
		for (const point of linked.points) {
			if (point.normal[1] < -0.5) expect(point.set).toBe(0);
			if (point.normal[1] > 0.5) expect(point.set).toBe(1);
		}
		const alone = planOf({ ...machine, arm_mm: 400, datumSets: [frontSet(), backSet()] });
		const behind = linked.points.filter((p) => p.set === 1);
		expect(behind.length).toBeGreaterThan(0);
		for (const point of behind) {
			const fellow = alone.points.find((p) => p.number === point.number);
			if (fellow?.set === 1) expect(point.error_mm).toBeGreaterThan(1.2 * fellow.error_mm);
		}
		expect(linked.cautions.some((c) => c.includes("link set back to set front before the seats"))).toBe(true);
		for (const link of back.link?.points ?? [])
			expect(distance(place(linked.stone.placement as Placement, link.model_mm), link.stone_mm)).toBeLessThan(1e-5);
	});

	it("are suggested where the arm does not reach the whole figure, and what no arm reaches is said", () => {
		const far = planOf({ ...machine, arm_mm: 170 });
		expect(far.datumSets.length).toBeGreaterThan(1);
		expect(far.datumSets.slice(1).every((set) => set.link?.to === 0)).toBe(true);
		const short = planOf({ ...machine, arm_mm: 60, datumSets: [frontSet()] });
		expect(short.cautions.some((c) => c.includes("from the middle of every cross"))).toBe(true);
		expect(planOf({ ...machine, transfer: "faces", arm_mm: 60 }).datumSets).toHaveLength(1);
	});
});

describe("what belongs to the transfer", () => {
	it("a cross or straightedge is not carried over at another size or hand; callipers and faces are", () => {
		const at = (transfer: Commission["transfer"], benchScale: number, mirrored = false): string[] =>
			codes(
				work({
					...machine,
					transfer,
					model: { ...machine.model, benchScale },
					scan: { ...machine.scan, mirrored },
				}),
			);
		for (const transfer of ["machine", "straightedge"] as const) {
			expect(at(transfer, 1)).toEqual([]);
			expect(at(transfer, 1.5)).toEqual(["plan.crossNotCarried"]);
			expect(at(transfer, 1, true)).toEqual(["plan.crossNotCarried"]);
		}
		for (const transfer of ["callipers", "faces"] as const) {
			expect(at(transfer, 1.5)).toEqual([]);
			expect(at(transfer, 1, true)).toEqual([]);
		}
	});

	it("callipers name the side, and the side leads from three lengths on a smaller model to the target", () => {
		const plan = planOf({ ...machine, transfer: "callipers", model: { ...machine.model, benchScale: 2.5 } });
		const datums = plan.datumSets[0].datums.map((d) => d.model_mm) as unknown as Triangle;
		const ways: Record<string, Vec3> = {
			front: [0, -1, 0],
			back: [0, 1, 0],
			right: [1, 0, 0],
			left: [-1, 0, 0],
			top: [0, 0, 1],
			bed: [0, 0, -1],
		};
		for (const point of plan.points.filter((p) => !p.undercut && !p.calliperUnreliable)) {
			const lengths = point.callipers_mm!.model.map((l) => 2.5 * l) as unknown as Vec3;
			const both = ([1, -1] as const).map((side) => placeFromLengths(datums, lengths, side, 0.1)!);
			const way = ways[point.calliperSide!];
			const along = (p: Vec3): number => p[0] * way[0] + p[1] * way[1] + p[2] * way[2];
			const named = along(both[0]) > along(both[1]) ? both[0] : both[1];
			expect(distance(named, point.model_mm)).toBeLessThan(0.02);
		}
		expect(plan.proofMarks.length).toBeGreaterThanOrEqual(4);
		const unreliable = plan.points.filter((p) => p.calliperUnreliable);
		expect(plan.cautions.some((c) => c.includes("hardly hold their height"))).toBe(unreliable.length > 0);
	});

	it("a straightedge tells along, across and below, on model and stone, and no other transfer does", () => {
		const plan = planOf({ ...machine, transfer: "straightedge", datumSets: [frontSet()] });
		const seatsAt = plan.datumSets[0].datums[0].stud_mm;
		for (const point of plan.points.filter((p) => !p.undercut && p.normal[1] === -1)) {
			const { model, stone } = point.straightedge_mm!;
			// The studs stand over the front, which the targets lie on.
			expect(model[2]).toBeCloseTo(seatsAt, 5);
			expect(stone[2]).toBeCloseTo(seatsAt - point.stop_mm! * Math.abs(point.line![1]), 4);
		}
		expect(plan.proofMarks).toEqual([]);
		expect(planOf(machine).points.every((p) => p.straightedge_mm === null)).toBe(true);
	});

	it("proof marks are the carver's own, or suggested where a cross or callipers read from datums", () => {
		const own = planOf({
			...machine,
			proofMarks: [on([0, -100, 50], [0, -1, 0]) as unknown as Commission["proofMarks"][number]],
		});
		expect(own.proofMarks.map(({ name, suggested, face }) => [name, suggested, face])).toEqual([
			["P1", false, "front"],
		]);
		expect(own.proofMarks[0].waste_mm).toBeCloseTo(60, 5);
		const suggested = planOf(machine);
		expect(suggested.proofMarks.every((m) => m.suggested && m.fromHole_mm !== null && m.fromHole_mm >= 15)).toBe(true);
		expect(planOf({ ...machine, transfer: "faces" }).proofMarks).toEqual([]);
	});

	it("gives the same bytes again", () => {
		const both = { ...machine, datumSets: [frontSet(), { ...backSet(), link: { to: 0, points: [] } }] };
		expect(JSON.stringify(planOf(both))).toBe(JSON.stringify(planOf(structuredClone(both), createPlanner())));
	});
});
