/** Waste that is left standing under the seats is drilled only where a target has no other way; no hammer on slender parts. */

import { describe, expect, test } from "vitest";
import { finish } from "../../../core/job.ts";
import { type Commission, commissionSchema, newCommission } from "../../../core/plan/commission.ts";
import type { Plan, PlanPoint } from "../../../core/plan/planFile.ts";
import { createPlanner, openScan } from "../../../core/plan/planner.ts";
import type { TriangleMesh } from "../../../core/scan/mesh.ts";
import { memorySource } from "../../../core/scan/source.ts";
import { writeBinaryStl } from "../../../core/scan/writeScan.ts";
import { bossInTheWay } from "../../../core/sheet/sparedGround.ts";
import { along, distance, type Placement, place, sub, type Vec3 } from "../../../core/vector.ts";
import { together } from "../../support/groundMesh.ts";
import { sphere } from "../../support/shapes.ts";

function plainEgg(): TriangleMesh {
	const { mesh } = sphere(60, { edge: 4 });
	return { ...mesh, positions: mesh.positions.map((x, i) => (i % 3 === 2 ? 90 + 1.5 * x : x)) };
}
const scanOf = (mesh: TriangleMesh, name: string) => finish(openScan(memorySource(writeBinaryStl(mesh)), name));
const egg = scanOf(plainEgg(), "egg.stl");
const plain = newCommission("egg.stl");
const on = (position_mm: Vec3, normal: Vec3) => ({ position_mm, normal });
/** The boss at A leans over the ground beside it. */
const datums = (z = 90) => [on([0, -60, z], [0.8, -0.6, 0]), on([57, 0, 110], [1, 0, 0]), on([-57, 0, 70], [-1, 0, 0])];
const commissionOf = (transfer: Commission["transfer"], z?: number): Commission =>
	commissionSchema.parse(
		structuredClone({
			...plain,
			transfer,
			scan: { ...plain.scan, unit: "mm" },
			stone: { ...plain.stone, block_mm: [220, 220, 260], turning: "as stood" },
			stud_mm: 40,
			rounds: [{ ...plain.rounds[1], count: 60 }],
			// The same for both, so that nothing but the bosses tells the lines apart.
			aim: { mark_mm: 1, lean_deg: 0.5, wander: 0.005 },
			datumSets: [{ name: "1", datums: datums(z), link: null, measured_mm: null }],
		}),
	);
const planner = createPlanner();
const planOf = (commission: Commission, by = planner): Plan => {
	const { plan, waits } = finish(by.work(egg, commission));
	if (!plan) throw new Error(JSON.stringify(waits));
	return plan;
};

/** Least way between the axis of a hole and that of a boss, by steps apart from the program's own distance of segments. */
function nearest(tip: Vec3, entry: Vec3, foot: Vec3, seat: Vec3): number {
	let least = Number.POSITIVE_INFINITY;
	for (let i = 0; i <= 120; i++)
		for (let j = 0; j <= 40; j++)
			least = Math.min(least, distance(along(tip, sub(entry, tip), i / 120), along(foot, sub(seat, foot), j / 40)));
	return least;
}
const bossesOf = (plan: Plan): [Vec3, Vec3][] =>
	plan.datumSets.flatMap((set) => set.datums.map((d): [Vec3, Vec3] => [d.foot_mm, d.stone_mm]));
const boreOf = (p: PlanPoint): [Vec3, Vec3] => [
	along(p.entry_mm as Vec3, p.line as Vec3, -(p.depth_mm as number)),
	p.entry_mm as Vec3,
];
const inTheWay = (plan: Plan, bosses: [Vec3, Vec3][]): PlanPoint[] =>
	plan.points.filter(
		(p) =>
			p.depth_mm !== null &&
			bosses.some(([foot, seat]) => nearest(...boreOf(p), foot, seat) < 15 + plan.rounds[p.round].tool.radius_mm),
	);
/** Within the boss itself, so that no line is clear of it. */
const liesUnder = (plan: Plan, p: PlanPoint, bosses: [Vec3, Vec3][]): boolean => {
	const at = place(plan.stone.placement as Placement, p.model_mm);
	return bosses.some(([foot, seat]) => nearest(at, at, foot, seat) < 17 + plan.rounds[p.round].tool.radius_mm);
};

describe("bosses under the seats", () => {
	const machine = planOf(commissionOf("machine"));
	const faces = planOf(commissionOf("faces"));
	const bosses = bossesOf(machine);

	test("stand from the figure to the seat, as high as the stud", () => {
		for (const { foot_mm, stone_mm, stud_mm } of machine.datumSets[0].datums)
			expect(distance(foot_mm, stone_mm)).toBeCloseTo(stud_mm, 4);
	});
	test("are passed by where a target has another line", () => {
		const before = inTheWay(faces, bosses).filter((p) => !liesUnder(faces, p, bosses));
		expect(before.length).toBeGreaterThan(0);
		const after = inTheWay(machine, bosses);
		expect(after.length).toBeLessThan(inTheWay(faces, bosses).length);
		for (const p of after) expect(liesUnder(machine, p, bosses)).toBe(true);
	});
	test("cost no point its hole: targets under them are drilled, and the table says at which seat", () => {
		const holes = (plan: Plan) => plan.points.filter((p) => p.depth_mm !== null).length;
		expect(holes(machine)).toBe(holes(faces));
		const after = inTheWay(machine, bosses);
		expect(after.length).toBeGreaterThan(0);
		for (const p of machine.points) expect(bossInTheWay(machine, p) !== null).toBe(after.includes(p));
	});
	test("that are moved change the lines and nothing else, and the plan is that of a fresh planner", () => {
		planOf(commissionOf("machine"));
		planner.ran();
		const moved = planOf(commissionOf("machine", 96));
		expect(planner.ran()).not.toContain("rounds");
		expect(moved.points.map((p) => p.model_mm).sort()).toEqual(machine.points.map((p) => p.model_mm).sort());
		expect(JSON.stringify(moved)).toBe(JSON.stringify(planOf(commissionOf("machine", 96), createPlanner())));
	});
});

describe("a slender part", () => {
	/** A stout egg, and a spindle 20 mm thick that stands 180 mm out of it: over 15 mm, and more than five times as long as thick. */
	const { mesh: ball } = sphere(60, { edge: 4 });
	const stretched = (by: Vec3, up: number): TriangleMesh => ({
		...ball,
		positions: ball.positions.map((x, i) => by[i % 3] * x + (i % 3 === 2 ? up : 0)),
	});
	const figure = scanOf(together(stretched([1, 1, 1], 60), stretched([1 / 6, 1 / 6, 2], 190)), "spindle.stl");
	const [, rough] = plain.rounds;
	const pointsWith = (action: "hammer" | "carbide"): PlanPoint[] => {
		const commission = commissionSchema.parse(
			structuredClone({
				...plain,
				scan: { ...plain.scan, unit: "mm" },
				stone: { ...plain.stone, block_mm: [200, 200, 400], turning: "as stood" },
				rounds: [
					{ ...rough, count: 30, tool: { ...rough.tool, action } },
					{ ...plain.rounds[2], count: 4 },
					{ ...plain.rounds[3], count: 4 },
				],
			}),
		);
		const { plan, waits } = finish(createPlanner().work(figure, commission));
		if (!plan) throw new Error(JSON.stringify(waits));
		return plan.points.filter((p) => p.round === 0);
	};
	test("takes no hammer, the stout one beside it does", () => {
		const onSpindle = ({ model_mm: [, , z], thickness_mm }: PlanPoint): boolean =>
			z > 145 && z < 235 && (thickness_mm as number) > 15;
		const carbide = pointsWith("carbide").filter(onSpindle);
		expect(carbide.filter((p) => p.depth_mm !== null).length).toBeGreaterThan(2);
		const hammer = pointsWith("hammer");
		expect(hammer.filter(onSpindle).filter((p) => p.depth_mm !== null)).toEqual([]);
		expect(hammer.filter((p) => p.model_mm[2] < 80 && p.depth_mm !== null).length).toBeGreaterThan(4);
	});
});
