/** The one long job that the window waits for: what it is doing, how far it is, and the way to stop it. */

import { type ReadonlySignal, type Signal, signal } from "@preact/signals";
import type { Progress } from "../../core/job.ts";
import type { JobClient, RunningJob } from "../jobs/jobClient.ts";
import type { Jobs } from "../jobs/shown.ts";

export interface Working {
	readonly what: "opening" | "planning" | "sheets";
	readonly stage: string;
	readonly share: number;
	cancel(): void;
}

/** What a job tells before it is done. */
type PartOf<N extends keyof Jobs> = NonNullable<(Jobs[N] & { readonly part?: unknown })["part"]>;

export interface Running {
	readonly working: ReadonlySignal<Working | null>;
	/** Starts a job and shows it; whichever was begun last is the one that is shown and stopped. */
	run<N extends keyof Jobs & string>(
		job: N,
		input: Jobs[N]["input"],
		what: Working["what"],
		onPart?: (part: PartOf<N>) => void,
	): Promise<Jobs[N]["output"]>;
	stop(): void;
}

export function createRunning(jobs: JobClient<Jobs>): Running {
	const working: Signal<Working | null> = signal(null);
	let running: RunningJob<unknown> | null = null;
	return {
		working,
		run(job, input, what, onPart) {
			const show = ({ stage, share }: Progress): void => {
				if (working.value?.cancel === one.cancel) working.value = { ...working.value, stage, share };
			};
			const one = jobs.run(job, input, show, onPart);
			running = one;
			working.value = { what, stage: "", share: 0, cancel: one.cancel };
			return one.promise.finally(() => {
				if (running === one) {
					running = null;
					working.value = null;
				}
			});
		},
		stop: () => running?.cancel(),
	};
}
