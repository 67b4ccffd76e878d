/**
 * From a scan and a commission to every answer, by stages. Written to be called again and again by the window: each stage
 * is worked out anew only when something that it depends on has changed.
 */

import { finish, type Job, within } from "../job.ts";
import { hashScan } from "../scan/hashScan.ts";
import { examine, type ScanHealth } from "../scan/health.ts";
import { readScan } from "../scan/readScan.ts";
import type { ScanSource } from "../scan/source.ts";
import { proposeUnit } from "../scan/unit.ts";
import type { Answers, ModelAnswer, OpenedScan, ThicknessAnswer } from "./answers.ts";
import { type Answer, answersByStages } from "./answersByStages.ts";
import type { Commission } from "./commission.ts";
import { createGraph } from "./graph.ts";
import { modelStage } from "./stages/modelStages.ts";
import { thicknessStage } from "./stages/thicknessStage.ts";

/** Reads a scan, takes its fingerprint and examines it. Throws Refusal for a file that cannot be used. */
export function* openScan(source: ScanSource, name: string): Job<OpenedScan> {
	const file = yield* within(readScan(source, name), 0, 0.6);
	const sha256 = yield* within(hashScan(source), 0.6, 0.75);
	const health = yield* within(examine(file.mesh), 0.75, 1);
	return { name, sha256, file, health, unit: proposeUnit(largestExtent(health)) };
}

const largestExtent = ({ bounds: { min, max } }: ScanHealth): number =>
	Math.max(max[0] - min[0], max[1] - min[1], max[2] - min[2]);

export interface Planner {
	/**
	 * Every answer that can be had. A refused choice stops only what depends on it and is named in `waits`; nothing is thrown
	 * for it. `stoneScan` is the scan of the stone, where the commission names one. `told` hears of each answer as soon as it
	 * stands, long before the last.
	 */
	work(
		scan: OpenedScan,
		commission: Commission,
		stoneScan?: OpenedScan | null,
		told?: (answer: Answer) => void,
	): Job<Answers>;
	/** Those of the answers that still hold for this commission, worked out earlier; takes a few milliseconds. */
	standing(scan: OpenedScan, commission: Commission, stoneScan?: OpenedScan | null): readonly Answer[];
	/** The model alone, mended and stood up: the first of those answers. Throws Refusal. */
	stand(scan: OpenedScan, commission: Commission): Job<ModelAnswer>;
	/** How thick the model is everywhere; only to be looked at. Throws Refusal. */
	thickness(scan: OpenedScan, commission: Commission): Job<ThicknessAnswer>;
	/** Names of the stages that were worked out since the last call. */
	ran(): string[];
}

export function createPlanner(): Planner {
	const graph = createGraph();
	return {
		work: (scan, commission, stoneScan = null, told = () => {}) =>
			answersByStages(graph, { scan, commission, stoneScan }, told),
		standing(scan, commission, stoneScan = null) {
			const found: Answer[] = [];
			finish(answersByStages(graph.looking(), { scan, commission, stoneScan }, (answer) => found.push(answer)));
			return found;
		},
		stand: (scan, commission) => modelStage(graph, scan, commission),
		*thickness(scan, commission) {
			const model = yield* modelStage(graph, scan, commission);
			return yield* thicknessStage(graph, model, commission);
		},
		ran: graph.ran,
	};
}
