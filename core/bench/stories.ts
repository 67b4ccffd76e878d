/**
 * What can have moved between two days at the bench, each as a linear rule from a few unknowns to the change of a reading.
 *
 * A reading is a length along its point's line: `off` is how much higher (out of the stone) the place reads than it should,
 * mm. When the cross shifts by u(x) at a place that has stayed where it was, the needle's zero goes with it and the place
 * reads off = −u·line. A longer needle touches sooner and everything reads higher by as much.
 */

import type { Triangle } from "../datum/seatError.ts";
import { add, cross, dot, scale, sub, type Vec3 } from "../vector.ts";

export const STORIES = ["nothing", "seat A", "seat B", "seat C", "cross", "needle"] as const;
export type Story = (typeof STORIES)[number];

/** A place that can be read, in the frame of the datums, mm. */
export interface ReadPlace {
	readonly at: Vec3;
	/** Unit, out of the stone. */
	readonly line: Vec3;
}

/** Root mean square of what a seat or cross moves along each axis, and a needle's change, before anything is read, mm. */
const SEAT_MOVES = 2;
const CROSS_MOVES = 2;
const NEEDLE_CHANGES = 1;

export interface StoryRule {
	readonly story: Story;
	/** Root mean square of each unknown before anything is read; mm, for turns radians. */
	readonly spread: readonly number[];
	/** What each unknown adds to the reading of a place. */
	row(place: ReadPlace): readonly number[];
}

/**
 * The rules for a cross on three seats. It rests on them by least squares, as it is made to: with seat k off by δ the cross
 * shifts by u(x) = δ/3 + (J⁻¹(qₖ × δ)) × (x − c), c the middle of the seats, qₖ = pₖ − c, J their inertia Σ(|q|²·1 − qqᵀ).
 */
export function storyRules(seats: Triangle): readonly StoryRule[] {
	const c = scale(seats.reduce(add, [0, 0, 0] as Vec3), 1 / 3);
	const arms = seats.map((p) => sub(p, c));
	const inverse = inverseInertia(arms);
	const size = Math.sqrt(arms.reduce((sum, q) => sum + dot(q, q), 0) / 3);
	const lever = ({ at, line }: ReadPlace): Vec3 => cross(sub(at, c), line);
	const seatRule = (k: number): StoryRule => ({
		story: STORIES[1 + k],
		spread: [SEAT_MOVES, SEAT_MOVES, SEAT_MOVES],
		row: (place) => {
			const moment = lever(place);
			const a: Vec3 = [dot(inverse[0], moment), dot(inverse[1], moment), dot(inverse[2], moment)];
			return scale(add(scale(place.line, 1 / 3), cross(a, arms[k])), -1);
		},
	});
	const turns = CROSS_MOVES / size;
	return [
		{ story: "nothing", spread: [], row: () => [] },
		seatRule(0),
		seatRule(1),
		seatRule(2),
		{
			story: "cross",
			spread: [CROSS_MOVES, CROSS_MOVES, CROSS_MOVES, turns, turns, turns],
			row: (place) => [...scale(place.line, -1), ...scale(lever(place), -1)],
		},
		{ story: "needle", spread: [NEEDLE_CHANGES], row: () => [1] },
	];
}

/** Inverse of the inertia of the seats about their middle, by rows (adjugate over determinant). */
function inverseInertia(arms: readonly Vec3[]): readonly [Vec3, Vec3, Vec3] {
	let [xx, yy, zz, xy, xz, yz] = [0, 0, 0, 0, 0, 0];
	for (const [x, y, z] of arms) {
		xx += y * y + z * z;
		yy += x * x + z * z;
		zz += x * x + y * y;
		xy -= x * y;
		xz -= x * z;
		yz -= y * z;
	}
	const r0: Vec3 = [xx, xy, xz];
	const r1: Vec3 = [xy, yy, yz];
	const r2: Vec3 = [xz, yz, zz];
	const det = dot(r0, cross(r1, r2));
	return [scale(cross(r1, r2), 1 / det), scale(cross(r2, r0), 1 / det), scale(cross(r0, r1), 1 / det)];
}
