/** Datum sets with their seats: those that the carver chose, or one suggested. */

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
import { type DatumPlace, type Seat, seatFor } from "./seat.ts";
import { type SeatErrorForm, seatErrorForm, type Triangle } from "./seatError.ts";
import { letterDatums, suggestDatums, worstSeatError } from "./suggestDatums.ts";

export interface DatumSet {
	readonly name: string;
	readonly suggested: boolean;
	/** A, B, C: the places on the surface, and their seats. */
	readonly places: readonly [DatumPlace, DatumPlace, DatumPlace];
	readonly seats: readonly [Seat, Seat, Seat];
	readonly form: SeatErrorForm;
	/** AB, BC, CA between the seats, mm. */
	readonly sides: Vec3;
	/** Root mean square error of the worst target on the figure, mm. */
	readonly worstError: number;
}

export interface DatumInput {
	/** Sets chosen by the carver; none: one is suggested. */
	readonly chosen: readonly { readonly name: string; readonly datums: readonly DatumPlace[] }[];
	/** Model frame, mm. */
	readonly mesh: TriangleMesh;
	readonly field: CurvatureField;
	readonly onRim: Uint8Array;
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
	readonly seatError: number;
}

export const DATUM_LETTERS = ["A", "B", "C"] as const;

export function* datumSetsFor(input: DatumInput): Job<readonly DatumSet[]> {
	if (input.chosen.length === 0) return [yield* suggestedSet(input)];
	return input.chosen.map(({ name, datums }) => {
		const seats = datums.map((place, i) => {
			const seat = seatOf(place, input, NO_FACES);
			if (seat === null)
				throw new Refusal("datum.noSeat", { set: name, datum: DATUM_LETTERS[i], at: place.position.map(toTenth) });
			return seat;
		});
		return setOf(name, false, datums, seats, input);
	});
}

const toTenth = (mm: number): number => Math.round(mm * 10) / 10;

const NO_FACES: ReadonlySet<string> = new Set();

const seatOf = (
	place: DatumPlace,
	{ stud, stone, placement, gauge }: DatumInput,
	shut: ReadonlySet<string>,
): Seat | null => seatFor(place, stud, stone, placement, gauge, shut);

/** A stud wants this much of the figure behind it, mm: twice what counts as thin (common practice, no source). */
const LEAST_BEHIND = 30;

function* suggestedSet(input: DatumInput): Job<DatumSet> {
	const stage = "choosing the datums";
	const places: DatumPlace[] = [];
	const seats: Seat[] = [];
	const wide = datumPlaces(input.mesh, input.field, input.onRim);
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
	const found = yield* within(suggestDatums(tops, input.corners, input.span), 0.5, 1);
	if (found === null) throw new Refusal("datum.noTriangle", { places: places.length, span: input.span });
	const order = letterDatums(tops, found);
	return setOf(
		"main",
		true,
		order.map((i) => places[i]),
		order.map((i) => seats[i]),
		input,
	);
}

function setOf(
	name: string,
	suggested: boolean,
	places: readonly DatumPlace[],
	seats: readonly Seat[],
	{ corners, seatError }: DatumInput,
): DatumSet {
	const triangle = seats.map((seat) => seat.onModel) as unknown as Triangle;
	const form = seatErrorForm(triangle);
	if (form === null) throw new Refusal("datum.inLine", { set: name });
	const [a, b, c] = triangle;
	return {
		name,
		suggested,
		places: places as DatumSet["places"],
		seats: seats as unknown as DatumSet["seats"],
		form,
		sides: [distance(a, b), distance(b, c), distance(c, a)],
		worstError: worstSeatError(triangle, seatError, corners),
	};
}
