/**
 * The solid of revolution that a drill sweeps, as the surface sees it.
 *
 * Places are given by x along the line (0 at the line's origin, growing along its direction) and rho, the distance from it.
 * The solid with its tip at x = s holds every place with x ≥ s − G(w), w = rho − c + k x, where the *cap* G says how far the
 * solid's end reaches in front of its tip at that width: concave, never growing, −∞ beyond the width W. It has no far end:
 * outside the stone there is nothing to touch. Grown evenly by an allowance (c = k = 0) or widening towards the tip
 * (c, k > 0), it is the hole of handbook 8 as aimed and at worst aim.
 *
 * A place of the surface is touched exactly when s < x + G(w), so the tip must stay at the greatest value of x + G(w) over
 * the whole surface. Because rho is convex, that value is concave on every plane. Own derivation.
 */

/**
 * The end and the widening of one solid, mm. The cap is a cone between two roundings of the same radius, the shape that
 * an even allowance makes of a cone; a flat end is a cone without height, a ball a rounding alone:
 *   G(w) = shift + √(rounding² − w²)                                       w ≤ coneFrom
 *   G(w) = shift + coneTop − w · coneSlope                                 w ≤ coneTo
 *   G(w) = shift − shoulder · coneSlope + √(rounding² − (w − shoulder)²)   w ≤ W = shoulder + rounding
 */
export interface SweptSolid {
	readonly rounding: number;
	readonly shoulder: number;
	readonly coneSlope: number;
	readonly coneFrom: number;
	readonly coneTo: number;
	readonly coneTop: number;
	readonly shift: number;
	/** c: how much wider than its cap the solid is at x = 0. */
	readonly wider: number;
	/** k: by how much it widens for each mm towards the tip, at least 0. */
	readonly widening: number;
	/** Added to the value: how much farther out the tip must be set because it may be pushed in by this much. */
	readonly push: number;
}

/** How far the cap reaches in front of the tip at width w (w < 0 counts as 0); −∞ beyond its width. */
export function capReach(solid: SweptSolid, w: number): number {
	if (w > solid.shoulder + solid.rounding) return Number.NEGATIVE_INFINITY;
	if (w <= solid.coneFrom) {
		const u = Math.max(w, 0);
		return solid.shift + Math.sqrt(solid.rounding * solid.rounding - u * u);
	}
	if (w <= solid.coneTo) return solid.shift + solid.coneTop - w * solid.coneSlope;
	const u = w - solid.shoulder;
	return (
		solid.shift - solid.shoulder * solid.coneSlope + Math.sqrt(Math.max(0, solid.rounding * solid.rounding - u * u))
	);
}

/** Width at which a plane that climbs by `slope` mm for each mm of width rests on the cap. */
export function capRest(solid: SweptSolid, slope: number): number {
	const sine = slope / Math.sqrt(1 + slope * slope);
	return (slope > solid.coneSlope ? solid.shoulder : 0) + solid.rounding * sine;
}

/**
 * Least x of the tip over a plane that meets the line at x = 0 and climbs by `slope` = tan(tilt) for each mm of rho.
 * Closed form, push included.
 */
export function tipOnPlane(solid: SweptSolid, slope: number): number {
	const turned = slope / (1 + solid.widening * slope);
	const w = capRest(solid, turned);
	return turned * (w + solid.wider) + capReach(solid, w) + solid.push;
}
