/** The demo commissions planned as the command line does it, each step once per process of tests; what is given out is not changed. */

import { finish } from "../../core/job.ts";
import type { Answers, ModelAnswer, OpenedScan } from "../../core/plan/answers.ts";
import type { Commission } from "../../core/plan/commission.ts";
import type { Plan } from "../../core/plan/planFile.ts";
import { createPlanner, openScan, type Planner } from "../../core/plan/planner.ts";
import type { TriangleMesh } from "../../core/scan/mesh.ts";
import { memorySource } from "../../core/scan/source.ts";
import { demoCommission, demoScan } from "../../seeds/demo.ts";
import { type Seed, seeds } from "../../seeds/index.ts";

export interface DemoPlan {
	readonly seed: Seed;
	readonly scan: OpenedScan;
	readonly commission: Commission;
	/** The planner that has worked it out; it may be asked for other commissions on the same scan. */
	readonly planner: Planner;
	readonly answers: Answers;
	readonly plan: Plan;
}

type Name = Seed["name"];

export const seedNames = seeds.map((seed) => seed.name);

/** The same by name, made when it is first asked for. */
function once<T>(make: (name: Name) => T): (name: Name) => T {
	const kept = new Map<Name, T>();
	return (name) => {
		const known = kept.get(name) ?? make(name);
		kept.set(name, known);
		return known;
	};
}

function seedOf(name: Name): Seed {
	const seed = seeds.find((s) => s.name === name);
	if (!seed) throw new Error(`no seed ${name}`);
	return seed;
}

/** The mesh as the seed makes it. */
export const demoMesh = once((name): TriangleMesh => finish(seedOf(name).make()));

export type DemoInput = Pick<DemoPlan, "seed" | "scan" | "commission">;

const inputOf = (seed: Seed): DemoInput => ({
	seed,
	scan: finish(openScan(memorySource(finish(demoScan(seed))), seed.fileName)),
	commission: demoCommission(seed),
});

/** Its scan read from the bytes of a file, and what its carver entered. */
export const demoInput = once((name) => {
	const seed = seedOf(name);
	const made: Seed = {
		...seed,
		*make() {
			yield { stage: "made before", share: 1 };
			return demoMesh(name);
		},
	};
	return { ...inputOf(made), seed };
});

/** Its figure, stood up. */
export const demoModel = once((name): ModelAnswer => {
	const { scan, commission } = demoInput(name);
	return finish(createPlanner().stand(scan, commission));
});

function planned(input: DemoInput): DemoPlan {
	const planner = createPlanner();
	const answers = finish(planner.work(input.scan, input.commission));
	if (!answers.plan) throw new Error(`no plan for ${input.seed.name}: ${JSON.stringify(answers.waits)}`);
	return { ...input, planner, answers, plan: answers.plan };
}

export const demoPlan = once((name) => planned(demoInput(name)));

/** The same from nothing, for checks that two runs agree. */
export const planAnew = (name: Name): DemoPlan => planned(inputOf(seedOf(name)));
