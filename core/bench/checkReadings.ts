/** From the log to the question whether anything has moved: the readings of one day that say something about it. */

import type { LogEntry } from "../plan/commission.ts";
import type { Plan, PlanPoint } from "../plan/planFile.ts";
import { along, type Vec3 } from "../vector.ts";
import { countedEntries } from "./log.ts";
import type { MovedInput } from "./moved.ts";
import type { ReadPlace } from "./stories.ts";

export interface CheckReadings {
	/** Ready for `hasMoved`; its places are those of `left`. */
	readonly input: MovedInput;
	/** What each reading is of: "12", "mark P". */
	readonly names: readonly string[];
	/** The datum set that most of the readings belong to; those of others are left for another day. */
	readonly set: number;
	/** The bench's day that they were made on; null where there are none. */
	readonly day: string | null;
	/** Points that are still to be drilled, whose depths a move would change. */
	readonly left: readonly PlanPoint[];
}

/** Floor of a planned hole and its line, stone frame, mm; null for an undercut. */
function floorOf(point: PlanPoint): ReadPlace | null {
	const { entry_mm: entry, line, depth_mm: depth } = point;
	return entry && line && depth !== null ? { at: along(entry, line, -depth), line } : null;
}

/**
 * Readings of the last day on which a place was read again. A point counts once it is done: it should read as it did when it
 * was done, or its planned stop where nobody read it then. A proof mark should read as it did the first time.
 */
export function checkReadings(plan: Plan, log: readonly LogEntry[]): CheckReadings {
	const places = new Map<string, ReadPlace>();
	for (const point of plan.points) {
		const floor = floorOf(point);
		if (floor) places.set(String(point.number), floor);
	}
	for (const mark of plan.proofMarks)
		if (mark.entry_mm && mark.line) places.set(markName(mark.name), { at: mark.entry_mm, line: mark.line });
	const stops = new Map(plan.points.map((point) => [String(point.number), point.stop_mm]));

	const should = new Map<string, number>();
	const before = new Map<string, number>();
	const done = new Set<string>();
	const again: { name: string; off: number; day: string }[] = [];
	for (const entry of countedEntries(log)) {
		const day = entry.at.slice(0, 10);
		if (entry.kind === "mark") {
			const name = markName(entry.mark);
			const first = should.get(name);
			if (first === undefined) should.set(name, entry.read_mm);
			else again.push({ name, off: entry.read_mm - first, day });
		} else if (entry.kind === "done") {
			const name = String(entry.point);
			done.add(name);
			const stop = before.get(name) ?? stops.get(name);
			if (stop !== undefined && stop !== null) should.set(name, stop);
		} else if (entry.kind === "reading") {
			const name = String(entry.point);
			const planned = should.get(name);
			if (!done.has(name)) before.set(name, entry.over_mm);
			else if (planned !== undefined) again.push({ name, off: entry.over_mm - planned, day });
		}
	}
	const day = again.at(-1)?.day ?? null;
	const sets = new Map(plan.points.map((point) => [String(point.number), point.set]));
	const latest = new Map(again.filter((one) => one.day === day).map((one) => [one.name, one.off]));
	const read = [...latest].flatMap(([name, off]) => {
		const place = places.get(name);
		return place ? [{ name, reading: { ...place, off } }] : [];
	});
	const set = mostRead(read.flatMap(({ name }) => sets.get(name) ?? []));
	const ofSet = read.filter(({ name }) => (sets.get(name) ?? set) === set);
	const left = plan.points.filter(
		(point) => point.set === set && !done.has(String(point.number)) && floorOf(point) !== null,
	);
	const [A, B, C] = plan.datumSets[set].datums.map((datum) => datum.stone_mm);
	return {
		input: {
			seats: [A, B, C] as readonly Vec3[] as MovedInput["seats"],
			readings: ofSet.map((one) => one.reading),
			places: left.map((point) => floorOf(point) as ReadPlace),
		},
		names: ofSet.map((one) => one.name),
		set,
		day,
		left,
	};
}

/** The set that occurs most, the first of equals; 0 for none. */
function mostRead(sets: readonly number[]): number {
	const counts = new Map<number, number>();
	for (const set of sets) counts.set(set, (counts.get(set) ?? 0) + 1);
	return [...counts].sort(([a, m], [b, n]) => n - m || a - b)[0]?.[0] ?? 0;
}

const markName = (name: string): string => `mark ${name}`;
