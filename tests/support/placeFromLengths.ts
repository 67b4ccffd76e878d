import type { Triangle } from "../../core/datum/seatError.ts";
import { add, cross, dot, length, scale, sub, type Vec3 } from "../../core/vector.ts";

/**
 * The place at those lengths from A, B and C, on the side (+1 or −1) of the datum plane; null when no place answers.
 * A height whose square is negative by less than `slack`² (mm; reading errors near the plane) counts as zero.
 */
export function placeFromLengths(datums: Triangle, lengths: Vec3, side: 1 | -1, slack = 0): Vec3 | null {
	const [a, b, c] = datums;
	const ab = sub(b, a);
	const d = length(ab);
	const ex = scale(ab, 1 / d);
	const ac = sub(c, a);
	const i = dot(ex, ac);
	const across = sub(ac, scale(ex, i));
	const j = length(across);
	const ey = scale(across, 1 / j);
	const ez = cross(ex, ey);
	const [ra, rb, rc] = lengths;
	const x = (ra * ra - rb * rb + d * d) / (2 * d);
	const y = (ra * ra - rc * rc + i * i + j * j - 2 * i * x) / (2 * j);
	const z2 = ra * ra - x * x - y * y;
	if (z2 < -slack * slack || !Number.isFinite(z2)) return null;
	const z = side * Math.sqrt(Math.max(0, z2));
	return add(a, add(scale(ex, x), add(scale(ey, y), scale(ez, z))));
}
