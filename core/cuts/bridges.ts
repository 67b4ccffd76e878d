/** Bridges: stone kept between parts of the figure until a round. */

import type { Hole } from "../drilling/drillLine.ts";
import { type Placement, place, type Vec3 } from "../vector.ts";

/** Round-ended, between two places of the model frame, mm. */
export interface Bridge {
	readonly name: string;
	readonly from: Vec3;
	readonly to: Vec3;
	readonly radius: number;
	/** Cut away when this round begins; rounds are counted from 0. */
	readonly round: number;
}

/** By round, the bridges that still stand while it is drilled, stone frame. */
export function standingBridges(bridges: readonly Bridge[], rounds: number, placement: Placement): Hole[][] {
	const held = bridges.map(({ from, to, radius, round }) => ({
		round,
		hole: { tip: place(placement, from), entry: place(placement, to), radius },
	}));
	return Array.from({ length: rounds }, (_, i) => held.filter(({ round }) => round > i).map(({ hole }) => hole));
}
