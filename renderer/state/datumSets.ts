/** Further datum sets, how they hang on each other, and where their seats were found. */

import type { DatumSetChoice } from "../../core/plan/commission.ts";
import type { Vec3 } from "../../core/vector.ts";
import type { Place } from "../banker/picker.ts";
import { datumSetsShown, LETTERS, placeOnModel, tidyPosition } from "./datums.ts";
import type { Session } from "./session.ts";
import { picking } from "./ui.ts";

export const MOST_SETS = 8;

const change = (
	session: Session,
	words: string,
	edit: (sets: readonly DatumSetChoice[]) => readonly DatumSetChoice[],
	key = "",
): string | null => {
	const sets = edit(datumSetsShown(session));
	return session.change(words, (c) => ({ ...c, datumSets: [...sets] }), { key });
};

const withSet = (
	sets: readonly DatumSetChoice[],
	at: number,
	edit: (set: DatumSetChoice) => DatumSetChoice,
): DatumSetChoice[] => sets.map((set, i) => (i === at ? edit(set) : set));

/** The next three picks make a further set. */
export function pickFurtherSet(session: Session): void {
	picking.value = { kind: "datum", set: datumSetsShown(session).length, index: 0, onward: true };
}

export const nameSet = (session: Session, at: number, name: string): string | null =>
	change(session, `name a datum set ${name}`, (sets) => withSet(sets, at, (set) => ({ ...set, name })));

/** Leaves a set out; sets that hung on it hang on none. */
export const removeSet = (session: Session, at: number): string | null =>
	change(session, "leave out a datum set", (sets) =>
		sets
			.filter((_, i) => i !== at)
			.map((set) => {
				if (!set.link || set.link.to < at) return set;
				return { ...set, link: set.link.to === at ? null : { ...set.link, to: set.link.to - 1 } };
			}),
	);

/** `to`: the earlier set that it hangs on; null: its seats are marked from the block's faces. */
export const linkSet = (session: Session, at: number, to: number | null): string | null =>
	change(session, to === null ? "unlink a datum set" : "link a datum set", (sets) =>
		withSet(sets, at, (set) => ({ ...set, link: to === null ? null : { to, points: [] } })),
	);

export const putLinkPoint = (session: Session, at: number, place: Place): string | null =>
	change(session, "pick a point of a link", (sets) =>
		withSet(sets, at, (set) =>
			set.link ? { ...set, link: { ...set.link, points: [...set.link.points, placeOnModel(place)] } } : set,
		),
	);

export const suggestLinkPoints = (session: Session, at: number): string | null =>
	change(session, "put the suggested link back", (sets) =>
		withSet(sets, at, (set) => (set.link ? { ...set, link: { ...set.link, points: [] } } : set)),
	);

/** Where the seats were found; the ones not yet read stand where they were to be made. */
export function setMeasured(
	session: Session,
	at: number,
	index: 0 | 1 | 2,
	axis: 0 | 1 | 2,
	mm: number,
): string | null {
	const planned = session.plan.value?.datumSets[at]?.datums.map((d) => tidyPosition(d.stone_mm));
	return change(
		session,
		`seat ${LETTERS[index]} as measured`,
		(sets) =>
			withSet(sets, at, (set) => {
				const now = set.measured_mm ?? planned;
				if (!now) return set;
				const next = now.map((seat, i) =>
					i === index ? (seat.map((x, k) => (k === axis ? mm : x)) as unknown as Vec3) : seat,
				);
				return { ...set, measured_mm: next as unknown as DatumSetChoice["measured_mm"] };
			}),
		`measured ${at} ${index} ${axis}`,
	);
}

export const clearMeasured = (session: Session, at: number): string | null =>
	change(session, "seats where they were planned", (sets) =>
		withSet(sets, at, (set) => ({ ...set, measured_mm: null })),
	);
