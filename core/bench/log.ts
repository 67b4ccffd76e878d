/** The log read: which entries count, what is known of each point, and two logs joined. */

import type { LogEntry } from "../plan/commission.ts";

/** What the log says of one point. */
export interface PointStanding {
	readonly number: number;
	readonly done: boolean;
	/** When it was done, by the bench's clock; null while it is not. */
	readonly doneAt: string | null;
	/** Last reading: from the tip to the finished surface along the line, mm; null where there is none. */
	readonly over: number | null;
	readonly seconds: number | null;
	readonly notes: readonly string[];
}

/** In order of time; entries of one second keep one order everywhere, by their ids. */
const byTime = (a: LogEntry, b: LogEntry): number =>
	a.at < b.at ? -1 : a.at > b.at ? 1 : a.id < b.id ? -1 : a.id > b.id ? 1 : 0;

/** The entries that count, oldest first: neither taken back nor themselves the taking back. */
export function countedEntries(log: readonly LogEntry[]): LogEntry[] {
	const gone = new Set(log.flatMap((entry) => (entry.kind === "taken back" ? [entry.of] : [])));
	return log.filter((entry) => entry.kind !== "taken back" && !gone.has(entry.id)).sort(byTime);
}

/**
 * Both logs in one, every entry once, oldest first. It does not matter which comes first, nor how often the same file is
 * read in: entries are told apart by their ids alone.
 */
export function mergeLogs(own: readonly LogEntry[], other: readonly LogEntry[]): LogEntry[] {
	const all = new Map<string, LogEntry>();
	for (const entry of [...own, ...other]) if (!all.has(entry.id)) all.set(entry.id, entry);
	return [...all.values()].sort(byTime);
}

/** What is known of every point that the log names, by number. */
export function standings(log: readonly LogEntry[]): ReadonlyMap<number, PointStanding> {
	const known = new Map<number, PointStanding>();
	for (const entry of countedEntries(log)) {
		if (entry.kind === "mark" || entry.kind === "taken back" || entry.point === null) continue;
		const before = known.get(entry.point) ?? newStanding(entry.point);
		known.set(entry.point, withEntry(before, entry));
	}
	return known;
}

/** Numbers of the points that are done. */
export const doneNumbers = (log: readonly LogEntry[]): ReadonlySet<number> =>
	new Set([...standings(log).values()].flatMap((point) => (point.done ? [point.number] : [])));

/** Numbers of the points whose holes are in the stone: done, or read. */
export const holeNumbers = (log: readonly LogEntry[]): ReadonlySet<number> =>
	new Set([...standings(log).values()].flatMap(({ number, done, over }) => (done || over !== null ? [number] : [])));

const newStanding = (number: number): PointStanding => ({
	number,
	done: false,
	doneAt: null,
	over: null,
	seconds: null,
	notes: [],
});

function withEntry(before: PointStanding, entry: Exclude<LogEntry, { kind: "mark" | "taken back" }>): PointStanding {
	switch (entry.kind) {
		case "done":
			return { ...before, done: true, doneAt: entry.at, seconds: entry.seconds };
		case "reading":
			return { ...before, over: entry.over_mm };
		case "note":
			return { ...before, notes: [...before.notes, entry.text] };
	}
}
