/**
 * How far a target is off when every seat is off by a small random error.
 *
 * Source: Fitzpatrick, West and Maurer, Predicting error in rigid-body point-based registration, IEEE Trans. Medical
 * Imaging 17(5), 1998, eq. 46, for three datums:  TRE²(x) = e²/3 · (1 + ⅓ Σₖ dₖ²/fₖ²),  dₖ the distance of x from
 * principal axis k of the triangle, fₖ the root mean square distance of the datums from it. Because the third principal
 * axis of a triangle is its normal, the axes come from a 2 × 2 problem in closed form, with square roots alone.
 */

import { symmetricEigen } from "../symmetric.ts";
import { add, along, cross, dot, length, scale, squareTo, sub, unit, type Vec3 } from "../vector.ts";

export type Triangle = readonly [Vec3, Vec3, Vec3];

/** Σₖ dₖ²/fₖ² as a quadratic form: |centred x|² weighed along the three principal axes of the places that hold the fit. */
export interface SeatErrorForm {
	/** How many places hold it: three datums, or the points of a link. */
	readonly count: number;
	readonly centroid: Vec3;
	/** Unit principal axes; of a triangle the third is its normal, along (B−A)×(C−A). */
	readonly axes: readonly [Vec3, Vec3, Vec3];
	/** Weight of the squared coordinate along each axis in Σ dₖ²/fₖ², 1/mm². */
	readonly weights: Vec3;
}

/** Least height of a datum triangle over its longest side, as a share: under it the turn about that side is not held. */
const FLATTEST = 1e-6;

/** The error form of a datum triangle (any frame, mm), or null when the three lie on one line. */
export function seatErrorForm(triangle: Triangle): SeatErrorForm | null {
	const [a, b, c] = triangle;
	const centroid = scale([a[0] + b[0] + c[0], a[1] + b[1] + c[1], a[2] + b[2] + c[2]], 1 / 3);
	const normalLong = cross(sub(b, a), sub(c, a));
	const twiceArea = length(normalLong);
	const longest = Math.max(length(sub(b, a)), length(sub(c, b)), length(sub(a, c)));
	if (!(twiceArea > FLATTEST * longest * longest)) return null;
	const normal = scale(normalLong, 1 / twiceArea);
	const e1 = squareTo(normal);
	const e2 = cross(normal, e1);
	// Covariance of the datums in the plane.
	let p = 0;
	let q = 0;
	let r = 0;
	for (const datum of triangle) {
		const d = sub(datum, centroid);
		const x = dot(d, e1);
		const y = dot(d, e2);
		p += (x * x) / 3;
		q += (x * y) / 3;
		r += (y * y) / 3;
	}
	const half = (p - r) / 2;
	const root = Math.sqrt(half * half + q * q);
	const major = (p + r) / 2 + root;
	const minor = (p * r - q * q) / major;
	// Eigenvector of the larger value; the longer of its two forms keeps its digits.
	const axis =
		root === 0
			? e1
			: half >= 0
				? unit(along(scale(e1, half + root), e2, q))
				: unit(along(scale(e1, q), e2, root - half));
	const second = cross(normal, axis);
	// Squared distances of the datums from each axis: from the first only `minor` is left, and so on.
	const f1 = minor;
	const f2 = major;
	const f3 = major + minor;
	return {
		count: 3,
		centroid,
		axes: [axis, second, normal],
		weights: [1 / f2 + 1 / f3, 1 / f1 + 1 / f3, 1 / f1 + 1 / f2],
	};
}

/** The same form of three or more places in space (eq. 46 holds for any number), or null where they lie on one line. */
export function linkErrorForm(places: readonly Vec3[]): SeatErrorForm | null {
	const n = places.length;
	if (n < 3) return null;
	const centroid = scale(places.reduce(add), 1 / n);
	const spread = [0, 1, 2].map((r) =>
		[0, 1, 2].map((c) => places.reduce((sum, p) => sum + ((p[r] - centroid[r]) * (p[c] - centroid[c])) / n, 0)),
	);
	const { values, vectors } = symmetricEigen(spread);
	const [l1, l2, l3] = values.map((v) => Math.max(0, v));
	if (!(l2 > FLATTEST * l1)) return null;
	// Squared root mean square distances of the places from each axis.
	const [f1, f2, f3] = [l2 + l3, l1 + l3, l1 + l2];
	return {
		count: n,
		centroid,
		axes: vectors as unknown as SeatErrorForm["axes"],
		weights: [1 / f2 + 1 / f3, 1 / f1 + 1 / f3, 1 / f1 + 1 / f2],
	};
}

/**
 * Root mean square error at x, mm, when each seat is off by `seatError` (root mean square length of its three-dimensional
 * error, mm; not the error along one axis, which is √3 smaller).
 */
export function seatErrorAt(form: SeatErrorForm, seatError: number, x: Vec3): number {
	const d = sub(x, form.centroid);
	let sum = 0;
	for (let k = 0; k < 3; k++) {
		const coordinate = dot(d, form.axes[k]);
		sum += form.weights[k] * coordinate * coordinate;
	}
	return seatError * Math.sqrt((1 + sum / 3) / form.count);
}

/** Errors of one origin each add by their squares: a set's own seats, its link, and the set it is linked to. */
export function chainErrorAt(forms: readonly SeatErrorForm[], seatError: number, x: Vec3): number {
	let sum = 0;
	for (const form of forms) {
		const error = seatErrorAt(form, seatError, x);
		sum += error * error;
	}
	return Math.sqrt(sum);
}

/** The same for many places at once: positions x, y, z each, mm; result in mm. */
export function seatErrorMap(
	forms: readonly SeatErrorForm[],
	seatError: number,
	positions: Float64Array,
): Float32Array {
	const map = new Float32Array(positions.length / 3);
	for (const { count, centroid, axes, weights } of forms) {
		const [cx, cy, cz] = centroid;
		const [a0, a1, a2] = axes;
		const [w0, w1, w2] = weights;
		for (let i = 0; i < map.length; i++) {
			const x = positions[3 * i] - cx;
			const y = positions[3 * i + 1] - cy;
			const z = positions[3 * i + 2] - cz;
			const u = a0[0] * x + a0[1] * y + a0[2] * z;
			const v = a1[0] * x + a1[1] * y + a1[2] * z;
			const w = a2[0] * x + a2[1] * y + a2[2] * z;
			map[i] += (1 + (w0 * u * u + w1 * v * v + w2 * w * w) / 3) / count;
		}
	}
	for (let i = 0; i < map.length; i++) map[i] = seatError * Math.sqrt(map[i]);
	return map;
}
