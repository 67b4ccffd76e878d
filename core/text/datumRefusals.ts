/** Sentences for refused datums. */

import { doesNotFitText } from "./fitWords.ts";
import type { Facts, Sentences } from "./refusals.ts";

const lengths = (v: Facts[string]): string =>
	[v]
		.flat()
		.map((x) => Number(x).toFixed(1))
		.join(", ");

export const datumRefusals: Sentences = {
	"datum.noSeat": (f) =>
		`Datum ${f.datum} of set ${f.set} at ${[f.at].flat().join(", ")} mm has no seat: no hole of 12 mm within 25° of square to a face reaches it clear of the figure. Move it to more open ground or lower its stud.`,
	"datum.noTriangle": (f) =>
		`No three of ${f.places} places can carry datums within the cross's span of ${f.span} mm. Give a longer span, or pick three datums by hand.`,
	"datum.inLine": (f) =>
		`The three datums of set ${f.set} lie on one line, so nothing holds the turn about it. Move one of them aside.`,
	"datum.linkTo": (f) =>
		`Set ${f.set} is linked to set number ${f.to}, which does not stand before it. Link it to an earlier set, or to none.`,
	"datum.linkReach": (f) =>
		`Point ${f.point} of the link of set ${f.set} lies farther than ${f.arm} mm from the middle of one of the two crosses. Pick a point that the arm reaches from both, or give a longer arm.`,
	"datum.linkPoints": (f) =>
		`The link of set ${f.set} has ${f.found} points that hold no motion: it wants three at least, not on one line. Pick more, or leave all out and they are suggested.`,
	"datum.noLink": (f) =>
		`Set ${f.set} has no ground in common with the set that it is linked to (${f.places} places seen from both crosses, three wanted). Turn the sets towards each other, give a longer arm, or mark the seats from the block's faces without a link.`,
	"datum.measuredOutside": (f) =>
		`Seat ${f.datum} of set ${f.set} was measured at ${lengths(f.found)} mm, which is outside the stone. Measure from the left, front and bed faces again.`,
	"datum.measuredFar": (f) =>
		`Seat ${f.datum} of set ${f.set} was measured at ${lengths(f.found)} mm, over ${f.most} mm from ${lengths(f.expected)} mm where it was marked. Read the three lengths again; if it was set there on purpose, move the datum on the model first.`,
	"plan.seatsPushOut": (f) =>
		`Where the seats were measured, the figure comes ${(Math.ceil(Number(f.out) * 10 - 1e-6) / 10).toFixed(1)} mm too near the ${f.face} face. Check the lengths, lower the margin of that face, or set the seats again.`,
	"plan.crossNotCarried": (f) =>
		`The ${f.transfer === "machine" ? "pointing machine's cross" : "straightedge"} cannot be carried from a bench model that is ${f.mirrored ? "the stone's mirror image" : `not the stone's size (stone ÷ bench model ${f.benchScale})`}. Take three callipers or the block's faces for this job, or put a full-size model on the bench.`,
	"plan.doesNotFit": (f) => doesNotFitText(f, "mm"),
};
