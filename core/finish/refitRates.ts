/** Rates learnt from the carver's own days: what the work has really taken, and on how many days that rests (handbook 13). */

import { STAGE_WORK, STAGES, type StageName } from "./quote.ts";
import type { RateKey, Rates } from "./rates.ts";

/** What was done at one stage on one day; a day with two stages gives two of them. */
export interface WorkedDay {
	/** ISO 8601. */
	readonly day: string;
	readonly stage: StageName;
	readonly hours: number;
	/** Amounts in the order of the stage's rates in `STAGE_WORK`: points and metres, open ground and detail, … */
	readonly amounts: readonly number[];
}

export interface LearntRate {
	readonly rate: RateKey;
	readonly value: number;
	/** Different days that it rests on. */
	readonly days: number;
	/** Both rates of a stage could not be told apart on these days, so that they were raised or lowered together. */
	readonly together: boolean;
}

/** Under this share of the greatest possible, two amounts rose and fell together and their rates cannot be told apart. */
const APART = 1e-3;

/**
 * Rates that explain the hours best. One amount: all hours by all of it, so that long days weigh more. Two: least squares on
 * the days, no rate under 0; where the days do not part them, both follow the sum. Stages without a day keep their rates.
 */
export function refitRates(days: readonly WorkedDay[], before: Rates): LearntRate[] {
	return STAGES.flatMap((stage) => {
		const work = STAGE_WORK[stage].map(({ rate }) => rate);
		const own = days.filter((day) => day.stage === stage && day.hours > 0 && day.amounts.some((much) => much > 0));
		return own.length === 0 ? [] : refitStage(work, own, before);
	});
}

function refitStage(work: readonly RateKey[], days: readonly WorkedDay[], before: Rates): LearntRate[] {
	const count = new Set(days.map(({ day }) => day)).size;
	const amount = (day: WorkedDay, k: number): number => day.amounts[k] ?? 0;
	const hours = days.reduce((sum, day) => sum + day.hours, 0);
	const used = work.map((rate, k) => ({ rate, k })).filter(({ k }) => days.some((day) => amount(day, k) > 0));
	const learnt = (rate: RateKey, value: number, together = false): LearntRate => ({
		rate,
		value,
		days: count,
		together,
	});
	if (used.length === 1) {
		const [{ rate, k }] = used;
		return [learnt(rate, hours / days.reduce((sum, day) => sum + amount(day, k), 0))];
	}
	const [a, b] = used;
	const sum = (f: (day: WorkedDay) => number): number => days.reduce((s, day) => s + f(day), 0);
	const aa = sum((day) => amount(day, a.k) * amount(day, a.k));
	const bb = sum((day) => amount(day, b.k) * amount(day, b.k));
	const ab = sum((day) => amount(day, a.k) * amount(day, b.k));
	const ah = sum((day) => amount(day, a.k) * day.hours);
	const bh = sum((day) => amount(day, b.k) * day.hours);
	const apart = aa * bb - ab * ab;
	if (apart <= APART * aa * bb) {
		const foreseen = sum((day) => amount(day, a.k) * before[a.rate] + amount(day, b.k) * before[b.rate]);
		const by = foreseen > 0 ? hours / foreseen : 1;
		return [a, b].map(({ rate }) => learnt(rate, before[rate] * by, true));
	}
	const ra = (ah * bb - bh * ab) / apart;
	const rb = (bh * aa - ah * ab) / apart;
	if (ra < 0) return [learnt(a.rate, 0), learnt(b.rate, bh / bb)];
	if (rb < 0) return [learnt(a.rate, ah / aa), learnt(b.rate, 0)];
	return [learnt(a.rate, ra), learnt(b.rate, rb)];
}
