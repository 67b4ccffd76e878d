/** Calliper pairs on the scan, read on the cast. */

import { lengthText } from "../../core/text/format.ts";
import type { Place } from "../banker/picker.ts";
import { driftText } from "../words/cast.ts";
import { tidyPosition } from "./datums.ts";
import type { Session } from "./session.ts";
import { resized, roundScale } from "./size.ts";
import { castDraft, picking } from "./ui.ts";

/** A cast or print stands on the bench, so that there is something to compare. */
export function hasBenchModel(session: Session): boolean {
	const transfer = session.commission.value?.transfer;
	return transfer === "machine" || transfer === "callipers";
}

/** The places picked so far for a pair that has no reading yet; none once the model stands differently. */
export function placesPicked(session: Session): readonly Place[] {
	const draft = castDraft.value;
	return draft && draft.on === session.mesh.value ? draft.places : [];
}

export function pickPair(): void {
	castDraft.value = null;
	picking.value = { kind: "cast" };
}

/** Takes a place of the pair that is being picked; two make it whole. */
export function takeCastPlace(session: Session, place: Place): void {
	const on = session.mesh.value;
	if (!on) return;
	const places = [...placesPicked(session).slice(0, 1), place];
	castDraft.value = { on, places };
	if (places.length === 2) picking.value = null;
}

export function addPair(session: Session, read_mm: number): string | null {
	const [a, b] = placesPicked(session);
	if (!a || !b) return "Pick two places on the model first.";
	const pair = { a_mm: tidyPosition(a.position), b_mm: tidyPosition(b.position), read_mm };
	const words = `add a calliper pair of ${lengthText(read_mm, session.units.value)}`;
	const refused = session.change(words, (c) => ({
		...c,
		model: { ...c.model, castPairs: [...c.model.castPairs, pair] },
	}));
	if (refused === null) castDraft.value = null;
	return refused;
}

export const removePair = (session: Session, index: number): string | null =>
	session.change(`remove calliper pair ${index + 1}`, (c) => ({
		...c,
		model: { ...c.model, castPairs: c.model.castPairs.filter((_, i) => i !== index) },
	}));

/**
 * Gives the model the size of the cast. The cast is what is copied, and the stone stands in its given ratio to it: so it is
 * stone ÷ scan that takes the drift, and stone ÷ bench model stays (at 1 the cross can still be carried over).
 */
export const takeOverCast = (session: Session, drift: number): string | null =>
	session.change(`take over the cast's size, ${driftText(drift)}`, (c) =>
		resized(c, roundScale(c.model.scale * drift)),
	);
