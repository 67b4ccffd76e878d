/**
 * A natural bed as a wish: the least angle to it at which the figure still fits. Turns within a larger angle hold those
 * within a smaller one, so that the angle is halved in on, by the search and the proof that answer for a limit.
 */
import { cosDegrees } from "../exactAngle.ts";
import { type Job, within } from "../job.ts";
import { Refusal } from "../refusal.ts";
import type { StoneFit } from "./fitBlock.ts";

export interface LeastAngle {
	/** The least angle at which a placement was found that fits: the best one within it. */
	readonly fit: StoneFit;
	/** In half degrees; 0: along the bed as wished. */
	readonly degrees: number;
	/** No placement fits half a degree nearer; false: there the search gave up undecided. Of 0° there is nothing to prove. */
	readonly proved: boolean;
}

/** What a quarry's bed is known to, °. */
const STEP = 0.5;

/**
 * `cosine`: of the angle at which `best`, a placement that fits, lies to the bed; `fitWithin`: the fit under a limit on
 * that angle. A limit that no turn keeps counts as proved not to fit.
 */
export function* leastAngle(
	best: StoneFit,
	cosine: number,
	fitWithin: (degrees: number) => Job<StoneFit>,
): Job<LeastAngle> {
	let fits = 0;
	while (STEP * fits < 90 && cosDegrees(STEP * fits) > cosine) fits++;
	let least: LeastAngle = { fit: best, degrees: STEP * fits, proved: fits === 0 };
	let fails = -1;
	let tries = 1;
	while (1 << tries <= fits) tries++;
	for (let n = 0; fits - fails > 1; n++) {
		// The wish itself first: most figures that fit at all fit along the bed.
		const k = n === 0 ? 0 : (fits + fails) >> 1;
		const share = Math.min(1, n / tries);
		const found = yield* within(answered(fitWithin(STEP * k)), share, Math.min(1, (n + 1) / tries));
		if (found?.fits) {
			fits = k;
			least = { fit: found, degrees: STEP * k, proved: least.proved };
		} else {
			fails = k;
			least = { ...least, proved: !found || found.bound < 0 };
		}
	}
	return fits === 0 ? { ...least, proved: true } : least;
}

/** null where no turn keeps the limit. */
function* answered(job: Job<StoneFit>): Job<StoneFit | null> {
	try {
		return yield* job;
	} catch (trouble) {
		if (trouble instanceof Refusal && trouble.issue.code === "stone.limitsContradict") return null;
		throw trouble;
	}
}
