/** What every verb of the command line is given and gives. */

import type { Job, Progress } from "../../core/job.ts";

export interface Shop {
	/** Runs a job, with progress on standard error; throws Stopped on Ctrl-C. */
	run<T>(job: Job<T>): Promise<T>;
	/** How far something is that runs elsewhere. */
	report(progress: Progress): void;
	/** A line for the person, on standard error. */
	note(line: string): void;
	readonly stop: { readonly aborted: boolean };
}

/** What a verb found: `json` for programs, `rows` for people. */
export interface Found {
	readonly json: unknown;
	readonly rows: readonly Row[];
}
export type Row = readonly [label: string, value: string];

export type Verb = (argv: readonly string[], shop: Shop) => Promise<Found>;
