/**
 * Angles for people: the only file of `core/` that may use the built-in trigonometric functions, whose last digit differs
 * between Node and browsers. What comes out is rounded to 1e-4° before it is stored, and nothing is decided by it.
 */

const DEGREES_PER_RADIAN = 180 / Math.PI;

const stored = (degrees: number): number => {
	const rounded = Math.round(degrees * 1e4) / 1e4;
	return rounded === 0 ? 0 : rounded;
};

/** Degrees of the angle whose tangent is y / x, in (−180, 180]. */
export const degreesFromTangent = (y: number, x = 1): number => stored(Math.atan2(y, x) * DEGREES_PER_RADIAN);

/** Degrees of the angle of that cosine, in [0, 180]; values a rounding beyond ±1 count as ±1. */
export const degreesFromCosine = (cosine: number): number =>
	stored(Math.acos(Math.max(-1, Math.min(1, cosine))) * DEGREES_PER_RADIAN);
