/** What window and worker say to each other about long jobs. Every message carries the job's id. */

import type { Progress } from "../../core/job.ts";
import type { Issue } from "../../core/refusal.ts";

/** Job name → input, output and what is told of it while it runs; filled in `shown.ts`. */
export type JobTable = Record<string, { input: unknown; output: unknown; part?: unknown }>;

export type ToWorker =
	| { readonly kind: "start"; readonly id: number; readonly job: string; readonly input: unknown }
	| { readonly kind: "cancel"; readonly id: number };

export type FromWorker =
	| { readonly kind: "progress"; readonly id: number; readonly progress: Progress }
	/** Some of the answer, before the rest of it. */
	| { readonly kind: "part"; readonly id: number; readonly part: unknown }
	| { readonly kind: "done"; readonly id: number; readonly output: unknown }
	/** `issue` is null when the program itself is at fault; `message` then says how. */
	| { readonly kind: "failed"; readonly id: number; readonly issue: Issue | null; readonly message: string }
	| { readonly kind: "cancelled"; readonly id: number };

/** The half of a worker or message port that is needed here, so that tests can join the two ends without a worker. */
export interface Port {
	postMessage(message: unknown, transfer?: Transferable[]): void;
	onmessage: ((event: MessageEvent) => void) | null;
}
