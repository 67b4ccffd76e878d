/**
 * Angles where they decide something: tangents, sines and cosines from one series of our own, because the built-in ones
 * differ in the last digit between Node and browsers (handbook 3). For angles that people read, see `core/text/angle.ts`.
 */

const RADIANS_PER_DEGREE = 0.017453292519943295;

/** Sine and cosine of an angle in degrees, by Taylor series after halving to 11.25° at most; error below 1e-15. */
export function sinCosDegrees(degrees: number): { sin: number; cos: number } {
	const turned = degrees - 360 * Math.round(degrees / 360);
	const x = (turned * RADIANS_PER_DEGREE) / 16;
	const x2 = x * x;
	// Horner forms of sin x and 1 − cos x; with |x| ≤ 0.1964 the first dropped terms are below 1e-17.
	let s = x * (1 - (x2 / 6) * (1 - (x2 / 20) * (1 - (x2 / 42) * (1 - (x2 / 72) * (1 - x2 / 110)))));
	let v = (x2 / 2) * (1 - (x2 / 12) * (1 - (x2 / 30) * (1 - (x2 / 56) * (1 - (x2 / 90) * (1 - x2 / 132)))));
	// Doubling keeps 1 − cos rather than cos, which would lose digits near 0°.
	for (let i = 0; i < 4; i++) {
		const c = 1 - v;
		v = 2 * s * s;
		s = 2 * s * c;
	}
	return { sin: s, cos: 1 - v };
}

/** Tangent of an angle in degrees, |degrees| < 90. */
export function tanDegrees(degrees: number): number {
	const { sin, cos } = sinCosDegrees(degrees);
	return sin / cos;
}

export const cosDegrees = (degrees: number): number => sinCosDegrees(degrees).cos;
export const sinDegrees = (degrees: number): number => sinCosDegrees(degrees).sin;
