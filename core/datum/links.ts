/** How a further datum set hangs on an earlier one: by points that the cross can read from both (handbook 9). */

import type { Job } from "../job.ts";
import { Refusal } from "../refusal.ts";
import { armReaches, facesCross, type Reaching } from "./reach.ts";
import type { DatumPlace } from "./seat.ts";
import { linkErrorForm, type SeatErrorForm } from "./seatError.ts";
import { suggestDatums } from "./suggestDatums.ts";

export interface SetLink {
	/** Index of the earlier set. */
	readonly to: number;
	readonly suggested: boolean;
	/** Read from the earlier set and sunk before its seats are cut away, then read from this one. */
	readonly points: readonly DatumPlace[];
	/** What an error of the points does to a target. */
	readonly form: SeatErrorForm;
}

export interface LinkInput {
	/** Of the set that is to be linked. */
	readonly name: string;
	readonly to: number;
	/** None: they are suggested among `places`. */
	readonly points: readonly DatumPlace[];
	readonly places: readonly DatumPlace[];
}

interface Machine {
	readonly arm: number;
	/** Hull vertices of the figure, model frame, mm. */
	readonly corners: Float64Array;
}

/** How many points a link wants at least: three hold a motion. */
const LEAST_POINTS = 3;
/** The link's points serve what the arm reaches; they may lie as far apart as that allows. */
const APART = 2;

/**
 * The link of a set to the earlier one: by the carver's points, or by the three that carry the figure best among the places
 * that both crosses reach and face. Refuses points that one of the two does not reach, and sets without common ground.
 */
export function* linkBetween(
	{ name, to, points, places }: LinkInput,
	set: Reaching,
	earlier: readonly Reaching[],
	{ arm, corners }: Machine,
): Job<SetLink> {
	const other = earlier[to];
	if (other === undefined) throw new Refusal("datum.linkTo", { set: name, to: to + 1 });
	const read = (place: DatumPlace): boolean =>
		armReaches(set, place.position, arm) && armReaches(other, place.position, arm);
	if (points.length > 0) {
		const lost = points.findIndex((point) => !read(point));
		if (lost >= 0) throw new Refusal("datum.linkReach", { set: name, point: lost + 1, arm });
		const form = points.length < LEAST_POINTS ? null : linkErrorForm(points.map((p) => p.position));
		if (form === null) throw new Refusal("datum.linkPoints", { set: name, found: points.length });
		return { to, suggested: false, points, form };
	}
	const both = places.filter((p) => read(p) && facesCross(set, p.normal) && facesCross(other, p.normal));
	const spots = both.map((p) => p.position);
	const found = yield* suggestDatums(spots, corners, APART * arm);
	const chosen = found?.map((i) => both[i]) ?? [];
	const form = linkErrorForm(chosen.map((p) => p.position));
	if (form === null) throw new Refusal("datum.noLink", { set: name, places: both.length });
	return { to, suggested: true, points: chosen, form };
}
