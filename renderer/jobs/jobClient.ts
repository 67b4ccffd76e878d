/** The window's side: one promise for each job. A cancel shows at once, whatever the worker is doing. */

import type { Progress } from "../../core/job.ts";
import type { Issue } from "../../core/refusal.ts";
import type { FromWorker, JobTable, Port, ToWorker } from "./protocol.ts";

/** The carver, or a newer change, stopped the job. */
export class Cancelled extends Error {
	constructor() {
		super("cancelled");
		this.name = "Cancelled";
	}
}

/** The job failed: `issue` says what was wrong with the input; null means a defect of the program. */
export class JobFailed extends Error {
	readonly issue: Issue | null;
	constructor(issue: Issue | null, message: string) {
		super(message);
		this.name = "JobFailed";
		this.issue = issue;
	}
}

export interface RunningJob<T> {
	readonly promise: Promise<T>;
	/** May be called again and after the end. */
	cancel(): void;
}

export interface JobClient<T extends JobTable> {
	run<N extends keyof T & string>(
		job: N,
		input: T[N]["input"],
		onProgress?: (progress: Progress) => void,
		onPart?: (part: NonNullable<T[N]["part"]>) => void,
	): RunningJob<T[N]["output"]>;
	/** Every job still running fails with that message: for a worker that has died. */
	abandon(message: string): void;
}

interface Awaited {
	resolve(output: unknown): void;
	reject(trouble: Error): void;
	onProgress: ((progress: Progress) => void) | undefined;
	onPart: ((part: never) => void) | undefined;
}

export function createJobClient<T extends JobTable>(port: Port): JobClient<T> {
	const awaited = new Map<number, Awaited>();
	let lastId = 0;
	const send = (message: ToWorker): void => port.postMessage(message);

	port.onmessage = (event: MessageEvent): void => {
		const message = event.data as FromWorker;
		const one = awaited.get(message.id);
		// A job that was cancelled here may still report; nobody waits for it any more.
		if (!one) return;
		if (message.kind === "progress") {
			one.onProgress?.(message.progress);
			return;
		}
		if (message.kind === "part") {
			one.onPart?.(message.part as never);
			return;
		}
		awaited.delete(message.id);
		if (message.kind === "done") one.resolve(message.output);
		else if (message.kind === "cancelled") one.reject(new Cancelled());
		else one.reject(new JobFailed(message.issue, message.message));
	};

	return {
		run(job, input, onProgress, onPart) {
			const id = ++lastId;
			const promise = new Promise<T[typeof job]["output"]>((resolve, reject) => {
				awaited.set(id, { resolve: resolve as (output: unknown) => void, reject, onProgress, onPart });
			});
			send({ kind: "start", id, job, input });
			return {
				promise,
				cancel() {
					const one = awaited.get(id);
					if (!one) return;
					awaited.delete(id);
					send({ kind: "cancel", id });
					one.reject(new Cancelled());
				},
			};
		},
		abandon(message) {
			for (const one of awaited.values()) one.reject(new JobFailed(null, message));
			awaited.clear();
		},
	};
}
