/**
 * Which three places to take as datums: the triangle that makes the worst seat error over the whole figure least, among
 * places that can hold a seat. The squared error is a convex quadratic, so its worst place is a vertex of the hull and
 * only those are looked at. Where the arm does not reach them all, the triangle that reaches most comes first, and the rest is
 * left to further sets. Search by exchange: from several starts, one corner at a time is moved to the best of all
 * places until no exchange helps (coordinate exchange, as in Meyer and Nachtsheim 1995, from memory).
 */

import type { Job } from "../job.ts";
import { distance, type Vec3 } from "../vector.ts";
import { type SeatErrorForm, seatErrorForm } from "./seatError.ts";

/** Counts more than any error: one corner that the arm does not reach. */
const OUT_OF_REACH = 1e9;

/** What the unreached corners cost; `arm` mm from the middle of the triangle. */
function unreached({ centroid: [cx, cy, cz] }: SeatErrorForm, corners: Float64Array, arm: number): number {
	if (arm === Number.POSITIVE_INFINITY) return 0;
	let count = 0;
	for (let i = 0; i < corners.length; i += 3) {
		const x = corners[i] - cx;
		const y = corners[i + 1] - cy;
		const z = corners[i + 2] - cz;
		if (x * x + y * y + z * z > arm * arm) count++;
	}
	return OUT_OF_REACH * count;
}

/**
 * Σ dₖ²/fₖ² at the worst corner within the arm's reach; compared only, so the error of a seat does not matter. Stops as soon as it passes `limit`
 * and moves the corner that passed it to the front of `corners`, where it soon decides again.
 */
function worst(form: SeatErrorForm, corners: Float64Array, arm: number, limit: number): number {
	const [cx, cy, cz] = form.centroid;
	const [a0, a1, a2] = form.axes;
	const [w0, w1, w2] = form.weights;
	let most = 0;
	for (let i = 0; i < corners.length; i += 3) {
		const x = corners[i] - cx;
		const y = corners[i + 1] - cy;
		const z = corners[i + 2] - cz;
		if (x * x + y * y + z * z > arm * arm) continue;
		const u = a0[0] * x + a0[1] * y + a0[2] * z;
		const v = a1[0] * x + a1[1] * y + a1[2] * z;
		const w = a2[0] * x + a2[1] * y + a2[2] * z;
		const sum = w0 * u * u + w1 * v * v + w2 * w * w;
		if (sum > most) {
			most = sum;
			if (most > limit) {
				for (let c = 0; c < 3; c++) {
					const keep = corners[c];
					corners[c] = corners[i + c];
					corners[i + c] = keep;
				}
				return most;
			}
		}
	}
	return most;
}

/**
 * Indices of the best three of `places` (mm, any frame), or null when no admissible triangle exists.
 * `corners`: hull vertices of the figure, or of the part of it that is to be served, in the same frame. `span`: longest side
 * that the cross can bridge, mm. `arm`: how far from the middle of the triangle the needle comes, mm.
 * Ties go to the lower indices, so the answer is the same everywhere.
 */
export function* suggestDatums(
	places: readonly Vec3[],
	corners: Float64Array,
	span: number,
	arm: number = Number.POSITIVE_INFINITY,
): Job<readonly [number, number, number] | null> {
	const n = places.length;
	if (n < 3) return null;
	const tried = corners.slice();
	const cost = (i: number, j: number, k: number, limit: number): number => {
		if (i === j || j === k || i === k) return Number.POSITIVE_INFINITY;
		const [a, b, c] = [places[i], places[j], places[k]];
		if (distance(a, b) > span || distance(b, c) > span || distance(c, a) > span) return Number.POSITIVE_INFINITY;
		const form = seatErrorForm([a, b, c]);
		if (form === null) return Number.POSITIVE_INFINITY;
		const out = unreached(form, tried, arm);
		return out >= limit ? out : out + worst(form, tried, arm, limit - out);
	};
	let best: [number, number, number] | null = null;
	let bestCost = Number.POSITIVE_INFINITY;
	const starts = Math.min(12, n);
	for (let s = 0; s < starts; s++) {
		// Starts are spread evenly over the list and completed by the farthest admissible places.
		const first = Math.floor((s * n) / starts);
		const second = farthest(places, [first], span);
		const third = second === null ? null : farthest(places, [first, second], span);
		yield { stage: "choosing the datums", share: s / starts };
		if (second === null || third === null) continue;
		const triple: [number, number, number] = [first, second, third];
		let current = cost(...triple, Number.POSITIVE_INFINITY);
		for (let improved = true; improved; ) {
			improved = false;
			for (let corner = 0; corner < 3; corner++) {
				const others = [triple[(corner + 1) % 3], triple[(corner + 2) % 3]] as const;
				for (let candidate = 0; candidate < n; candidate++) {
					const c = cost(candidate, others[0], others[1], current);
					if (c < current) {
						current = c;
						triple[corner] = candidate;
						improved = true;
					}
				}
				yield { stage: "choosing the datums", share: (s + corner / 3) / starts };
			}
		}
		if (current < bestCost) {
			bestCost = current;
			best = [...triple];
		}
	}
	return best;
}

/** The place whose least distance from the chosen ones is greatest, within the span of all of them. */
function farthest(places: readonly Vec3[], chosen: readonly number[], span: number): number | null {
	let best: number | null = null;
	let most = 0;
	for (let i = 0; i < places.length; i++) {
		let least = Number.POSITIVE_INFINITY;
		for (const c of chosen) {
			const d = distance(places[i], places[c]);
			least = d > span ? 0 : Math.min(least, d);
		}
		if (least > most) {
			most = least;
			best = i;
		}
	}
	return best;
}

/**
 * A, B, C in an order that the carver can keep in mind: A the highest, then B and C so that the triangle, seen from the
 * front (against +y), runs clockwise from A: B on the viewer's right. Ties by index.
 */
export function letterDatums(
	places: readonly Vec3[],
	triple: readonly [number, number, number],
): [number, number, number] {
	const [a, ...rest] = [...triple].sort((i, j) => places[j][2] - places[i][2] || i - j);
	const [b, c] = rest.sort((i, j) => places[j][0] - places[i][0] || i - j);
	return [a, b, c];
}
