/** How a long computation reports and stops: every stage heavier than a few milliseconds is a generator of progress. */

/** What is being done and how far it is; `share` in [0, 1] never falls within one stage. */
export interface Progress {
	/** The stage in the words of the job, for example "reading the scan". */
	readonly stage: string;
	readonly share: number;
}

/**
 * A computation that yields progress and returns its result.
 * It is cancelled by not asking for the next step (`return()` on the generator); it holds nothing that needs releasing.
 * Between two yields it runs 20 ms or less at usual sizes, so that cancel is felt at once: plain functions loop over an
 * index range and the generator yields between ranges, because a yield inside a hot loop costs half its speed.
 */
export type Job<T> = Generator<Progress, T, void>;

/** Runs a job to its end on this thread. For tests, small inputs and code that is already off the window's thread. */
export function finish<T>(job: Job<T>): T {
	for (;;) {
		const step = job.next();
		if (step.done) return step.value;
	}
}

/** Passes a job's progress on as the part of a larger one that runs from `from` to `to`. */
export function* within<T>(job: Job<T>, from: number, to: number): Job<T> {
	for (;;) {
		const step = job.next();
		if (step.done) return step.value;
		yield { stage: step.value.stage, share: from + (to - from) * step.value.share };
	}
}
