/** Proof marks: the carver's own, or the suggested ones until then. */

import type { PlaceOnModel } from "../../core/plan/commission.ts";
import type { Place } from "../banker/picker.ts";
import { placeOnModel } from "./datums.ts";
import type { Session } from "./session.ts";

export const marksAreSuggested = (session: Session): boolean => session.commission.value?.proofMarks.length === 0;

const shown = (session: Session): readonly PlaceOnModel[] => {
	const own = session.commission.value?.proofMarks ?? [];
	if (own.length > 0) return own;
	const suggested = session.plan.value?.proofMarks ?? [];
	return suggested.map(({ model_mm, normal }) => placeOnModel({ position: model_mm, normal }));
};

/** One more; those that were only suggested become the carver's own with it. */
export const putProofMark = (session: Session, place: Place): string | null => {
	const marks = [...shown(session), placeOnModel(place)];
	return session.change("pick a proof mark", (c) => ({ ...c, proofMarks: marks }));
};

export const removeProofMark = (session: Session, index: number): string | null => {
	const marks = shown(session).filter((_, i) => i !== index);
	return session.change(`remove proof mark ${index + 1}`, (c) => ({ ...c, proofMarks: marks }));
};

export const suggestMarks = (session: Session): string | null =>
	session.change("put the suggested proof marks back", (c) => ({ ...c, proofMarks: [] }));
