/**
 * The worker's side: pumps the generators of running jobs in slices of about 8 ms and gives the event loop a turn between
 * slices, so that a cancel is heard at once.
 */

import type { Job } from "../../core/job.ts";
import { Refusal } from "../../core/refusal.ts";
import type { FromWorker, JobTable, Port, ToWorker } from "./protocol.ts";

const SLICE_MS = 8;
/** Progress is told no oftener than a screen shows it. */
const TELL_EVERY_MS = 33;

/** Output of a job with the buffers that are handed over instead of copied. */
export interface Handed<T> {
	readonly output: T;
	readonly transfer: Transferable[];
}

/** Tells some of the answer before the rest of it stands. */
export type TellPart<P> = (part: P, transfer: Transferable[]) => void;

export type JobMakers<T extends JobTable> = {
	readonly [N in keyof T]: (input: T[N]["input"], tell: TellPart<T[N]["part"]>) => Job<Handed<T[N]["output"]>>;
};

interface Running {
	readonly id: number;
	readonly job: Job<Handed<unknown>>;
	toldAt: number;
}

/** Serves jobs on a port until the port is closed. `nextTurn` calls back after the event loop has had a turn. */
export function serveJobs<T extends JobTable>(
	port: Port,
	makers: JobMakers<T>,
	nextTurn: (then: () => void) => void,
): void {
	const running: Running[] = [];
	let pumping = false;
	const tell = (message: FromWorker, transfer?: Transferable[]): void => port.postMessage(message, transfer ?? []);

	const fail = (id: number, trouble: unknown): void => {
		const issue = trouble instanceof Refusal ? trouble.issue : null;
		tell({ kind: "failed", id, issue, message: trouble instanceof Error ? trouble.message : String(trouble) });
	};

	/** One slice of one job; false when the job is over. */
	const slice = (one: Running): boolean => {
		const until = performance.now() + SLICE_MS;
		try {
			for (;;) {
				const step = one.job.next();
				if (step.done) {
					tell({ kind: "done", id: one.id, output: step.value.output }, step.value.transfer);
					return false;
				}
				const now = performance.now();
				if (now - one.toldAt >= TELL_EVERY_MS) {
					one.toldAt = now;
					tell({ kind: "progress", id: one.id, progress: step.value });
				}
				if (now >= until) return true;
			}
		} catch (trouble) {
			fail(one.id, trouble);
			return false;
		}
	};

	const pump = (): void => {
		const one = running.shift();
		if (one && slice(one)) running.push(one);
		pumping = running.length > 0;
		if (pumping) nextTurn(pump);
	};

	port.onmessage = (event: MessageEvent): void => {
		const message = event.data as ToWorker;
		if (message.kind === "cancel") {
			const at = running.findIndex((one) => one.id === message.id);
			if (at < 0) return;
			const [one] = running.splice(at, 1);
			one.job.return(undefined as never);
			tell({ kind: "cancelled", id: message.id });
			return;
		}
		const make = makers[message.job];
		if (!make) {
			fail(message.id, new Error(`There is no job named ${message.job}.`));
			return;
		}
		try {
			const { id } = message;
			const tellPart: TellPart<unknown> = (part, transfer) => tell({ kind: "part", id, part }, transfer);
			running.push({ id, job: make(message.input, tellPart), toldAt: 0 });
		} catch (trouble) {
			fail(message.id, trouble);
			return;
		}
		if (!pumping) {
			pumping = true;
			nextTurn(pump);
		}
	};
}

/** A turn of the event loop by a message to oneself, which unlike a timer is never held back. */
export function turnByMessage(): (then: () => void) => void {
	const channel = new MessageChannel();
	let waiting: (() => void) | null = null;
	channel.port1.onmessage = () => {
		const then = waiting;
		waiting = null;
		then?.();
	};
	return (then) => {
		waiting = then;
		channel.port2.postMessage(null);
	};
}
