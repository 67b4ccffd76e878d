import { describe, expect, it } from "vitest";
import { finish } from "../../../core/job.ts";
import type { Commission } from "../../../core/plan/commission.ts";
import { createPlanner } from "../../../core/plan/planner.ts";
import { demoInput, demoPlan } from "../../support/demoPlans.ts";

describe("what comes after the last point", () => {
	const { scan, commission, planner, answers } = demoPlan("owl");
	finish(planner.work(scan, commission));
	planner.ran();
	const workWith = (change: Partial<Commission>) => {
		const found = finish(planner.work(scan, { ...commission, ...change }));
		return { ...found, ran: planner.ran() };
	};
	const own = answers.finish;
	if (!own || !answers.plan) throw new Error("no finish");

	it("is answered for the owl", () => {
		expect(own.grades.answer?.sound).toBe(true);
		expect(own.fixing.answer?.mass).toEqual(answers.stone?.figureMass);
		expect(own.quote?.total[1]).toBeGreaterThan(0);
		expect(own.ground.open + own.ground.detail + own.ground.foot).toBeCloseTo(answers.model?.area as number, 3);
		expect(answers.plan?.finish?.grades.length).toBe(own.grades.answer?.steps.length);
	});

	it("counts all the work: block, hull, figure and skin make the block again", () => {
		const q = own.quantities;
		if (!q || !answers.stone || !answers.model) throw new Error("no quantities");
		const area = own.ground.open + own.ground.detail;
		const skin = area * Math.max(...commission.rounds.filter(({ kind }) => kind === "net").map((r) => r.join_mm));
		const sum = q.sawn_dm3 + q.hollow_dm3 + ((answers.model.volume as number) + skin) / 1e6;
		expect(sum).toBeCloseTo(q.block_dm3, 6);
		expect(q.points).toBe(answers.plan?.points.filter(({ undercut }) => !undercut).length);
	});

	it("changes neither points nor the code of the map, and works out only itself", () => {
		const quote = { ...commission.quote, rates: { ...commission.quote.rates, hourPrice: 60 } };
		const dearer = workWith({ quote });
		expect(dearer.ran).toEqual(["finish", "finished plan"]);
		expect(dearer.plan).toEqual(answers.plan);
		expect(dearer.finish?.quote?.total[1]).toBeGreaterThan(own.quote?.total[1] as number);
		const gloss = workWith({ finish: { ...commission.finish, polish: "gloss" } });
		expect(gloss.plan?.code).toBe(answers.plan?.code);
		expect(gloss.plan?.points).toEqual(answers.plan?.points);
		expect(gloss.ran).not.toContain("plan");
	});

	it("gilds a marked area, and says when its surface is lost", () => {
		const at = answers.plan?.points[0].model_mm as [number, number, number];
		const stroke = { at_mm: at, radius_mm: 30, crease_mm: null, adds: true };
		const astray = { ...stroke, at_mm: [at[0], at[1], at[2] + 5000] as [number, number, number] };
		const gilded = [{ name: "halo", strokes: [stroke, astray] }];
		const { finish: found, plan } = workWith({ finish: { ...commission.finish, gilded } });
		const area = found?.gilded[0].answer;
		expect(area?.region.lost).toEqual([1]);
		expect(area?.region.area).toBeGreaterThan(1000);
		expect(plan?.finish?.gilded).toEqual([
			{ name: "halo", area_mm2: expect.closeTo(area?.region.area as number, 3), leaves: area?.leaf.leaves, books: 1 },
		]);
		expect(found?.quantities?.leaves).toBe(area?.leaf.leaves);
	});

	it("pins it to a base, and at the rim says no with the reason", () => {
		const base = { size_mm: [260, 240, 60] as [number, number, number], stone: null };
		const set = workWith({ fixing: { ...commission.fixing, base } });
		expect(set.finish?.fixing.answer).toMatchObject({ stands: true, pin: { holds: true } });
		const reach = (answers.model?.size[0] as number) / 2 - 4;
		const pin = { ...commission.fixing.pin, bar_mm: 12, at_mm: [reach, 0] as [number, number] };
		const rim = workWith({ fixing: { ...commission.fixing, base, pin } });
		expect(rim.finish?.fixing.answer).toMatchObject({ stands: false, pin: { holds: false } });
		expect(rim.plan?.finish?.fixing?.reasons.length).toBeGreaterThan(0);
		expect(rim.plan?.cautions.join(" ")).toContain("Fixing does not hold");
		expect(rim.finish?.quantities?.fixed).toBe(0);
	});

	it("a refused part stops no other", () => {
		const wrong = workWith({ finish: { ...commission.finish, firstGrit: 61 } });
		expect(wrong.finish?.grades.issue?.code).toBe("finish.chainEnds");
		expect(wrong.finish?.fixing.answer).not.toBeNull();
		expect(wrong.plan).not.toBeNull();
	});
});

it("an open shell is weighed with its back", () => {
	const { scan, commission: backed } = demoInput("leaf-face");
	// Two rounds do: its mass asks for no more.
	const open = { ...backed, scan: { ...backed.scan, back: null }, rounds: backed.rounds.slice(0, 2) };
	const answers = finish(createPlanner().work(scan, open));
	expect(answers.model?.volume).toBeNull();
	const fixed = answers.finish?.fixing.answer;
	expect(fixed?.volume).toBeGreaterThan(0);
	expect(fixed?.mass[0]).toBeLessThan(answers.stone?.stoneMass[1] as number);
	expect(answers.finish?.quote?.total[1]).toBeGreaterThan(0);
});
