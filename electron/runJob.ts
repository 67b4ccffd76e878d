/** Runs a job on this thread in short slices, so that Ctrl-C is heard between them. */

import { setImmediate } from "node:timers/promises";
import type { Job, Progress } from "../core/job.ts";

/** Thrown out of whatever was going on when the person wants it to stop. */
export class Stopped extends Error {
	constructor() {
		super("stopped");
		this.name = "Stopped";
	}
}

/** Slices are that long, ms, plus what the job does between two of its own yields. */
const SLICE_MS = 12;

/** Runs the job to its end; throws Stopped soon after `stop` is aborted. */
export async function runJob<T>(
	job: Job<T>,
	report: (progress: Progress) => void,
	stop: { readonly aborted: boolean },
): Promise<T> {
	for (;;) {
		const until = performance.now() + SLICE_MS;
		let step = job.next();
		while (!step.done && performance.now() < until) step = job.next();
		if (step.done) return step.value;
		report(step.value);
		await setImmediate();
		if (stop.aborted) {
			job.return(undefined as never);
			throw new Stopped();
		}
	}
}
