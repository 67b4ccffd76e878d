/** Quaternions x, y, z, w of a stance, of any length, in exact arithmetic. */

import type { Mat3 } from "../vector.ts";

export type Quaternion = readonly [number, number, number, number];

/** a b: turns by b first, then by a. */
export const quaternionProduct = ([ax, ay, az, aw]: Quaternion, [bx, by, bz, bw]: Quaternion): Quaternion => [
	aw * bx + ax * bw + ay * bz - az * by,
	aw * by - ax * bz + ay * bw + az * bx,
	aw * bz + ax * by - ay * bx + az * bw,
	aw * bw - ax * bx - ay * by - az * bz,
];

/** Of a rotation (orthonormal, determinant 1); by its greatest component, so that no digit is lost (Shepperd 1978). */
export function quaternionFromRotation(m: Mat3): Quaternion {
	const [xx, xy, xz, yx, yy, yz, zx, zy, zz] = m;
	const trace = xx + yy + zz;
	const most = Math.max(trace, xx, yy, zz);
	if (most === trace) return [zy - yz, xz - zx, yx - xy, 1 + trace];
	if (most === xx) return [1 + xx - yy - zz, xy + yx, xz + zx, zy - yz];
	if (most === yy) return [xy + yx, 1 + yy - xx - zz, yz + zy, xz - zx];
	return [xz + zx, yz + zy, 1 + zz - xx - yy, yx - xy];
}

/** Components under this share of the greatest are rounding. */
const NOTHING = 1e-9;

/**
 * The same turn with w ≥ 0 and small whole numbers where there are some, so that quarter turns never drift; of unit length
 * otherwise.
 */
export function tidyQuaternion(q: Quaternion): [number, number, number, number] {
	const greatest = Math.max(...q.map(Math.abs));
	const clean = q.map((c) => (Math.abs(c) < NOTHING * greatest ? 0 : c));
	const least = Math.min(...clean.filter((c) => c !== 0).map(Math.abs));
	const small = clean.map((c) => c / least);
	const whole = small.every((c) => Math.abs(c - Math.round(c)) < NOTHING);
	const first = clean[3] !== 0 ? clean[3] : (clean.find((c) => c !== 0) ?? 1);
	const sign = first < 0 ? -1 : 1;
	const [x, y, z, w] = clean;
	const length = Math.sqrt(x * x + y * y + z * z + w * w);
	const tidy = (k: number): number => (clean[k] === 0 ? 0 : sign * (whole ? Math.round(small[k]) : clean[k] / length));
	return [tidy(0), tidy(1), tidy(2), tidy(3)];
}
