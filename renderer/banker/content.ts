/** What stands on the banker, read from the state: marks, drill lines, words, by the page that is open. */

import { doneNumbers } from "../../core/bench/log.ts";
import { lengthText } from "../../core/text/format.ts";
import { distance } from "../../core/vector.ts";
import { hasBenchModel, placesPicked } from "../state/cast.ts";
import { bridgePlaces } from "../state/cuts.ts";
import { datumSetsShown, isSuggested, LETTERS, placeOf } from "../state/datums.ts";
import { arePointsPutAway } from "../state/outdated.ts";
import { letThrough } from "../state/points.ts";
import { rulePlaces } from "../state/rule.ts";
import type { Session } from "../state/session.ts";
import { soundPlaces } from "../state/sound.ts";
import { planePicked } from "../state/stance.ts";
import { surfaceOf } from "../state/surface.ts";
import { type Held, page, pointed, pointFilter } from "../state/ui.ts";
import type { DrillLine } from "./drillView.ts";
import type { Mark, MarkState } from "./marksView.ts";
import type { Place } from "./picker.ts";
import type { SideWords } from "./sideWords.ts";

/** A datum or pick on its way along the surface, before it is let go. */
export interface Dragged {
	readonly what: Held;
	readonly place: Place;
}

/** The figure stands free on the first page and on the last, in its stone on the others. */
export const showsStone = (): boolean => page.value !== "model" && page.value !== "finish";

/** On the last page, where the weight of the finished figure acts. */
export function weightShown(session: Session) {
	const centroid = session.answers.value?.model?.centroid;
	if (page.value !== "finish" || !centroid) return null;
	return { at: centroid, under: [centroid[0], centroid[1], 0] as const };
}

/** What stands in the way of the undercut that is pointed at. */
export function blockedShown(session: Session) {
	if ((page.value !== "points" && page.value !== "bench") || arePointsPutAway(session)) return null;
	const point = session.plan.value?.points.find((one) => one.number === pointed.value);
	return point?.blockedAt_mm ? { at: point.model_mm, by: point.blockedAt_mm } : null;
}

/** The block's sides beside the three edges that leave the marked corner. */
export function sidesShown(session: Session): SideWords[] {
	const block = session.answers.value?.stone?.block;
	if (!block) return [];
	const unit = session.units.value;
	return block.map((side, axis) => ({ axis, words: lengthText(side, unit, 0) }));
}

/** A stance chosen after a pair was picked leaves its lengths as they are, but its ends where the surface no longer is. mm */
const OFF_SURFACE = 1;

/** The ends of the calliper pairs on page 1, those being picked among them. */
function castEnds(session: Session): Mark[] {
	const { castPairs } = session.commission.value?.model ?? {};
	if (!castPairs || !hasBenchModel(session)) return [];
	const surface = surfaceOf(session);
	const ends = castPairs.flatMap(({ a_mm, b_mm }, index) =>
		[a_mm, b_mm].flatMap((at): Mark[] => {
			const place = surface?.closest(at);
			return place && distance(place.position, at) <= OFF_SURFACE ? [{ kind: "cast", index, place }] : [];
		}),
	);
	const picked = placesPicked(session).map((place): Mark => ({ kind: "cast", index: castPairs.length, place }));
	return [...ends, ...picked];
}

const planePlaces = (session: Session): Mark[] =>
	planePicked(session).map((place, index): Mark => ({ kind: "plane", index, place }));

/** Points from page 3 on; datums and picks wherever there is a stone. */
export function marksShown(session: Session, dragged: Dragged | null): Mark[] {
	if (page.value === "model") return [...castEnds(session), ...planePlaces(session)];
	if (page.value === "finish") return [];
	const marks: Mark[] =
		page.value === "stone"
			? [
					...[...bridgePlaces(session), ...soundPlaces(session)].map(
						(place, index): Mark => ({ kind: "cast", index, place }),
					),
					...planePlaces(session),
				]
			: [];
	const putAway = arePointsPutAway(session);
	const plan = session.plan.value;
	const done = doneNumbers(session.commission.value?.log ?? []);
	if (plan && !putAway && page.value !== "stone")
		for (const point of plan.points)
			marks.push({
				kind: "point",
				number: point.number,
				place: { position: point.model_mm, normal: point.normal },
				round: point.round,
				side: point.side,
				undercut: point.undercut,
				done: done.has(point.number),
				faint: !letThrough(point, pointFilter.value, plan),
			});
	const at = (kind: Held["kind"], set: number, index: number, place: Place): Place =>
		dragged &&
		dragged.what.kind === kind &&
		dragged.what.index === index &&
		(dragged.what.kind !== "datum" || dragged.what.set === set)
			? dragged.place
			: place;
	const sets = putAway && isSuggested(session.commission.value) ? [] : datumSetsShown(session);
	sets.forEach(({ datums }, set) => {
		datums.forEach((datum, i) => {
			const index = i as 0 | 1 | 2;
			const letter = set === 0 ? LETTERS[index] : `${LETTERS[index]}${set + 1}`;
			marks.push({ kind: "datum", letter, set, index, place: at("datum", set, i, placeOf(datum)) });
		});
	});
	session.commission.value?.picks.forEach((pick, index) => {
		marks.push({ kind: "pick", index, place: at("pick", 0, index, placeOf(pick)) });
	});
	return [...marks, ...signsShown(session)];
}

/** Proof marks and the points of links, on the pages where points are worked. */
function signsShown(session: Session): Mark[] {
	const plan = session.plan.value;
	if (!plan || page.value === "stone" || arePointsPutAway(session)) return [];
	const surface = surfaceOf(session);
	const proofs = plan.proofMarks.map(
		({ name, model_mm, normal }, index): Mark => ({
			kind: "sign",
			words: name,
			index,
			place: { position: model_mm, normal },
		}),
	);
	const links = plan.datumSets.flatMap(({ link }) =>
		(link?.points ?? []).flatMap(({ model_mm }, index): Mark[] => {
			const place = surface?.closest(model_mm);
			return place ? [{ kind: "sign", words: `L${index + 1}`, index, place }] : [];
		}),
	);
	return [...proofs, ...links];
}

export function drillLines(session: Session): DrillLine[] {
	const plan = session.plan.value;
	if (!plan || arePointsPutAway(session)) return [];
	const { rotation: r, translation: t } = plan.stone.placement;
	return plan.points.flatMap((point): DrillLine[] => {
		if (!point.line || !point.entry_mm || point.stop_mm === null) return [];
		if (!letThrough(point, pointFilter.value, plan)) return [];
		const m = point.model_mm;
		const along = (i: number): number =>
			r[3 * i] * m[0] +
			r[3 * i + 1] * m[1] +
			r[3 * i + 2] * m[2] +
			t[i] +
			(point.stop_mm ?? 0) * (point.line?.[i] ?? 0);
		return [{ number: point.number, tip: [along(0), along(1), along(2)], entry: point.entry_mm, out: point.line }];
	});
}

/** The rule once both ends are laid: the length, and what of it lies along each axis of the model. */
export function ruleShown(session: Session): MarkState["rule"] {
	const [a, b] = rulePlaces(session);
	if (!a || !b) return null;
	const unit = session.units.value;
	return { ends: [a.position, b.position], words: lengthText(distance(a.position, b.position), unit) };
}
