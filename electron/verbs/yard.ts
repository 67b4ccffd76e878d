/** A yard of stones checked against one figure, in as many workers as the machine has cores. */

import { availableParallelism } from "node:os";
import { Worker } from "node:worker_threads";
import type { Progress } from "../../core/job.ts";
import { rankedYard } from "../../core/plan/yard.ts";
import { refusalText } from "../../core/text/refusals.ts";
import { Stopped } from "../runJob.ts";
import type { FitAnswer } from "./fitAnswer.ts";
import type { StoneSource } from "./stoneFiles.ts";
import type { YardFigure, YardReply, YardTask } from "./yardWorker.ts";

export interface YardStone {
	readonly name: string;
	/** null where the stone was refused; `reason` says why. */
	readonly answer: FitAnswer | null;
	readonly reason: string;
}

/** A worker does not inherit how its parent reads TypeScript, so it is told before it reads its own file. */
const STARTER = `import("tsx/esm/api").then(({ register }) => {
	register();
	return import(${JSON.stringify(new URL("./yardWorker.ts", import.meta.url).href)});
});`;

const nameOf = (source: StoneSource): string =>
	source.kind === "file" ? (source.path.split(/[\\/]/).pop() ?? source.path) : source.name;

/**
 * Every stone with its answer: those that the figure fits, the least waste first (the smallest stone); then those that it
 * does not, the least short first; then those that could not be read. Throws Stopped when asked to stop.
 */
export async function checkYard(
	sources: readonly StoneSource[],
	figure: YardFigure,
	report: (progress: Progress) => void,
	stop: { readonly aborted: boolean },
	workers = Math.min(availableParallelism(), sources.length),
): Promise<YardStone[]> {
	const replies = new Array<YardReply>(sources.length);
	let next = 0;
	let done = 0;
	const crew = Array.from({ length: workers }, () => new Worker(STARTER, { eval: true, workerData: figure }));
	try {
		await Promise.all(
			crew.map(
				(worker) =>
					new Promise<void>((resolve, reject) => {
						const hand = (): void => {
							if (stop.aborted) reject(new Stopped());
							else if (next === sources.length) resolve();
							else {
								const task: YardTask = { index: next, source: sources[next] };
								next++;
								worker.postMessage(task);
							}
						};
						worker.on("message", (reply: YardReply) => {
							replies[reply.index] = reply;
							report({ stage: `checking the yard, ${++done} of ${sources.length}`, share: done / sources.length });
							hand();
						});
						worker.on("error", reject);
						hand();
					}),
			),
		);
	} finally {
		await Promise.all(crew.map((worker) => worker.terminate()));
	}
	const stones = replies.map((reply): YardStone => {
		if ("defect" in reply) throw new Error(`${nameOf(sources[reply.index])}: ${reply.defect}`);
		if ("issue" in reply) return { name: nameOf(sources[reply.index]), answer: null, reason: refusalText(reply.issue) };
		return { name: reply.answer.name, answer: reply.answer, reason: "" };
	});
	return rankedYard(
		stones,
		({ answer }) => answer && { fits: answer.fits, spare: answer.spare_mm, volume: answer.stone_mm3 },
	);
}
