/** Bosses: waste left standing under the seats of the cross, on which nothing is drilled while another way is open (handbook 9). */

import type { Hole } from "../drilling/drillLine.ts";
import { type Placement, place } from "../vector.ts";
import type { DatumSet } from "./datumSets.ts";

/** A boss, and the stud that answers to it on the model, mm across (handbook 9; common practice, no source). */
export const BOSS_ACROSS = 30;
export const BOSS_RADIUS = BOSS_ACROSS / 2;

/** The bosses of a set, one a seat: round-ended, from the figure's surface to the seat, stone frame. */
export const bossesOf = ({ places, seats }: DatumSet, placement: Placement): Hole[] =>
	seats.map((seat, i) => ({ tip: place(placement, places[i].position), entry: seat.inStone, radius: BOSS_RADIUS }));
