/**
 * Seats as they were found after setting, measured from the block's faces: they say where the figure now lies in the stone,
 * whatever had been planned (handbook 9).
 */

import { tanDegrees } from "../exactAngle.ts";
import { Refusal } from "../refusal.ts";
import { depthInStone, exitOf, faceCoordinates, lineWithLeans, type Stone } from "../stone/block.ts";
import { distance, type Vec3 } from "../vector.ts";
import { type RigidFit, rigidFit } from "./rigidFit.ts";
import type { Seat } from "./seat.ts";

/** A seat that lies this far outside of the faces' planes is still on a skin that is out of true, mm (common practice, no source). */
const SKIN = 2;
/** A seat farther than this from where it was marked is taken for a misread length, mm (common practice, no source). */
const MOST_OFF = 30;

/** The same seats where they were found (stone frame, mm), each reached by the line by which it was drilled. */
export function measuredSeats(
	set: string,
	seats: readonly Seat[],
	measured: readonly Vec3[],
	stone: Stone,
): readonly Seat[] {
	return seats.map((seat, i) => {
		const inStone = measured[i];
		const facts = { set, datum: "ABC"[i], found: [...inStone], expected: [...seat.inStone] };
		if (depthInStone(stone, inStone) < -SKIN) throw new Refusal("datum.measuredOutside", facts);
		if (distance(inStone, seat.inStone) > MOST_OFF)
			throw new Refusal("datum.measuredFar", { ...facts, most: MOST_OFF });
		const line = lineWithLeans(seat.face, tanDegrees(seat.leanDeg[0]), tanDegrees(seat.leanDeg[1]));
		const exit = exitOf(stone, inStone, line);
		return { ...seat, inStone, ...faceCoordinates(seat.face, exit?.point ?? inStone), depth: exit?.distance ?? 0 };
	});
}

/** Seats of one set, found or to be made. */
interface SeatsFound {
	readonly seats: readonly Seat[];
	readonly measured: boolean;
}

/** The placement that the measured seats say, by least squares over all of them; null where none was measured. */
export function placementFromSeats(sets: readonly SeatsFound[]): RigidFit | null {
	const seats = sets.flatMap((set) => (set.measured ? set.seats : []));
	if (seats.length === 0) return null;
	return rigidFit(
		seats.map((seat) => seat.onModel),
		seats.map((seat) => seat.inStone),
	);
}
