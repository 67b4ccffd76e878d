/** A stop changed on its own: no point moves, and the plan is to the byte the one that a fresh planner makes. */

import { describe, expect, it } from "vitest";
import { finish } from "../../../core/job.ts";
import type { Commission } from "../../../core/plan/commission.ts";
import type { Plan } from "../../../core/plan/planFile.ts";
import { createPlanner, type Planner } from "../../../core/plan/planner.ts";
import { demoPlan } from "../../support/demoPlans.ts";
import { proving } from "../../support/prove.ts";

const withStops = (commission: Commission, stop_mm: number | null): Commission => ({
	...commission,
	rounds: commission.rounds.map((round) => ({ ...round, stop_mm })),
});

const STOPS = proving ? [3, 2.5, null, 8] : [8];

describe.each(proving ? (["owl", "leaf-face"] as const) : (["owl"] as const))("the %s with other stops", (name) => {
	const { scan, commission, planner: warm, plan: first } = demoPlan(name);
	const planWith = (planner: Planner, stop: number | null): Plan => {
		const { plan } = finish(planner.work(scan, withStops(commission, stop)));
		if (!plan) throw new Error("no plan");
		return plan;
	};
	const holes = (of: Plan): number => of.points.filter((point) => !point.undercut).length;

	it("leaves every point where it is, answers as from nothing, and claims less where holes are lost", () => {
		planWith(warm, null);
		for (const stop of STOPS) {
			warm.ran();
			const plan = planWith(warm, stop);
			expect(warm.ran()).toEqual(["drill lines", "cover as drilled", "drilling", "plan", "finish", "finished plan"]);
			const places = (of: Plan): string[] => of.points.map((point) => point.model_mm.join()).sort();
			expect(places(plan)).toEqual(places(first));
			const anew = stop === null ? first : planWith(createPlanner(), stop);
			expect(JSON.stringify(plan)).toBe(JSON.stringify(anew));
			for (const point of plan.points.filter((p) => !p.undercut))
				expect(point.clearance_mm).toBeGreaterThanOrEqual((stop ?? 2) - 1e-6);
			const claimed = plan.rounds.map((round, i) => [round.claimedShare, first.rounds[i].claimedShare]);
			console.info(`${name}: ${holes(plan)} holes at a stop of ${stop} mm, claimed ${JSON.stringify(claimed)}`);
			if (stop !== 8) continue;
			expect(holes(plan)).toBeLessThan(holes(first));
			const [now, before] = claimed[claimed.length - 1] as [number, number];
			expect(now).toBeLessThan(before);
		}
	});
});
