/**
 * On which side of a plane through three points a fourth one lies, decided exactly.
 *
 * Source: J. R. Shewchuk, "Adaptive precision floating-point arithmetic and fast robust geometric predicates" (1997):
 * a floating-point filter first, and sums of exactly represented parts (expansions) where the filter cannot tell.
 * Only the plain case is taken over: no intermediate stages, because on scans fewer than one test in a thousand is close.
 */

/** Shewchuk's bound for the determinant of differences: (7 + 56 ε) ε with ε = 2^-53. */
export const ORIENTATION_ERROR = 7.771561172376103e-16;

/** 2^27 + 1: splits a double into two halves of 26 bits (Dekker 1971). */
const SPLITTER = 134217729;

/** A number as a sum of doubles that do not overlap, smallest first, without zeros; the empty list is zero. */
type Expansion = readonly number[];

/** a − b exactly. */
function difference(a: number, b: number): Expansion {
	const x = a - b;
	const bVirtual = a - x;
	const aVirtual = x + bVirtual;
	const tail = a - aVirtual + (bVirtual - b);
	if (tail !== 0) return [tail, x];
	return x !== 0 ? [x] : [];
}

/** e + f exactly (Shewchuk's grow-expansion for each part of f, zeros dropped). */
function sum(e: Expansion, f: Expansion): Expansion {
	let parts = e;
	for (const b of f) {
		const grown: number[] = [];
		let q = b;
		for (const p of parts) {
			const s = q + p;
			const pVirtual = s - q;
			const tail = q - (s - pVirtual) + (p - pVirtual);
			if (tail !== 0) grown.push(tail);
			q = s;
		}
		if (q !== 0) grown.push(q);
		parts = grown;
	}
	return parts;
}

/** e × b exactly. */
function scaled(e: Expansion, b: number): Expansion {
	const bBig = SPLITTER * b;
	const bHigh = bBig - (bBig - b);
	const bLow = b - bHigh;
	let total: Expansion = [];
	for (const p of e) {
		const product = p * b;
		const pBig = SPLITTER * p;
		const pHigh = pBig - (pBig - p);
		const pLow = p - pHigh;
		const tail = pLow * bLow - (product - pHigh * bHigh - pLow * bHigh - pHigh * bLow);
		total = sum(total, tail !== 0 ? [tail, product] : product !== 0 ? [product] : []);
	}
	return total;
}

function times(e: Expansion, f: Expansion): Expansion {
	let total: Expansion = [];
	for (const b of f) total = sum(total, scaled(e, b));
	return total;
}

const negated = (e: Expansion): Expansion => e.map((p) => -p);

/**
 * Sign of (b − a) × (c − a) · (p − a), exact: 1 when p lies on the side from which a, b, c run counter-clockwise, −1 on the
 * other, 0 in the plane. `at` holds x, y, z of every point; a, b, c, p are point indices.
 */
export function orientation(at: Float64Array, a: number, b: number, c: number, p: number): number {
	const ax = at[3 * a];
	const ay = at[3 * a + 1];
	const az = at[3 * a + 2];
	const bx = at[3 * b] - ax;
	const by = at[3 * b + 1] - ay;
	const bz = at[3 * b + 2] - az;
	const cx = at[3 * c] - ax;
	const cy = at[3 * c + 1] - ay;
	const cz = at[3 * c + 2] - az;
	const px = at[3 * p] - ax;
	const py = at[3 * p + 1] - ay;
	const pz = at[3 * p + 2] - az;
	const det = (by * cz - bz * cy) * px + (bz * cx - bx * cz) * py + (bx * cy - by * cx) * pz;
	const permanent =
		(Math.abs(by * cz) + Math.abs(bz * cy)) * Math.abs(px) +
		(Math.abs(bz * cx) + Math.abs(bx * cz)) * Math.abs(py) +
		(Math.abs(bx * cy) + Math.abs(by * cx)) * Math.abs(pz);
	const error = ORIENTATION_ERROR * permanent;
	if (det > error) return 1;
	if (det < -error) return -1;
	return exactOrientation(at, a, b, c, p);
}

/** The same without the filter. */
function exactOrientation(at: Float64Array, a: number, b: number, c: number, p: number): number {
	// Points of a flat foot or back share a coordinate to the bit: by far the most frequent case.
	for (let axis = 0; axis < 3; axis++) {
		const level = at[3 * a + axis];
		if (at[3 * b + axis] === level && at[3 * c + axis] === level && at[3 * p + axis] === level) return 0;
	}
	const d = (i: number, axis: number): Expansion => difference(at[3 * i + axis], at[3 * a + axis]);
	const minor = (i: number, j: number): Expansion => sum(times(d(b, i), d(c, j)), negated(times(d(b, j), d(c, i))));
	const det = sum(sum(times(minor(1, 2), d(p, 0)), times(minor(2, 0), d(p, 1))), times(minor(0, 1), d(p, 2)));
	// The largest part carries the sign, because the parts do not overlap.
	return det.length > 0 ? Math.sign(det[det.length - 1]) : 0;
}
