/** Which places to read again, so that the day's readings can say whether anything has moved. */

import type { LogEntry } from "../plan/commission.ts";
import type { Plan, PlanPoint } from "../plan/planFile.ts";
import { distance, type Vec3 } from "../vector.ts";
import { checkReadings } from "./checkReadings.ts";
import { countedEntries, doneNumbers } from "./log.ts";
import { FEWEST } from "./moved.ts";

export interface ToRead {
	/** Readings of one day under which nothing can be told. */
	readonly fewest: number;
	/** What has been read again today: "12", "mark P". */
	readonly read: readonly string[];
	/** How many more are needed today at the least. */
	readonly lacking: number;
	/** Proof marks that were never read, so that nothing can be held against them. */
	readonly first: readonly string[];
	/** Proof marks that have a first reading and were not read again today. */
	readonly marks: readonly string[];
	/** Done points not read again today, those that lie farthest from all others first. */
	readonly points: readonly number[];
}

/** `today`: the bench's day, "2026-03-02". */
export function toRead(plan: Plan, log: readonly LogEntry[], today: string): ToRead {
	const counted = countedEntries(log);
	const check = checkReadings(plan, log);
	const read = check.day === today ? check.names : [];
	const everRead = new Set(counted.flatMap((entry) => (entry.kind === "mark" ? [entry.mark] : [])));
	const names = plan.proofMarks.flatMap((mark) => (mark.line ? [mark.name] : []));
	const done = doneNumbers(log);
	const drilled = plan.points.filter((point) => done.has(point.number) && point.line !== null);
	const readPoints = plan.points.filter((point) => read.includes(String(point.number)));
	return {
		fewest: FEWEST,
		read,
		lacking: Math.max(0, FEWEST - read.length),
		first: names.filter((name) => !everRead.has(name)),
		marks: names.filter((name) => everRead.has(name) && !read.includes(`mark ${name}`)),
		points: farApart(drilled, readPoints),
	};
}

/** Those of `points` that are none of `taken`: always next the one farthest from all before it, the first of equals. */
function farApart(points: readonly PlanPoint[], taken: readonly PlanPoint[]): number[] {
	const left = points
		.filter((point) => !taken.includes(point))
		.map(({ number, model_mm }) => ({ number, at: model_mm }));
	const before: Vec3[] = taken.map((point) => point.model_mm);
	// With nothing taken the first is the one farthest from any, which then counts no more.
	const startsAnew = before.length === 0;
	if (startsAnew && left.length > 0) before.push(left[0].at);
	const gaps = left.map(({ at }) => Math.min(...before.map((one) => distance(one, at))));
	const order: number[] = [];
	while (order.length < Math.min(MOST, left.length)) {
		let next = -1;
		gaps.forEach((gap, i) => {
			if (gap >= 0 && (next < 0 || gap > gaps[next])) next = i;
		});
		order.push(left[next].number);
		gaps[next] = -1;
		left.forEach(({ at }, i) => {
			if (gaps[i] < 0) return;
			const gap = distance(at, left[next].at);
			gaps[i] = startsAnew && order.length === 1 ? gap : Math.min(gaps[i], gap);
		});
	}
	return order;
}

/** More are never asked for at once. */
const MOST = 12;
