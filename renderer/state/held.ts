/**
 * Work that could not be kept where commissions are kept, held by the browser itself until it can be: host gone, disk full.
 * It outlives the window, and is handed over by the next window of the same origin.
 */

import { readFrom, writeTo } from "./browserBase.ts";

export interface HeldWork {
	/** Id of the commission, and the window that worked on it. */
	readonly id: string;
	readonly writer: string;
	/** Versions of the kept text that this one may take the place of. */
	readonly seen: readonly string[];
	readonly name: string;
	readonly text: string;
	/** ISO 8601 */
	readonly at: string;
}

/** One piece of work for each commission and window. Rejects where the browser holds nothing. */
export interface HeldStore {
	put(work: HeldWork): Promise<void>;
	drop(work: Pick<HeldWork, "id" | "writer">): Promise<void>;
	all(): Promise<HeldWork[]>;
	/** Tells other windows that the one of that name is there and hands its work over by itself. */
	live(writer: string): void;
	/** Runs the deed unless the window that held the work is there still, or another one is at the same deed. */
	ofGone(work: Pick<HeldWork, "writer">, deed: () => Promise<void>): Promise<void>;
}

const lockOf = (writer: string): string => `puntello window ${writer}`;

/** The store of this origin in the browser. */
export function browserStore(): HeldStore {
	return {
		put: (work) => writeTo("held", (table) => table.put(work)),
		drop: ({ id, writer }) => writeTo("held", (table) => table.delete([id, writer])),
		all: () => readFrom("held", (table) => table.getAll()),
		live(writer) {
			// Held for as long as the page lives; the browser lets go of it also when the page dies.
			void navigator.locks?.request(lockOf(writer), () => new Promise(() => {}));
		},
		async ofGone({ writer }, deed) {
			if (!navigator.locks) return deed();
			await navigator.locks.request(lockOf(writer), { ifAvailable: true }, async (lock) => {
				if (lock !== null) await deed();
			});
		},
	};
}
