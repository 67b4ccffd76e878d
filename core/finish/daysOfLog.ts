/** Worked days read out of the log: the hours that the points of each day took, with their number and metres. */

import { countedEntries } from "../bench/log.ts";
import { LEAST_DAYS } from "../bench/progress.ts";
import type { Commission } from "../plan/commission.ts";
import type { Plan } from "../plan/planFile.ts";
import type { WorkedDay } from "./refitRates.ts";

const SECONDS_PER_HOUR = 3600;
const MM_PER_M = 1000;
const DAY_LETTERS = 10;
/** A day's points at the usual pace (common practice, no source): fewer, and one slow hole makes the rate. */
const LEAST_POINTS = 30;

/**
 * Points that were done with their time taken; a point that was done twice counts each time. The bench measures nothing but
 * points, so days of other stages are the carver's own to give.
 */
export function daysOfLog(log: Commission["log"], plan: Plan): WorkedDay[] {
	const depths = new Map(plan.points.map(({ number, depth_mm }) => [number, depth_mm ?? 0]));
	const days = new Map<string, { seconds: number; points: number; depth: number }>();
	for (const entry of countedEntries(log)) {
		if (entry.kind !== "done" || entry.seconds === null || !depths.has(entry.point)) continue;
		const day = entry.at.slice(0, DAY_LETTERS);
		const sum = days.get(day) ?? { seconds: 0, points: 0, depth: 0 };
		sum.seconds += entry.seconds;
		sum.points++;
		sum.depth += depths.get(entry.point) ?? 0;
		days.set(day, sum);
	}
	return [...days].map(([day, { seconds, points, depth }]) => ({
		day,
		stage: "points",
		hours: seconds / SECONDS_PER_HOUR,
		amounts: [points, depth / MM_PER_M],
	}));
}

/** How much of a log there is to learn from, and how much there must be. */
export interface LogSupport {
	readonly days: number;
	readonly points: number;
	readonly leastDays: number;
	readonly leastPoints: number;
	readonly enough: boolean;
}

/** Whether days of points carry a rate: as many days as a pace of one's own needs, and a day's worth of timed points. */
export function supportOf(worked: readonly WorkedDay[]): LogSupport {
	const days = new Set(worked.map(({ day }) => day)).size;
	const points = worked.reduce((sum, { amounts }) => sum + amounts[0], 0);
	return {
		days,
		points,
		leastDays: LEAST_DAYS,
		leastPoints: LEAST_POINTS,
		enough: days >= LEAST_DAYS && points >= LEAST_POINTS,
	};
}
