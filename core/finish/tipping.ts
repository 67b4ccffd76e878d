/** Does it stand: over which edge a weight tips, at what angle, and what push it takes (handbook 13). */

import { degreesFromTangent } from "../text/angle.ts";

/** On the ground, mm. */
export type Place2 = readonly [number, number];

/** Standard acceleration of gravity, m/s² (exact by definition). */
export const GRAVITY = 9.80665;

export interface Tipping {
	/** Least distance on the ground from under the centre of mass to an edge, mm; negative when it lies outside. */
	readonly margin: number;
	/** Tangent of the lean of the ground at which it falls over that edge; 0 when it falls by itself. */
	readonly tangent: number;
	/** The same in degrees, for people. */
	readonly angle: number;
	/** Middle of that edge, for drawing. */
	readonly over: Place2;
}

/** `foot`: convex, counter-clockwise from above, mm; `height` of the centre of mass over it, mm. */
export function tippingOf(foot: readonly Place2[], centre: Place2, height: number): Tipping {
	let margin = Number.POSITIVE_INFINITY;
	let over: Place2 = centre;
	foot.forEach((a, i) => {
		const b = foot[(i + 1) % foot.length];
		const [ex, ey] = [b[0] - a[0], b[1] - a[1]];
		const long = Math.sqrt(ex * ex + ey * ey);
		if (!(long > 0)) return;
		const off = (ex * (centre[1] - a[1]) - ey * (centre[0] - a[0])) / long;
		if (off < margin) {
			margin = off;
			over = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
		}
	});
	const tangent = margin > 0 ? margin / height : 0;
	return { margin, over, tangent, angle: margin > 0 ? degreesFromTangent(margin, height) : 0 };
}

/** Level push, N, at `at` mm over the ground that tips a mass over an edge `margin` mm away. */
export const tippingPush = (kg: number, margin: number, at: number): number =>
	(kg * GRAVITY * Math.max(0, margin)) / at;
