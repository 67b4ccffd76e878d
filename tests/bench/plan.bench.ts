/** The owl from file to plan, and again after a small change, in multiples of three-mesh-bvh's build of the same mesh. */

import { finish } from "../../core/job.ts";
import type { OpenedScan } from "../../core/plan/answers.ts";
import type { Commission } from "../../core/plan/commission.ts";
import type { Plan } from "../../core/plan/planFile.ts";
import { createPlanner, openScan, type Planner } from "../../core/plan/planner.ts";
import { memorySource } from "../../core/scan/source.ts";
import { demoCommission } from "../../seeds/demo.ts";
import type { Comparison } from "./harness.ts";
import { libraryTree, owl } from "./inputs.ts";

function planWith(planner: Planner, scan: OpenedScan, commission: Commission): Plan {
	const { plan, waits } = finish(planner.work(scan, commission));
	if (!plan) throw new Error(`no plan: ${JSON.stringify(waits)}`);
	return plan;
}

export default function* planBench(): Iterable<Comparison> {
	const { seed, bytes, scan, mesh } = owl();
	const commission = demoCommission(seed);
	const against = "three-mesh-bvh MeshBVH";
	const theirs = () => libraryTree(mesh);
	yield {
		name: `owl, ${Math.round(mesh.triangles.length / 3000)} thousand triangles: file to plan`,
		against,
		aim: null,
		ours: () => planWith(createPlanner(), finish(openScan(memorySource(bytes), seed.fileName)), commission),
		theirs,
		agree: (ours) => {
			const { points } = ours as Plan;
			if (points.length < 400) throw new Error(`only ${points.length} points`);
		},
	};

	const planner = createPlanner();
	planWith(planner, scan, commission);
	/** Two allowances in turn, so that every run finds another one in the planner. */
	const stops = [2.5, 3].map((stop_mm) => ({
		...commission,
		rounds: commission.rounds.map((round) => ({ ...round, stop_mm })),
	}));
	let runs = 0;
	yield {
		name: "owl: only the stop allowance changed, planner warm",
		against,
		aim: null,
		ours: () => {
			planner.ran();
			const plan = planWith(planner, scan, stops[runs++ % 2]);
			const ran = planner.ran();
			if (!ran.includes("plan") || ran.some((stage) => ["index", "curvature", "fit", "datums"].includes(stage)))
				throw new Error(`worked out anew: ${ran.join(", ")}`);
			return plan;
		},
		theirs,
		agree: (ours) => {
			const anew = planWith(createPlanner(), scan, stops[(runs - 1) % 2]);
			if (JSON.stringify(ours) !== JSON.stringify(anew)) throw new Error("a warm planner answers otherwise");
		},
	};
}
