/** The demo commissions planned as the command line does it, once per test process. */

import { finish } from "../../core/job.ts";
import type { Answers, OpenedScan } from "../../core/plan/answers.ts";
import type { Commission } from "../../core/plan/commission.ts";
import type { Plan } from "../../core/plan/planFile.ts";
import { createPlanner, openScan } from "../../core/plan/planner.ts";
import { memorySource } from "../../core/scan/source.ts";
import { demoCommission, demoScan } from "../../seeds/demo.ts";
import { type Seed, seeds } from "../../seeds/index.ts";

export interface DemoPlan {
	readonly seed: Seed;
	readonly scan: OpenedScan;
	readonly commission: Commission;
	readonly answers: Answers;
	readonly plan: Plan;
}

const kept = new Map<string, DemoPlan>();

export const seedNames = seeds.map((seed) => seed.name);

export function demoPlan(name: Seed["name"]): DemoPlan {
	const known = kept.get(name);
	if (known) return known;
	const made = planAnew(name);
	kept.set(name, made);
	return made;
}

export type DemoInput = Pick<DemoPlan, "seed" | "scan" | "commission">;

export function demoInput(name: Seed["name"]): DemoInput {
	const seed = seeds.find((s) => s.name === name);
	if (!seed) throw new Error(`no seed ${name}`);
	const scan = finish(openScan(memorySource(finish(demoScan(seed))), seed.fileName));
	return { seed, scan, commission: demoCommission(seed) };
}

/** The same from nothing, for checks that two runs agree. */
export function planAnew(name: Seed["name"]): DemoPlan {
	const { seed, scan, commission } = demoInput(name);
	const answers = finish(createPlanner().work(scan, commission));
	if (!answers.plan) throw new Error(`no plan for ${name}: ${JSON.stringify(answers.waits)}`);
	return { seed, scan, commission, answers, plan: answers.plan };
}
