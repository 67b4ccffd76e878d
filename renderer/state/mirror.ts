/** Mirroring the model left for right, with everything that was picked on it. */

import type { Commission } from "../../core/plan/commission.ts";
import { carriedAlong } from "./onModel.ts";

type Spot = [number, number, number];

/** Across the model's own x, which runs about the middle of its bounds. −0 is written as 0. */
const across = ([x, y, z]: Spot): Spot => [x === 0 ? 0 : -x, y, z];

/** The commission with the model mirrored or not; whatever was picked stays where it is on its surface. */
export function mirroredOver(c: Commission, mirrored: boolean): Commission {
	if (c.scan.mirrored === mirrored) return c;
	return { ...carriedAlong(c, across, across), scan: { ...c.scan, mirrored } };
}

const PAIRED = ", mirrored";

/**
 * The other one of a pair: the same in every choice, mirrored, under a name of its own. What belongs to the first one's
 * stone (its log, its holes, the seats as measured there) stays with the first.
 */
export function twinOf(c: Commission): Commission {
	const twin = mirroredOver(c, !c.scan.mirrored);
	const name = c.name.endsWith(PAIRED)
		? c.name.slice(0, -PAIRED.length)
		: c.name.slice(0, 120 - PAIRED.length) + PAIRED;
	return {
		...twin,
		name,
		log: [],
		drilled: [],
		datumSets: twin.datumSets.map((set) => ({ ...set, measured_mm: null })),
	};
}
