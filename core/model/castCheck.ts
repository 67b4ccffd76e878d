/** Scan against cast: calliper lengths read on the bench model beside the same lengths on the scan (handbook 2 and 3). */

import { Refusal } from "../refusal.ts";
import { distance, type Vec3 } from "../vector.ts";

/** Two places on the model, model frame, mm, and the length between them as read on the cast, mm. */
export interface CastPair {
	readonly a_mm: Vec3;
	readonly b_mm: Vec3;
	readonly read_mm: number;
}

/** Standard deviation of one calliper reading on plaster, mm. Common practice, no source. */
const READING_ERROR_MM = 0.2;
/** A length under this many reading errors tells nothing about size. */
const LEAST_ERRORS = 50;
/** Standard errors from which a drift is likely, and from which it is sure: 1 in 20 and 1 in 370 by chance alone. */
const LIKELY = 2;
const SURE = 3;
/** A residual beyond this many reading errors is a misreading or a wrong place. */
const MISREAD = 3;

export interface CastCheck {
	/** Cast ÷ scan as the commission has it: 1.002 where the cast came out 0.2 % larger. */
	readonly scale: number;
	/** Of that scale. */
	readonly standardError: number;
	/** |scale − 1| in standard errors. */
	readonly sigmas: number;
	/** "none": the drift is no bigger than what the readings' error alone would give. */
	readonly drift: "none" | "likely" | "sure";
	/** mm, root mean square of the residuals with one degree of freedom taken by the scale. */
	readonly spread: number;
	readonly readingError: number;
	readonly pairs: readonly {
		/** On the scan at the size of the cast, mm. */
		readonly length: number;
		/** Read less best scale × length, mm. */
		readonly residual: number;
	}[];
	/** The pair with the greatest residual, where that is more than a reading error explains. */
	readonly misread: number | null;
}

/**
 * Least squares through the origin, read = scale × length. The standard error takes the greater of the given reading error
 * and the spread found: a few pairs that agree by luck must not make a drift look surer than callipers are.
 * `benchScale`: stone ÷ bench model. Refuses fewer than two pairs, places too near each other, and readings that are none.
 */
export function castCheck(
	pairs: readonly CastPair[],
	benchScale: number,
	readingError: number = READING_ERROR_MM,
): CastCheck {
	if (!(readingError > 0 && readingError < Number.POSITIVE_INFINITY))
		throw new Refusal("cast.readingError", { found: readingError });
	if (pairs.length < 2) throw new Refusal("cast.fewPairs", { found: pairs.length });
	const lengths = pairs.map(({ a_mm, b_mm, read_mm }, i) => {
		const length = distance(a_mm, b_mm) / benchScale;
		const least = LEAST_ERRORS * readingError;
		if (!(length >= least)) throw new Refusal("cast.short", { pair: i + 1, found: length, least });
		if (!(read_mm > 0 && read_mm < Number.POSITIVE_INFINITY))
			throw new Refusal("cast.reading", { pair: i + 1, found: read_mm });
		return length;
	});
	let xx = 0;
	let xy = 0;
	lengths.forEach((x, i) => {
		xx += x * x;
		xy += x * pairs[i].read_mm;
	});
	const scale = xy / xx;
	const residuals = lengths.map((x, i) => pairs[i].read_mm - scale * x);
	const spread = Math.sqrt(residuals.reduce((sum, r) => sum + r * r, 0) / (pairs.length - 1));
	const standardError = Math.max(readingError, spread) / Math.sqrt(xx);
	const sigmas = Math.abs(scale - 1) / standardError;
	const worst = residuals.reduce((w, r, i) => (Math.abs(r) > Math.abs(residuals[w]) ? i : w), 0);
	return {
		scale,
		standardError,
		sigmas,
		drift: sigmas < LIKELY ? "none" : sigmas < SURE ? "likely" : "sure",
		spread,
		readingError,
		pairs: lengths.map((length, i) => ({ length, residual: residuals[i] })),
		misread: Math.abs(residuals[worst]) > MISREAD * readingError ? worst : null,
	};
}
