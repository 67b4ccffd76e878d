import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { finish } from "../../../core/job.ts";
import type { Answers, OpenedScan } from "../../../core/plan/answers.ts";
import type { AnswerName } from "../../../core/plan/answersByStages.ts";
import { type Commission, newCommission } from "../../../core/plan/commission.ts";
import { createPlanner, openScan } from "../../../core/plan/planner.ts";
import { memorySource } from "../../../core/scan/source.ts";

const opened = (name: string): OpenedScan =>
	finish(
		openScan(memorySource(new Uint8Array(readFileSync(new URL(`../../../fixtures/${name}`, import.meta.url)))), name),
	);

/** What reads the plan: works out quickly, and tells it what comes after the last point. */
const AFTER_PLAN = ["finish", "finished plan"];

describe("the planner", () => {
	// A box of 300 × 200 × 100 mm; two rounds keep it quick.
	const scan = opened("box.stl");
	const plain = newCommission("box.stl");
	const commission: Commission = { ...plain, rounds: plain.rounds.slice(0, 2) };

	it("works out only what depends on a change", () => {
		const planner = createPlanner();
		const first = finish(planner.work(scan, commission));
		expect(first.waits).toEqual([]);
		expect(first.plan?.points.length).toBeGreaterThan(0);
		expect(planner.ran()).toContain("curvature");

		finish(planner.work(scan, structuredClone(commission)));
		expect(planner.ran()).toEqual([]);

		finish(planner.work(scan, { ...commission, name: "another name" }));
		expect(planner.ran()).toEqual(["plan", ...AFTER_PLAN]);

		finish(planner.work(scan, { ...commission, seatError_mm: 1 }));
		expect(planner.ran()).toEqual(["datums", "seat error", "plan", ...AFTER_PLAN]);

		const stop = commission.rounds.map((round) => ({ ...round, stop_mm: 4 }));
		finish(planner.work(scan, { ...commission, rounds: stop, seatError_mm: 1 }));
		expect(planner.ran()).toEqual(["drill lines", "cover as drilled", "drilling", "plan", ...AFTER_PLAN]);

		finish(planner.work(scan, { ...commission, stone: { ...commission.stone, block_mm: [400, 300, 200] } }));
		const ran = planner.ran();
		expect(ran).toContain("fit");
		expect(ran).not.toContain("curvature");
		expect(ran).not.toContain("hull");
	});

	it("says why something is missing, and keeps what can be had", () => {
		const small = finish(
			createPlanner().work(scan, { ...commission, stone: { ...commission.stone, block_mm: [290, 290, 200] } }),
		);
		expect(small.stone?.fit.fits).toBe(false);
		expect(small.plan).toBeNull();
		expect(small.waits.map(({ page, issue }) => [page, issue.code])).toEqual([["points", "plan.doesNotFit"]]);
		const doubtful = opened("head-size-inches.stl");
		const asked = finish(createPlanner().work(doubtful, newCommission("head-size-inches.stl")));
		expect(asked.model).toBeNull();
		expect(asked.waits[0].issue.code).toBe("unit.inDoubt");
	});

	it("tells whether it fits long before the first point, and which answers a change leaves as they are", () => {
		const planner = createPlanner();
		const told: AnswerName[] = [];
		const ranBefore = new Map<AnswerName, readonly string[]>();
		const on = (asked: Commission): Answers =>
			finish(
				planner.work(scan, asked, null, ({ name }) => {
					told.push(name);
					ranBefore.set(name, planner.ran());
				}),
			);
		const all = on(commission);
		expect([...told].sort()).toEqual(
			Object.keys(all)
				.filter((name) => name !== "waits")
				.sort(),
		);
		expect(told.indexOf("stone")).toBeLessThan(told.indexOf("plan"));
		const untilFit = told.slice(0, told.indexOf("stone") + 1).flatMap((name) => ranBefore.get(name) ?? []);
		expect(untilFit).toContain("fit");
		for (const late of ["curvature", "lies", "rounds", "drill lines"]) expect(untilFit).not.toContain(late);

		const standing = (asked: Commission): AnswerName[] => planner.standing(scan, asked).map(({ name }) => name);
		expect(standing(structuredClone(commission))).toEqual(told.slice(0, standing(commission).length));
		expect(standing(commission)).toHaveLength(14);
		for (const { name, value } of planner.standing(scan, commission)) expect(value).toBe(all[name]);
		const byHalf = { ...commission, seatError_mm: 1 };
		expect(standing(byHalf)).toEqual(["model", "cast", "resting", "stone", "sizes", "index", "field", "nature"]);
		const joined = commission.rounds.map((round) => ({ ...round, join_mm: round.join_mm + 0.5 }));
		expect(standing({ ...commission, rounds: joined })).toContain("stone");
		expect(standing({ ...commission, rounds: joined })).not.toContain("plan");
		expect(standing({ ...commission, stone: { ...commission.stone, block_mm: [400, 300, 200] } })).not.toContain(
			"sizes",
		);
		// To look changes nothing.
		planner.ran();
		on(commission);
		expect(planner.ran()).toEqual([]);
	});

	it("assumes the smallest sawn block with 25 mm margins when none is given", () => {
		const { stone, plan } = finish(createPlanner().work(scan, commission));
		expect([...(stone?.block ?? [])].sort((a, b) => a - b)).toEqual([150, 250, 350]);
		expect(plan?.stone.blockAssumed).toBe(true);
	});

	it("offers the faces to stand on, and compares the calliper pairs with the scan without working anything else out", () => {
		const planner = createPlanner();
		const none = finish(planner.work(scan, commission));
		expect(none.resting?.weighed).toBe("volume");
		expect(none.resting?.faces.map((face) => Math.round(face.tips))).toEqual([63, 63, 27, 27, 18, 18]);
		expect(none.cast).toBeNull();
		planner.ran();
		const castPairs: Commission["model"]["castPairs"] = [
			{ a_mm: [-150, 0, 50], b_mm: [150, 0, 50], read_mm: 300.6 },
			{ a_mm: [0, -100, 50], b_mm: [0, 100, 50], read_mm: 200.4 },
		];
		const on = (pairs: typeof castPairs) =>
			finish(planner.work(scan, { ...commission, model: { ...commission.model, castPairs: pairs } })).cast;
		expect(on(castPairs)?.check?.scale).toBeCloseTo(1.002, 9);
		expect(planner.ran()).toEqual(["cast check", "plan", ...AFTER_PLAN]);
		expect(on(castPairs.slice(1))?.issue?.code).toBe("cast.fewPairs");
	});

	it("mends by choice, in mm of the stone, and says what it did", () => {
		const crumbs = opened("box-and-crumbs.stl");
		const volumeWith = (mend: Partial<Commission["scan"]["mend"]>): Answers["model"] => {
			const { scan: ref, ...rest } = newCommission("box-and-crumbs.stl");
			return finish(createPlanner().stand(crumbs, { ...rest, scan: { ...ref, mend: { ...ref.mend, ...mend } } }));
		};
		expect(volumeWith({})?.volume).toBeGreaterThan(6_000_000);
		const alone = volumeWith({ keepLargestShell: true });
		expect(alone?.volume).toBeCloseTo(300 * 200 * 100, 3);
		expect(alone?.mended.map(({ choice, after }) => [choice, after])).toEqual([["keepShells", 1]]);
	});
});
