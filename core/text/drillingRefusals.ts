/** Sentences for what the drilling stage refuses. */

import type { Facts } from "./refusals.ts";

export const drillingRefusals: Record<string, (facts: Facts) => string> = {
	"drilling.hammerTooLate": (f) =>
		`Round “${f.round}” asks for hammer action, but it is one of the last two of ${f.rounds}: the hammer bruises 6 mm deep, which would show on the finished surface. Choose a rotary drill for it.`,
	"drilling.tooSteep": (f) =>
		`Lines may tilt and lean by ${f.most}° at most, and ${f.found}° was asked for: past that the bit walks. Enter ${f.most}° or less.`,
	"drilling.noHole": (f) =>
		`Point ${f.number} has no hole in this plan, so that there is nothing to cut. Choose a point with a depth.`,
	"drilling.noSuchFace": (f) =>
		`Lie “${f.lie}” closes a face called ${f.face}, which this stone does not have; it has ${[f.faces].flat().join(", ")}. Choose one of these.`,
};
