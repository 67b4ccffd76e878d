/**
 * Hand–arm vibration of a day (handbook 14). Points add up over the tools of a day: 2 a² for each hour on the trigger
 * (HSE ready reckoner, 2009), 100 points being the exposure action value of 2.5 m/s² and 400 the limit of 5 m/s² over eight
 * hours (Directive 2002/44/EC, article 3).
 */

export const ACTION_POINTS = 100;
export const LIMIT_POINTS = 400;
const POINTS_PER_HOUR = 2;
/** Points that make 1 m/s² over eight hours: 2 × 8. */
const POINTS_PER_DAY = 16;

export interface VibratingTool {
	readonly name: string;
	/** m/s², the value for a first assessment; null: none was found, the maker's is needed. */
	readonly ms2: number | null;
}

/** HSE, Stonemasonry: vibration and noise, table 1: value recommended for a first assessment (75th percentile). */
export const STONE_TOOLS: readonly VibratingTool[] = [
	{ name: "angle grinder, cutting stone", ms2: 9 },
	{ name: "angle grinder, dry polishing", ms2: 8 },
	{ name: "stone hammer, pistol grip", ms2: 13 },
	{ name: "stone hammer, D handle", ms2: 19 },
	{ name: "stone hammer, in line, traditional", ms2: 22 },
	{ name: "rotary drill", ms2: null },
	{ name: "hand tools", ms2: 0 },
];

export interface ToolUse {
	readonly tool: string;
	/** m/s²; null where it is not known. */
	readonly ms2: number | null;
	/** Hours on the trigger in the day. */
	readonly hours: number;
}

export interface DayOfVibration {
	readonly points: number;
	/** A(8), m/s². */
	readonly a8: number;
	readonly over: "nothing" | "action" | "limit";
	/** Tools whose vibration is not known, so that the sum is too low. */
	readonly unknown: readonly string[];
}

export const pointsOf = (ms2: number, hours: number): number => POINTS_PER_HOUR * ms2 * ms2 * hours;

export function vibrationOf(day: readonly ToolUse[]): DayOfVibration {
	const points = day.reduce((sum, { ms2, hours }) => sum + pointsOf(ms2 ?? 0, hours), 0);
	const over = points > LIMIT_POINTS ? "limit" : points > ACTION_POINTS ? "action" : "nothing";
	const unknown = day.filter(({ ms2, hours }) => ms2 === null && hours > 0).map(({ tool }) => tool);
	return { points, a8: Math.sqrt(points / POINTS_PER_DAY), over, unknown };
}

/** Minutes on the trigger after which a tool alone reaches so many points; infinite where it does not vibrate. */
export const minutesTo = (points: number, ms2: number): number =>
	ms2 > 0 ? (60 * points) / pointsOf(ms2, 1) : Number.POSITIVE_INFINITY;
