/** Datums and picked points: what the carver chose, or what is suggested until then. */

import type { Commission, DatumSetChoice, PlaceOnModel } from "../../core/plan/commission.ts";
import type { Vec3 } from "../../core/vector.ts";
import type { Place } from "../banker/picker.ts";
import type { Session } from "./session.ts";
import { type Held, held, picking } from "./ui.ts";

export const LETTERS = ["A", "B", "C"] as const;

/** To a thousandth of a millimetre: finer than any hand, and a commission file that can be read. */
const tidy = (value: number, per: number): number => Math.round(value * per) / per;

export const tidyPosition = ([x, y, z]: Vec3): [number, number, number] => [tidy(x, 1e3), tidy(y, 1e3), tidy(z, 1e3)];

export const placeOnModel = ({ position, normal }: Place): PlaceOnModel => ({
	position_mm: tidyPosition(position),
	normal: [tidy(normal[0], 1e6), tidy(normal[1], 1e6), tidy(normal[2], 1e6)],
});

export const placeOf = ({ position_mm, normal }: PlaceOnModel): Place => ({ position: position_mm, normal });

export const isSuggested = (commission: Commission | null): boolean => commission?.datumSets.length === 0;

/** The sets as places on the surface: chosen, or suggested by the plan . */
export function datumSetsShown(session: Session): readonly DatumSetChoice[] {
	const commission = session.commission.value;
	if (!commission) return [];
	if (!isSuggested(commission)) return commission.datumSets;
	return (session.answers.value?.datumSets ?? []).map(({ name, places: [a, b, c], linkTo }) => ({
		name,
		datums: [placeOnModel(a), placeOnModel(b), placeOnModel(c)],
		link: linkTo === null ? null : { to: linkTo, points: [] },
		measured_mm: null,
	}));
}

const withDatum = (set: DatumSetChoice, index: 0 | 1 | 2, place: Place): DatumSetChoice => {
	const datums: DatumSetChoice["datums"] = [set.datums[0], set.datums[1], set.datums[2]];
	datums[index] = placeOnModel(place);
	return { ...set, datums };
};

const SET_NAMES = ["front", "back", "left", "right"] as const;

/** Puts a datum; the others of a set that was only suggested become the carver's own with it. */
function putDatum(session: Session, set: number, index: 0 | 1 | 2, place: Place, how: "pick" | "move"): string | null {
	const shown = datumSetsShown(session);
	const start: DatumSetChoice = shown[set] ?? {
		name: SET_NAMES[set] ?? `set ${set + 1}`,
		datums: [placeOnModel(place), placeOnModel(place), placeOnModel(place)],
		link: null,
		measured_mm: null,
	};
	const sets = shown.length === 0 ? [start] : [...shown];
	sets[set] = withDatum(start, index, place);
	return session.change(`${how} datum ${LETTERS[index]}`, (c) => ({ ...c, datumSets: sets }), {
		key: how === "move" ? `datum ${set} ${index}` : "",
	});
}

export const suggestDatums = (session: Session): string | null =>
	session.change("put the suggested datums back", (c) => ({ ...c, datumSets: [] }));

const putPick = (session: Session, place: Place): string | null =>
	session.change("pick a point", (c) => ({ ...c, picks: [...c.picks, placeOnModel(place)] }));

const movePick = (session: Session, index: number, place: Place): string | null =>
	session.change(
		`move picked point ${index + 1}`,
		(c) => ({ ...c, picks: c.picks.map((pick, i) => (i === index ? placeOnModel(place) : pick)) }),
		{ key: `pick ${index}` },
	);

export const removePick = (session: Session, index: number): string | null =>
	session.change(`remove picked point ${index + 1}`, (c) => ({ ...c, picks: c.picks.filter((_, i) => i !== index) }));

/** Where the held thing is, or null when there is none. */
export function heldPlace(session: Session, what: Held | null = held.value): Place | null {
	if (!what) return null;
	if (what.kind === "datum") {
		const datum = datumSetsShown(session)[what.set]?.datums[what.index];
		return datum ? placeOf(datum) : null;
	}
	const pick = session.commission.value?.picks[what.index];
	return pick ? placeOf(pick) : null;
}

export function moveHeld(session: Session, what: Held, place: Place): string | null {
	return what.kind === "datum"
		? putDatum(session, what.set, what.index, place, "move")
		: movePick(session, what.index, place);
}

/** Takes a place for what is being picked, and goes on to the next datum where all three are wanted. */
export function takePick(session: Session, place: Place): void {
	const what = picking.value;
	if (what?.kind === "point") putPick(session, place);
	if (what?.kind !== "datum") return;
	putDatum(session, what.set, what.index, place, "pick");
	held.value = { kind: "datum", set: what.set, index: what.index };
	picking.value = what.onward && what.index < 2 ? { ...what, index: (what.index + 1) as 1 | 2 } : null;
}
