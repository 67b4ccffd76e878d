/** Sentences for refused datums. */

import type { Sentences } from "./refusals.ts";

export const datumRefusals: Sentences = {
	"datum.noSeat": (f) =>
		`Datum ${f.datum} of set ${f.set} at ${[f.at].flat().join(", ")} mm has no seat: no hole of 12 mm within 25° of square to a face reaches it clear of the figure. Move it to more open ground or lower its stud.`,
	"datum.noTriangle": (f) =>
		`No three of ${f.places} places can carry datums within the cross's span of ${f.span} mm. Give a longer span, or pick three datums by hand.`,
	"datum.inLine": (f) =>
		`The three datums of set ${f.set} lie on one line, so nothing holds the turn about it. Move one of them aside.`,
	"plan.doesNotFit": (f) =>
		`The figure does not fit the stone: it lacks ${Math.ceil(-Number(f.spare) * 10 - 1e-9) / 10} mm. Points wait until block, margins or size are changed.`,
};
