/** Sentences for what the stone stage refuses. */

import type { Sentences } from "./refusals.ts";

export const stoneRefusals: Sentences = {
	"stone.tooFewPoints": (f) =>
		`The figure has ${f.points} points; expected at least four that enclose a volume. Choose the scan that holds the whole figure.`,
	"stone.flatFigure": (f) =>
		`All ${f.points} points of the figure lie in one plane; expected a figure with thickness. Check the scan's unit and axes.`,
	"stone.side": (f) => `A side of the block reads ${f.found} mm; expected a length above 0. Measure the block again.`,
	"stone.margin": (f) => `The margin on the ${f.face} reads ${f.found} mm; expected 0 or more. Correct the margin.`,
	"stone.marginsUseUp": (f) =>
		`The margins take ${f.margins} mm of a side of ${f.side} mm and leave nothing for the figure. Make the margins smaller or choose a larger block.`,
	"stone.tolerance": (f) => `The tolerance of the fit reads ${f.found}; expected a number above 0, for example 0.1 mm.`,
	"stone.kind": (f) =>
		`No density is listed for "${f.found}". Choose a listed stone, or enter the quarry's own density, low and high.`,
	"stone.density": (f) =>
		`The density reads ${f.low} to ${f.high} kg/m³; expected low before high, above 0 and at most ${f.most}. Correct the two figures.`,
	"stone.openStone": (f) =>
		`The ${f.faces} faces of the stone do not close around it. Measure the missing side, so that stone lies within all faces.`,
	"stone.emptyStone": (f) =>
		`The ${f.faces} faces of the stone leave no stone between them. Check the distances: one of them is on the wrong side.`,
};
