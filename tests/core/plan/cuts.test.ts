import { beforeAll, describe, expect, it } from "vitest";
import { finish } from "../../../core/job.ts";
import type { Answers, OpenedScan } from "../../../core/plan/answers.ts";
import { type Commission, newCommission } from "../../../core/plan/commission.ts";
import type { Plan } from "../../../core/plan/planFile.ts";
import { createPlanner, openScan } from "../../../core/plan/planner.ts";
import { memorySource } from "../../../core/scan/source.ts";
import { writeBinaryStl } from "../../../core/scan/writeScan.ts";
import { along, distance, dot, place, placeBack, sub, type Vec3 } from "../../../core/vector.ts";
import { handPlan } from "../../support/handPlan.ts";

describe("a plan with cuts", () => {
	let bare: Plan;
	let plan: Plan;
	let answers: Answers;
	let scan: OpenedScan;
	let wanted: Commission;
	const planner = createPlanner();
	beforeAll(() => {
		// A lumpy egg, small enough to be planned four times.
		scan = finish(openScan(memorySource(writeBinaryStl(handPlan({ rings: 28 }).mesh)), "egg.stl"));
		const plain = newCommission("egg.stl");
		const few: Commission = {
			...plain,
			transfer: "machine",
			scan: { ...plain.scan, unit: "mm" },
			stone: { ...plain.stone, block_mm: [260, 240, 400] },
			rounds: [{ ...plain.rounds[1], count: 40 }],
		};
		bare = finish(planner.work(scan, few)).plan as Plan;
		wanted = { ...few, cuts: { ...few.cuts, count: 8 } };
		answers = finish(planner.work(scan, wanted));
		plan = answers.plan as Plan;
	}, 120_000);

	it("says nothing of cuts unless they are asked for", () => {
		expect(bare).toMatchObject({ saw: null, cuts: [], afterCuts: null, bridges: [] });
	});

	it("makes every cut spare the figure and the bosses, and says what is gone", () => {
		const { positions } = answers.model?.mesh ?? { positions: new Float64Array() };
		const over = (plan.saw?.allowance_mm ?? 0) + (plan.saw?.kerf_mm ?? 0) / 2;
		expect(over).toBe(18);
		expect(plan.cuts).toHaveLength(8);
		for (const { plane } of plan.cuts) {
			const n: Vec3 = [plane[0], plane[1], plane[2]];
			for (let i = 0; i < positions.length; i += 3) {
				const at = place(plan.stone.placement as never, [positions[i], positions[i + 1], positions[i + 2]]);
				if (plane[3] - dot(n, at) < over - 1e-5)
					throw new Error(`vertex ${i / 3} lies ${plane[3] - dot(n, at)} mm under a cut`);
			}
			for (const set of plan.datumSets)
				for (const seat of set.datums) expect(plane[3] - dot(n, seat.stone_mm)).toBeGreaterThan(over - 1e-5);
		}
		const gone = plan.cuts.reduce((sum, cut) => sum + cut.removed_mm3, 0);
		const block = (plan.stone.stone_kg[0] / plan.stone.density_kgm3[0]) * 1e9;
		expect(plan.afterCuts?.volume_mm3).toBeCloseTo(block - gone, 0);
		expect(plan.cuts[7].wasteShare).toBeCloseTo(gone / (plan.saw?.removableWaste_mm3 ?? 1), 6);
	});

	it("leaves the seats where they are", () => {
		expect(plan.datumSets).toEqual(bare.datumSets);
	});

	it("counts depths from the stone as it stands after the cuts", () => {
		const planes =
			plan.afterCuts?.faces.map((f) => ({ name: f.name, n: f.normal, b: dot(f.normal, f.origin_mm) })) ?? [];
		const drilled = plan.points.filter((p) => p.entry_mm !== null);
		expect(drilled.length).toBeGreaterThan(20);
		expect(drilled.some((p) => p.face?.startsWith("cut "))).toBe(true);
		for (const p of drilled) {
			const entry = p.entry_mm as Vec3;
			for (const { name, n, b } of planes) {
				if (name === p.face) expect(Math.abs(dot(n, entry) - b)).toBeLessThan(1e-5);
				else expect(dot(n, entry) - b).toBeLessThan(1e-5);
			}
			const tip = along(entry, p.line as Vec3, -(p.depth_mm as number));
			const target = place(plan.stone.placement as never, p.model_mm);
			for (let k = 0; k < 3; k++) expect(tip[k]).toBeCloseTo(along(target, p.line as Vec3, p.stop_mm as number)[k], 4);
			const face = plan.afterCuts?.faces.find((f) => f.name === p.face);
			const at = along(
				along(face?.origin_mm as Vec3, face?.u as Vec3, p.u_mm as number),
				face?.v as Vec3,
				p.v_mm as number,
			);
			for (let k = 0; k < 3; k++) expect(at[k]).toBeCloseTo(entry[k], 4);
		}
	});

	it("drills through no bridge until its round, and no cut comes near it", () => {
		const hole = plan.points.find((p) => p.depth_mm !== null && p.depth_mm > 20) as Plan["points"][number];
		// Stone kept right over a drilled point, between its target and the skin.
		const toModel = (at: Vec3): [number, number, number] => [...placeBack(plan.stone.placement as never, at)];
		const out = along(hole.entry_mm as Vec3, hole.line as Vec3, -5);
		const side: Vec3 = [out[0] + 30, out[1], out[2] + 10];
		const bridge = { name: "1", from_mm: toModel(out), to_mm: toModel(side), radius_mm: 12 };
		const kept = finish(planner.work(scan, { ...wanted, bridges: [{ ...bridge, round: 1 }] })).plan as Plan;
		const over = 18 + 12 - 1e-5;
		for (const { plane } of kept.cuts)
			for (const end of [out, side]) expect(plane[3] - dot([plane[0], plane[1], plane[2]], end)).toBeGreaterThan(over);
		expect(kept.bridges).toHaveLength(1);
		/** Least stone between a hole and the bridge, by steps apart from the program's own distance of segments. */
		const nearest = (of: Plan): number => {
			let near = Infinity;
			for (const p of of.points) {
				if (p.entry_mm === null) continue;
				const tip = along(p.entry_mm, p.line as Vec3, -(p.depth_mm as number));
				for (let i = 0; i <= 200; i++)
					for (let j = 0; j <= 40; j++) {
						const on = along(tip, sub(p.entry_mm, tip), i / 200);
						near = Math.min(
							near,
							distance(on, along(out, sub(side, out), j / 40)) - 12 - of.rounds[p.round].tool.radius_mm,
						);
					}
			}
			return near;
		};
		expect(nearest(kept)).toBeGreaterThan(1.99);
		const later = finish(planner.work(scan, { ...wanted, bridges: [{ ...bridge, round: 0 }] })).plan as Plan;
		expect(nearest(later)).toBeLessThan(0);
	});
});
