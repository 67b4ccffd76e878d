/** What a reading leaves at a place: asked here alone, so that bench, log, day book and placing anew tell one number. */

import type { LogEntry } from "../plan/commission.ts";
import { depthShown, finely, type LengthUnit, lengthText, shortText } from "../text/length.ts";
import { standings } from "./log.ts";

/** Readings closer than this to a mark are said to be at it, mm: half of what a depth is printed to. */
export const AT = 0.25;

export type ReadState = "stone left" | "at the stop" | "past the stop" | "at the face" | "gone under";

/** A reading lies under the finished face by more than it may err. */
export const isUnder = (over: number): boolean => over < -AT;

/** A hole goes past its stop by more than the reading may err. */
export const isPastStop = (over: number, stop: number): boolean => over - stop < -AT;

/**
 * How a hole stands by its reading, `over` and `stop` along the line to the finished face, mm. A printed depth is rounded
 * short, so a hole with less than one step of it to go is at its stop: no rule of that unit can ask for more.
 */
export function readState(over: number, stop: number, unit: LengthUnit): ReadState {
	if (isUnder(over)) return "gone under";
	if (over <= AT) return "at the face";
	if (isPastStop(over, stop)) return "past the stop";
	return depthShown(over - stop, unit) > 0 ? "stone left" : "at the stop";
}

/** What is left to the stop, rounded short: for "stone left" alone. */
export const toGoText = (over: number, stop: number, unit: LengthUnit): string => shortText(over - stop, finely(unit));

/** How far a reading is under the finished face, along the line. */
export const underText = (over: number, unit: LengthUnit): string => lengthText(-over, finely(unit));

export interface GoneUnder {
	readonly number: number;
	/** The reading, mm, negative. */
	readonly over: number;
}

/** Points whose last reading is under the finished face. */
export const goneUnder = (log: readonly LogEntry[]): GoneUnder[] =>
	[...standings(log).values()].flatMap(({ number, over }) =>
		over !== null && isUnder(over) ? [{ number, over }] : [],
	);

/** "3 (by 0.10 in), 7 (by 0.05 in)" */
export const underList = (under: readonly GoneUnder[], unit: LengthUnit): string =>
	under.map(({ number, over }) => `${number} (by ${underText(over, unit)})`).join(", ");
