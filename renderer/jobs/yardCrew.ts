/** A yard checked by a few workers side by side, each handed the next stone as it is done with the last. */

import type { JobClient, RunningJob } from "./jobClient.ts";
import { Cancelled, createJobClient, JobFailed } from "./jobClient.ts";
import type { YardFigure, YardFit, YardJobs, YardStone } from "./yardJobs.ts";

/** One worker that is not closed yet. */
export interface Hand {
	readonly jobs: JobClient<YardJobs>;
	close(): void;
}

export interface YardProgress {
	readonly done: number;
	readonly of: number;
	/** Of the whole, in [0, 1]; a stone that is being fitted counts by its own share. */
	readonly share: number;
}

/** Either `fit`, or the trouble that this stone gave. */
export interface YardFound {
	readonly fit: YardFit | null;
	readonly trouble: JobFailed | null;
}

/** A worker of the window's own. */
export function newHand(): Hand {
	const worker = new Worker(new URL("./yard.worker.ts", import.meta.url), { type: "module" });
	const jobs = createJobClient<YardJobs>(worker);
	worker.onerror = (event) => jobs.abandon(`A worker of the yard stopped: ${event.message}.`);
	return { jobs, close: () => worker.terminate() };
}

/** As many as the machine has cores to spare beside window and planner; two even on a small one. */
export const handsFor = (stones: number): number =>
	Math.min(stones, Math.max(2, Math.min(4, navigator.hardwareConcurrency - 2)));

/**
 * Every stone against the figure; `onFound` hears of each as it comes. A stone that is refused, or at which a worker
 * stumbles, does not stop the others. Cancelling closes the workers at once.
 */
export function checkYard(
	stones: readonly YardStone[],
	figure: YardFigure,
	crew: readonly Hand[],
	onFound: (index: number, found: YardFound) => void,
	onProgress: (progress: YardProgress) => void,
): RunningJob<void> {
	let next = 0;
	let done = 0;
	let over = false;
	let stop: (trouble: Error) => void = () => {};
	const parts = new Float64Array(stones.length);
	const tell = (): void => {
		const share = parts.reduce((sum, part) => sum + part, 0) / stones.length;
		if (!over) onProgress({ done, of: stones.length, share });
	};
	const end = (): void => {
		if (over) return;
		over = true;
		for (const hand of crew) hand.close();
	};
	const work = async ({ jobs }: Hand): Promise<void> => {
		await jobs.run("take", figure).promise;
		while (next < stones.length && !over) {
			const index = next++;
			const heard = ({ share }: { readonly share: number }): void => {
				parts[index] = share;
				tell();
			};
			let found: YardFound;
			try {
				found = { fit: await jobs.run("check", { stone: stones[index] }, heard).promise, trouble: null };
			} catch (trouble) {
				if (!(trouble instanceof JobFailed)) throw trouble;
				found = { fit: null, trouble };
			}
			if (over) return;
			done++;
			parts[index] = 1;
			onFound(index, found);
			tell();
		}
	};
	const stopped = new Promise<never>((_, reject) => {
		stop = reject;
	});
	const promise = Promise.race([stopped, Promise.all(crew.map(work)).then(() => {})]).finally(end);
	return {
		promise,
		cancel() {
			if (over) return;
			end();
			stop(new Cancelled());
		},
	};
}
