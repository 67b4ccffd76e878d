/** How far the work is, and how long it may still take, from the carver's own days. */

import type { LogEntry } from "../plan/commission.ts";
import type { Plan, PlanPoint } from "../plan/planFile.ts";
import { countedEntries, standings } from "./log.ts";

export interface RoundProgress {
	readonly round: number;
	readonly side: PlanPoint["side"];
	readonly points: number;
	readonly done: number;
}

export interface Progress {
	/** Points that a drill reaches. */
	readonly points: number;
	readonly done: number;
	/** By round, then left, middle, right; only those that have points. */
	readonly byRound: readonly RoundProgress[];
	readonly left: readonly PlanPoint[];
	/** Numbers that the log names but the plan does not know. */
	readonly unknown: readonly number[];
}

const SIDES = ["left", "middle", "right"] as const;

/** Points done and left; those of `stray` holes are left, whatever the log says; undercuts, which no drill reaches, count as neither. */
export function progressOf(plan: Plan, log: readonly LogEntry[], stray: readonly number[] = []): Progress {
	const known = standings(log);
	const drilled = plan.points.filter((point) => !point.undercut);
	const isDone = (point: PlanPoint): boolean =>
		!stray.includes(point.number) && (known.get(point.number)?.done ?? false);
	const byRound = plan.rounds.flatMap((_, round) =>
		SIDES.flatMap((side): RoundProgress[] => {
			const here = drilled.filter((point) => point.round === round && point.side === side);
			return here.length === 0 ? [] : [{ round, side, points: here.length, done: here.filter(isDone).length }];
		}),
	);
	const numbers = new Set(plan.points.map((point) => point.number));
	const left = drilled.filter((point) => !isDone(point));
	return {
		points: drilled.length,
		done: drilled.length - left.length,
		byRound,
		left,
		unknown: [...known.keys()].filter((number) => !numbers.has(number)).sort((a, b) => a - b),
	};
}

export interface Pace {
	/** Days with at least one point done, oldest first. */
	readonly days: readonly { readonly day: string; readonly points: number }[];
	/** Points a day: the mean of those days, or the usual pace where there are none. */
	readonly perDay: number;
	/** True where fewer than three days are known, so that the usual pace stands in. */
	readonly usual: boolean;
	/** Days for what is left: likely, and the two ends between which it lies four times in five. */
	readonly daysLeft: { readonly low: number; readonly likely: number; readonly high: number };
}

/** Points a day, common practice, no source. */
const USUAL_LOW = 30;
const USUAL_HIGH = 40;
/** Fewer days say nothing about their spread. */
export const LEAST_DAYS = 3;
/** Quantile of the normal distribution that leaves a tenth on either side (NIST/SEMATECH e-Handbook, 1.3.6.7.1). */
const TENTH = 1.2816;

/**
 * Days left when each brings as many points as the carver's own days did. The sum of D days to come is foreseen from n days
 * known as D·mean with the variance s²·(D + D²/n), s the standard deviation of the days; the ends solve
 * (left − D·mean)² = t²·s²·(D + D²/n), t leaving a tenth on either side of Student's distribution.
 */
export function paceOf(log: readonly LogEntry[], left: number): Pace {
	const counts = new Map<string, Set<number>>();
	for (const entry of countedEntries(log)) {
		if (entry.kind !== "done") continue;
		const day = entry.at.slice(0, 10);
		const points = counts.get(day) ?? new Set<number>();
		counts.set(day, points.add(entry.point));
	}
	const days = [...counts].map(([day, points]) => ({ day, points: points.size }));
	if (days.length < LEAST_DAYS) {
		const perDay = (USUAL_LOW + USUAL_HIGH) / 2;
		const daysLeft = { low: left / USUAL_HIGH, likely: left / perDay, high: left / USUAL_LOW };
		return { days, perDay, usual: true, daysLeft };
	}
	const mean = days.reduce((sum, { points }) => sum + points, 0) / days.length;
	const squares = days.reduce((sum, { points }) => sum + (points - mean) * (points - mean), 0);
	const spread = Math.sqrt(squares / (days.length - 1));
	return { days, perDay: mean, usual: false, daysLeft: daysFor(left, mean, spread, days.length) };
}

/** The two roots of the quadratic above; the far end is Infinity where the days differ too much to set one. */
function daysFor(left: number, mean: number, spread: number, n: number): Pace["daysLeft"] {
	const likely = left / mean;
	const quantile = studentTenth(n - 1);
	const q = quantile * quantile * spread * spread;
	if (q === 0) return { low: likely, likely, high: likely };
	const a = mean * mean - q / n;
	const b = 2 * left * mean + q;
	const root = Math.sqrt(Math.max(0, b * b - 4 * a * left * left));
	return { low: (2 * left * left) / (b + root), likely, high: a > 0 ? (b + root) / (2 * a) : Number.POSITIVE_INFINITY };
}

/** Student's quantile that leaves a tenth on either side, to 2 % from two degrees of freedom on (Abramowitz and Stegun, 26.7.5). */
export function studentTenth(freedom: number): number {
	const z = TENTH;
	const z2 = z * z;
	return z + (z * (z2 + 1)) / (4 * freedom) + (z * (5 * z2 * z2 + 16 * z2 + 3)) / (96 * freedom * freedom);
}
