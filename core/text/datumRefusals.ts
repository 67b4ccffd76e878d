/** Sentences for refused datums. */

import type { Sentences } from "./refusals.ts";

export const datumRefusals: Sentences = {
	"datum.noSeat": (f) =>
		`Datum ${f.datum} of set ${f.set} at ${[f.at].flat().join(", ")} mm has no seat: no hole of 12 mm within 25° of square to a face reaches it clear of the figure. Move it to more open ground or lower its stud.`,
	"datum.noTriangle": (f) =>
		`No three of ${f.places} places can carry datums within the cross's span of ${f.span} mm. Give a longer span, or pick three datums by hand.`,
	"datum.inLine": (f) =>
		`The three datums of set ${f.set} lie on one line, so nothing holds the turn about it. Move one of them aside.`,
	"plan.doesNotFit": (f) => {
		const lacks = [f.lacks].flat().map(Number);
		const words = ["too short", "too narrow", "too low"]
			.map((word, k) => (lacks[k] > 0 ? `${(Math.ceil(lacks[k] * 10 - 1e-6) / 10).toFixed(1)} mm ${word}` : ""))
			.filter((word) => word !== "");
		const turned =
			f.turning === "free" ? "however it is turned" : f.turning === "upright" ? "stood upright" : "as it stands";
		return `The figure does not fit this block ${turned}: at best, with its margins, the block is ${words.join(" and ")}. Change the block, the margins or the size${f.turning === "free" ? "" : ", or let the figure turn more freely"}; points wait until it fits.`;
	},
};
