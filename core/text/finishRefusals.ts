/** Sentences for finishing, fixing and the quote: what is refused, and why a figure does not stand or a pin not hold. */

import type { Sentences } from "./refusals.ts";

const one = (value: unknown): string => (typeof value === "number" ? value.toFixed(1) : String(value));
const percent = (value: unknown): string =>
	typeof value === "number" ? `${Math.round(100 * value)} %` : String(value);

export const finishRefusals: Sentences = {
	"finish.grit": (f) =>
		`No ${f.kind} numbered ${f.found} stands in the table of grits. Take a listed number, or enter the size of its grain.`,
	"finish.chainEnds": (f) =>
		`A chain from ${f.first} to ${f.last} cannot be proposed; both must be listed papers, the coarser first. Choose another first grit.`,
	"finish.noChain": (f) =>
		`The papers listed hold no chain from ${f.first} to ${f.last} with steps of at most ${f.ratio}. Allow a larger step, or enter your own abrasives.`,
	"finish.overlap": (f) =>
		`An overlap of ${f.overlap} mm leaves nothing of a leaf of ${f.leaf} mm. Enter a smaller overlap.`,
	"fixing.openBack": () =>
		"The shell cannot be closed behind, so its weight is not known. Mend its rim on page 1, or weigh a trial piece.",
	"fixing.noFoot": () =>
		"The figure has no flat foot to stand on. Choose a face to stand on (page 1), or leave a foot in the stone.",
	"fixing.tips": (f) =>
		`Without a pin the figure tips at ${one(f.angle)}°; expected at least ${one(f.least)}° over the slope of ${one(f.slope)}°. Pin it to a base, or widen its foot.`,
	"fixing.baseTips": (f) =>
		`Figure and base together tip at ${one(f.angle)}°; expected at least ${one(f.least)}° over the slope of ${one(f.slope)}°. Take a wider or heavier base.`,
	"fixing.noStone": () => "No stone stands over that place of the foot. Put the pin under the figure.",
	"fixing.breaksOut": (f) =>
		`The hole of ${one(f.hole)} mm, ${one(f.depth)} mm deep, breaks out of the figure. Move the pin inwards, or take a thinner or shorter one.`,
	"fixing.cover": (f) =>
		`Only ${one(f.cover)} mm of stone stands round the hole; expected at least ${one(f.least)} mm. Move the pin inwards, or take a thinner or shorter one.`,
	"fixing.thickBar": (f) =>
		`A bar of ${one(f.bar)} mm takes more than ${percent(f.share)} of the ${one(f.thickness)} mm of stone there. Take a thinner one.`,
	"fixing.depth": (f) =>
		`The bar goes in ${one(f.inBars)} times its own width; anchor makers' tables hold ${f.least} to ${f.most}. Change its depth.`,
	"fixing.aside": (f) =>
		`The pin stands ${one(f.aside)} mm from under the centre of mass; expected at most ${one(f.most)} mm. Move it nearer.`,
	"fixing.engineerOverhead": () =>
		"It hangs or stands over people: a structural engineer must say how it is fixed. What stands here is not enough for that.",
	"fixing.engineerWind": () =>
		"It stands outdoors: ask a structural engineer for wind, frost and the ground under it; none of these is reckoned here.",
	"fixing.engineerPublic": () =>
		"Anybody can reach, push or climb it: ask a structural engineer; children climbing are not reckoned here.",
	"fixing.engineerHeight": (f) =>
		`With its base it is ${one(f.height)} mm high; no rule for pins was found over ${f.most} mm. Ask a structural engineer.`,
	"quote.noPlan": () =>
		"There is no plan to count hours from yet. Finish model, stone and points, or take the quick quote.",
	"quote.height": (f) =>
		`The height reads ${f.found} mm; expected more than 0 and at most 20 m. Enter the height of the figure.`,
};
