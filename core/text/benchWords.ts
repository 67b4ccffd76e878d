/** What is said at the bench: a reading in words, a pace, a day's sum. */

import { readState, toGoText, underText } from "../bench/left.ts";
import { finely, type LengthUnit, lengthText } from "./format.ts";

/** Nobody goes this far under the face unawares, mm. */
export const MISTYPED = 30;

/** What a reading means: to the stop, to the finished face, gone under. `over` and `stop` along the line, mm. */
export function readingWords(over: number, stop: number, unit: LengthUnit): string {
	const length = (mm: number): string => lengthText(mm, finely(unit));
	if (over < -MISTYPED)
		return `That would be ${length(-over)} under the finished face: is a point or a figure missing in what was typed?`;
	switch (readState(over, stop, unit)) {
		case "gone under":
			return `Gone under the finished face by ${underText(over, unit)}. Drill no deeper; place the figure anew, or make the place good.`;
		case "at the face":
			return "At the finished face: nothing is left over it. Drill no deeper.";
		case "stone left":
			return `${toGoText(over, stop, unit)} to the stop, ${length(over)} to the finished face.`;
		case "at the stop":
			return `At the stop, ${length(over)} over the finished face.`;
		case "past the stop":
			return `${length(stop - over)} past the stop, still ${length(over)} over the finished face. Drill no deeper.`;
	}
}

/** What to do at a hole that has gone under, where it is seen first. */
export const UNDER_ORDERS =
	"Stop: drill no deeper, and leave the places beside it. Note how it came; the reading stands in the log. Then look at “Place anew” on page 4 of the planner, or make the place good.";

const count = (n: number): string => (n < 9.95 ? n.toFixed(1) : String(Math.round(n)));

/** "12 days (9 to 16)"; half days are a start. */
export function daysText({ low, likely, high }: { low: number; likely: number; high: number }): string {
	const [a, b, c] = [low, likely, high].map(count);
	if (high === Number.POSITIVE_INFINITY) return `${b} days, ${a} at the least; the days differ too much to say more`;
	const ends = a === c ? "" : ` (${a} to ${c})`;
	return `${b} ${b === "1.0" ? "day" : "days"}${ends}`;
}
