/** Datum sets with their seats: those that the carver chose, or as many as the arm needs, suggested. */

import type { CurvatureField } from "../curvature/principalCurvatures.ts";
import type { HoleGauge } from "../drilling/holeGauge.ts";
import { thicknessAt } from "../drilling/thickness.ts";
import { type Job, within } from "../job.ts";
import { Refusal } from "../refusal.ts";
import type { TriangleMesh } from "../scan/mesh.ts";
import type { Stone } from "../stone/block.ts";
import type { SurfaceIndex } from "../surface/surfaceIndex.ts";
import { distance, type Placement, type Vec3 } from "../vector.ts";
import { datumPlaces } from "./datumPlaces.ts";
import { type LinkInput, linkBetween, type SetLink } from "./links.ts";
import { facingOf, type Reaching, worstReached } from "./reach.ts";
import { type DatumPlace, type Seat, seatFor } from "./seat.ts";
import { type SeatErrorForm, seatErrorForm, type Triangle } from "./seatError.ts";
import { measuredSeats, placementFromSeats } from "./seatsMeasured.ts";
import { letterDatums, suggestDatums } from "./suggestDatums.ts";

export interface DatumSet extends Reaching {
	readonly name: string;
	readonly suggested: boolean;
	/** A, B, C: the places on the surface, and their seats. */
	readonly places: readonly [DatumPlace, DatumPlace, DatumPlace];
	/** As they are to be made, or where they were found once they had been measured. */
	readonly seats: readonly [Seat, Seat, Seat];
	readonly measured: boolean;
	/** How it hangs on an earlier set; null: its seats are marked from the block's faces. */
	readonly link: SetLink | null;
	/** AB, BC, CA on the model, stone mm: what the seats must keep. */
	readonly sides: Vec3;
	/** Root mean square error of the worst target that it reaches, mm. */
	readonly worstError: number;
}

/** A set as the carver chose it. */
export interface ChosenSet {
	readonly name: string;
	readonly datums: readonly DatumPlace[];
	/** The earlier set that it is linked to, and the points of the link; no points: they are suggested. */
	readonly link: { readonly to: number; readonly points: readonly DatumPlace[] } | null;
	/** Where its seats were found, stone frame, mm. */
	readonly measured: readonly Vec3[] | null;
}

export interface DatumInput {
	/** Sets chosen by the carver; none: they are suggested. */
	readonly chosen: readonly ChosenSet[];
	/** Model frame, mm. */
	readonly mesh: TriangleMesh;
	readonly field: CurvatureField;
	/** 1 for each vertex that carries no datum: on a rim, or on the back that a shell was given. */
	readonly barred: Uint8Array;
	/** Hull vertices of the figure, model frame. */
	readonly corners: Float64Array;
	readonly stone: Stone;
	readonly placement: Placement;
	readonly gauge: HoleGauge;
	/** Of the same mesh. */
	readonly index: SurfaceIndex;
	/** Faces on which the stone lies at one time or another: no suggested seat is entered from there. */
	readonly closedFaces: ReadonlySet<string>;
	/** mm */
	readonly stud: number;
	readonly span: number;
	/** From the middle of the cross, mm. */
	readonly arm: number;
	readonly seatError: number;
}

export const DATUM_LETTERS = ["A", "B", "C"] as const;

/** Measured seats first: they say where the figure lies, and seats that are still to be made follow it. */
export function* datumSetsFor(input: DatumInput): Job<readonly DatumSet[]> {
	const { chosen } = input;
	if (chosen.length === 0) return yield* suggestedSets(input);
	const found = chosen.map(({ name, datums, measured }) =>
		measured
			? { seats: measuredSeats(name, seatsOf(name, datums, input), measured, input.stone), measured: true }
			: null,
	);
	const placement = placementFromSeats(found.filter((set) => set !== null))?.placement ?? input.placement;
	const wide = chosen.some(({ link }) => link?.points.length === 0) ? linkPlaces(input) : [];
	const sets: DatumSet[] = [];
	for (const [i, { name, datums, link }] of chosen.entries()) {
		const seats = found[i]?.seats ?? seatsOf(name, datums, { ...input, placement });
		const made = { name, suggested: false, places: datums, seats, measured: found[i] !== null };
		sets.push(yield* setOf(made, link && { name, ...link, places: wide }, sets, input));
	}
	return sets;
}

const seatsOf = (set: string, datums: readonly DatumPlace[], input: DatumInput): Seat[] =>
	datums.map((place, i) => {
		// A seat on a face that the stone will lie on can be had only once it is turned over: better than none.
		const seat = seatOf(place, input, input.closedFaces) ?? seatOf(place, input, NO_FACES);
		if (seat === null)
			throw new Refusal("datum.noSeat", { set, datum: DATUM_LETTERS[i], at: place.position.map(toTenth) });
		return seat;
	});

const toTenth = (mm: number): number => Math.round(mm * 10) / 10;

const NO_FACES: ReadonlySet<string> = new Set();

const seatOf = (
	place: DatumPlace,
	{ stud, stone, placement, gauge }: DatumInput,
	shut: ReadonlySet<string>,
): Seat | null => seatFor(place, stud, stone, placement, gauge, shut);

/** Places that could be points of a link: flat ground, as for datums. */
const linkPlaces = ({ mesh, field, barred }: DatumInput): DatumPlace[] => datumPlaces(mesh, field, barred);

/** A stud wants this much of the figure behind it, mm: twice what counts as thin (common practice, no source). */
const LEAST_BEHIND = 30;
/** More sets than this are not suggested: a figure that needs them wants a longer arm. */
const MOST_SETS = 4;
const SET_NAMES = ["main", "second", "third", "fourth"] as const;

/** One set where the arm reaches the whole figure; where it does not, further ones for the rest, each linked to the first. */
function* suggestedSets(input: DatumInput): Job<readonly DatumSet[]> {
	const stage = "choosing the datums";
	const places: DatumPlace[] = [];
	const seats: Seat[] = [];
	const wide = datumPlaces(input.mesh, input.field, input.barred);
	for (const [i, place] of wide.entries()) {
		const behind = thicknessAt(input.index, place);
		const seat = behind === null || behind >= LEAST_BEHIND ? seatOf(place, input, input.closedFaces) : null;
		if (seat) {
			places.push(place);
			seats.push(seat);
		}
		if (i % 8 === 7) yield { stage, share: (0.5 * i) / wide.length };
	}
	const tops = seats.map((seat) => seat.onModel);
	const sets: DatumSet[] = [];
	let rest = input.corners;
	while (sets.length === 0 || (rest.length > 0 && sets.length < MOST_SETS)) {
		const found = yield* within(suggestDatums(tops, rest, input.span, input.arm), 0.5, 1);
		if (found === null) throw new Refusal("datum.noTriangle", { places: places.length, span: input.span });
		const order = letterDatums(tops, found);
		const made = {
			name: SET_NAMES[sets.length],
			suggested: true,
			places: order.map((i) => places[i]),
			seats: order.map((i) => seats[i]),
			measured: false,
		};
		const link = sets.length === 0 ? null : { name: made.name, to: 0, points: [], places: wide };
		let set: DatumSet;
		try {
			set = yield* setOf(made, link, sets, input);
		} catch (error) {
			// The two have no ground in common: the first set alone, and what it does not reach is said.
			if (error instanceof Refusal && error.issue.code === "datum.noLink") break;
			throw error;
		}
		const left = beyond(rest, set.forms[0].centroid, input.arm);
		if (left.length === rest.length && sets.length > 0) break;
		sets.push(set);
		rest = left;
	}
	return sets;
}

/** The corners that lie farther than `arm` from the middle of the cross. */
function beyond(corners: Float64Array, middle: Vec3, arm: number): Float64Array {
	const left: number[] = [];
	for (let i = 0; i < corners.length; i += 3) {
		const at: Vec3 = [corners[i], corners[i + 1], corners[i + 2]];
		if (distance(at, middle) > arm) left.push(...at);
	}
	return Float64Array.from(left);
}

interface MadeSet {
	readonly name: string;
	readonly suggested: boolean;
	readonly places: readonly DatumPlace[];
	readonly seats: readonly Seat[];
	readonly measured: boolean;
}

function* setOf(
	{ name, suggested, places, seats, measured }: MadeSet,
	asked: LinkInput | null,
	earlier: readonly DatumSet[],
	{ corners, seatError, arm }: DatumInput,
): Job<DatumSet> {
	const triangle = seats.map((seat) => seat.onModel) as unknown as Triangle;
	const own = seatErrorForm(triangle);
	if (own === null) throw new Refusal("datum.inLine", { set: name });
	const facing = facingOf(places.map((place) => place.normal));
	const alone: Reaching = { forms: [own], facing };
	const link = asked && (yield* linkBetween(asked, alone, earlier, { arm, corners }));
	const forms: readonly SeatErrorForm[] = link ? [own, link.form, ...earlier[link.to].forms] : [own];
	const [a, b, c] = triangle;
	return {
		name,
		suggested,
		places: places as DatumSet["places"],
		seats: seats as DatumSet["seats"],
		measured,
		link,
		forms,
		facing,
		sides: [distance(a, b), distance(b, c), distance(c, a)],
		worstError: worstReached({ forms, facing }, seatError, arm, corners),
	};
}
