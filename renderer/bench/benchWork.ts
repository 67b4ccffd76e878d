/** What the bench view works on, the same in the window and on the page that a tablet carries. */

import type { ReadonlySignal } from "@preact/signals";
import type { BenchSheet } from "../../core/bench/benchRows.ts";
import type { LogEntry } from "../../core/plan/commission.ts";

type Fresh<T> = T extends LogEntry ? Omit<T, "id" | "at" | "hand"> : never;
/** An entry before it is signed with id, time and hand. */
export type NewEntry = Fresh<LogEntry>;

export interface BenchWork {
	readonly sheet: ReadonlySignal<BenchSheet>;
	readonly log: ReadonlySignal<readonly LogEntry[]>;
	/** Answers why the entry could not be kept, or null. */
	add(entry: NewEntry): string | null;
	/** Asks the window's holder to keep the screen awake, where there is one. */
	keepAwake?(on: boolean): Promise<boolean>;
}

/** The bench's own clock, local, to the second, as the log writes it. */
export function benchTime(now: Date): string {
	const two = (n: number): string => String(n).padStart(2, "0");
	const day = `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
	return `${day}T${two(now.getHours())}:${two(now.getMinutes())}:${two(now.getSeconds())}`;
}

/** 16 hexadecimal letters from the machine's own source of chance. */
export const newId = (): string =>
	[...crypto.getRandomValues(new Uint8Array(8))].map((byte) => byte.toString(16).padStart(2, "0")).join("");

/** Begins with the milliseconds, so that entries of one second stay in the order in which they were made. */
const entryId = (now: Date): string => now.getTime().toString(36).padStart(9, "0") + newId();

export function signed(entry: NewEntry, hand: string): LogEntry {
	const now = new Date();
	return { ...entry, id: entryId(now), at: benchTime(now), hand } as LogEntry;
}
