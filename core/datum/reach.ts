/** Which datum set serves which place: what its arm reaches, from the side on which its cross rests (handbook 9). */

import { add, distance, dot, length, scale, type Vec3 } from "../vector.ts";
import { chainErrorAt, type SeatErrorForm, seatErrorMap } from "./seatError.ts";

/** A set as far as reach and error go; model frame, mm. */
export interface Reaching {
	/** Its own seats first, then its link and what it is linked to. */
	readonly forms: readonly SeatErrorForm[];
	/** Unit direction to which the datums face together; null where they stand around the figure. */
	readonly facing: Vec3 | null;
}

/** Datums face one way together when their mean normal is at least this long: all within some 45° of it. */
const TOGETHER = 0.7;

/** The side from which a cross on these datums works, from their unit normals. */
export function facingOf(normals: readonly Vec3[]): Vec3 | null {
	const mean = scale(normals.reduce(add), 1 / normals.length);
	const l = length(mean);
	return l >= TOGETHER ? scale(mean, 1 / l) : null;
}

/** Whether the needle comes to x: within `arm` mm of the middle of the cross. */
export const armReaches = ({ forms }: Reaching, x: Vec3, arm: number): boolean => distance(forms[0].centroid, x) <= arm;

/** Whether a place with that unit normal looks to the side on which the cross rests. */
export const facesCross = ({ facing }: Reaching, normal: Vec3): boolean => facing === null || dot(facing, normal) >= 0;

/**
 * Index of the set that serves a place: one whose arm reaches it before one whose does not, then one on whose side it lies,
 * then the one with the least error there; ties to the earlier set.
 */
export function servingSet(
	sets: readonly Reaching[],
	seatError: number,
	arm: number,
	position: Vec3,
	normal: Vec3,
): number {
	let best = 0;
	let rank = -1;
	let least = Number.POSITIVE_INFINITY;
	sets.forEach((set, i) => {
		const r = (armReaches(set, position, arm) ? 2 : 0) + (facesCross(set, normal) ? 1 : 0);
		const error = chainErrorAt(set.forms, seatError, position);
		if (r > rank || (r === rank && error < least)) {
			best = i;
			rank = r;
			least = error;
		}
	});
	return best;
}

/** Root mean square error at every vertex (positions and unit normals x, y, z each), by the set that serves it; mm. */
export function servedErrorMap(
	sets: readonly Reaching[],
	seatError: number,
	arm: number,
	positions: Float64Array,
	normals: Float64Array,
): Float32Array {
	const map = seatErrorMap(sets[0].forms, seatError, positions);
	if (sets.length === 1) return map;
	for (let i = 0; i < map.length; i++) {
		const at: Vec3 = [positions[3 * i], positions[3 * i + 1], positions[3 * i + 2]];
		const normal: Vec3 = [normals[3 * i], normals[3 * i + 1], normals[3 * i + 2]];
		const set = servingSet(sets, seatError, arm, at, normal);
		if (set > 0) map[i] = chainErrorAt(sets[set].forms, seatError, at);
	}
	return map;
}

/** The worst error over the corners (x, y, z each, mm) that a set reaches. */
export function worstReached(set: Reaching, seatError: number, arm: number, corners: Float64Array): number {
	let most = 0;
	for (let i = 0; i < corners.length; i += 3) {
		const at: Vec3 = [corners[i], corners[i + 1], corners[i + 2]];
		if (armReaches(set, at, arm)) most = Math.max(most, chainErrorAt(set.forms, seatError, at));
	}
	return most;
}
