/** What can be lifted by whom, and with what (handbook 14). Guideline weights are filters for an easy lift, not limits. */

/** HSE guideline, one person, close to the body at the height of the knuckles, now and then: kg. */
export const FILTER_KG = { men: 25, women: 16 } as const;
/** Over this, tackle and not hands (common practice, no source). */
export const TACKLE_KG = 50;

export type LiftWay = "one person" | "some people" | "more than one" | "tackle";

/** How a mass is lifted at best; the upper end of its range counts. */
export const liftWay = (kg: number): LiftWay =>
	kg <= FILTER_KG.women
		? "one person"
		: kg <= FILTER_KG.men
			? "some people"
			: kg <= TACKLE_KG
				? "more than one"
				: "tackle";

/** A two-handed lift; cm as in the source, angle in degrees. */
export interface Lift {
	/** From between the ankles to the hands. */
	readonly reach: number;
	/** Height of the hands at the start. */
	readonly from: number;
	readonly to: number;
	readonly twist_deg: number;
	/** 1 for now and then over less than an hour; less from the table of the source. */
	readonly frequency: number;
	/** 1 good, 0.9 poor. */
	readonly grip: number;
}

/** kg, load constant of the equation. */
const LOAD_KG = 23;
const LEAST_REACH = 25;
const MOST_REACH = 63;
const KNUCKLES = 75;
const MOST_HEIGHT = 175;
const LEAST_WAY = 25;
const MOST_TWIST = 135;

/**
 * Recommended weight limit, kg, of the revised NIOSH lifting equation: T. R. Waters, V. Putz-Anderson, A. Garg,
 * Applications Manual (NIOSH 94-110, revised 2021). The multiplier for twisting (1 − 0.0032 A) is from memory; it agrees with
 * the published table. 0 past the reaches that the equation holds for.
 */
export function recommendedKg({ reach, from, to, twist_deg, frequency, grip }: Lift): number {
	const way = Math.max(LEAST_WAY, Math.abs(to - from));
	if (reach > MOST_REACH || Math.max(from, to) > MOST_HEIGHT || way > MOST_HEIGHT || twist_deg > MOST_TWIST) return 0;
	const across = LEAST_REACH / Math.max(LEAST_REACH, reach);
	const height = 1 - 0.003 * Math.abs(from - KNUCKLES);
	const distance = 0.82 + 4.5 / way;
	return LOAD_KG * across * height * distance * (1 - 0.0032 * twist_deg) * frequency * grip;
}
