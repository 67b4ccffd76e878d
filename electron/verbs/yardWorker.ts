/** A worker of the yard: fits one figure into one stone after another, as it is handed them. */

import { parentPort, workerData } from "node:worker_threads";
import type { Job } from "../../core/job.ts";
import { fitShape } from "../../core/plan/stages/fitShape.ts";
import { type Issue, Refusal } from "../../core/refusal.ts";
import type { TriangleMesh } from "../../core/scan/mesh.ts";
import type { Unit } from "../../core/scan/unit.ts";
import type { FitOptions } from "../../core/stone/fitBlock.ts";
import type { Hull } from "../../core/stone/hull.ts";
import { type FitAnswer, fitAnswer } from "./fitAnswer.ts";
import { openStone, type StoneSource } from "./stoneFiles.ts";

/** What every worker is given at its start. */
export interface YardFigure {
	readonly figure: TriangleMesh;
	readonly hull: Hull;
	readonly options: Omit<FitOptions, "enough">;
	readonly unit: Unit | undefined;
	/** For each stone, ms; null: as long as the proof takes. */
	readonly time: number | null;
}

export interface YardTask {
	readonly index: number;
	readonly source: StoneSource;
}

export type YardReply =
	| { readonly index: number; readonly answer: FitAnswer }
	| { readonly index: number; readonly issue: Issue }
	| { readonly index: number; readonly defect: string };

function run<T>(job: Job<T>): T {
	for (;;) {
		const step = job.next();
		if (step.done) return step.value;
	}
}

const { figure, hull, options, unit, time } = workerData as YardFigure;
parentPort?.on("message", ({ index, source }: YardTask) => {
	const reply = (message: YardReply): void => parentPort?.postMessage(message);
	try {
		const stone = run(openStone(source, unit));
		const until = time === null ? null : performance.now() + time;
		const enough = until === null ? undefined : () => performance.now() > until;
		reply({ index, answer: fitAnswer(stone, run(fitShape(figure, hull, stone.shape, { ...options, enough }))) });
	} catch (error) {
		if (error instanceof Refusal) reply({ index, issue: error.issue });
		else reply({ index, defect: error instanceof Error ? (error.stack ?? error.message) : String(error) });
	}
});
