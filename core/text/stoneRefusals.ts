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
	"stone.marginsUseUpStone": (f) =>
		`The margins leave no room between the ${f.faces} faces of the stone. Make the margins smaller or choose a larger stone.`,
	"stone.limitDirection": () =>
		"A direction that is to be kept has no length. Give the model's direction and the stone's, for example 0, 0, 1 for upwards.",
	"stone.limitAngle": (f) =>
		`The angle within which a direction is to be kept reads ${f.found}°; expected 0 to 180. Correct the angle.`,
	"stone.limitsContradict": (f) =>
		`No turn of the figure keeps all ${f.limits} directions within their angles. Widen one of them or take it out.`,
	"stone.tolerance": (f) => `The tolerance of the fit reads ${f.found}; expected a number above 0, for example 0.1 mm.`,
	"stone.kind": (f) =>
		`No density is listed for "${f.found}". Choose a listed stone, or enter the quarry's own density, low and high.`,
	"stone.density": (f) =>
		`The density reads ${f.low} to ${f.high} kg/m³; expected low before high, above 0 and at most ${f.most}. Correct the two figures.`,
	"stone.breakFaces": (f) =>
		`Break ${f.number} names the faces ${[f.faces].flat().join(", ")}; expected two or three faces that meet, one distance for each. Name them again.`,
	"stone.breakReach": (f) =>
		`Break ${f.number} reaches ${f.found} mm in from the ${f.face}; expected more than 0 and less than the side of ${f.side} mm. Measure it again.`,
	"stone.breakLine": (f) =>
		`The three places on break ${f.number} lie on one line. Take the third well off the line of the other two.`,
	"stone.breakMiddle": (f) =>
		`Break ${f.number} runs through the middle of the block, so that it cannot be told which side is kept. Give the sides of what is left as the block.`,
	"stone.openStone": (f) =>
		`The ${f.faces} faces of the stone do not close around it. Measure the missing side, so that stone lies within all faces.`,
	"stone.emptyStone": (f) =>
		`The ${f.faces} faces of the stone leave no stone between them. Check the distances: one of them is on the wrong side.`,
	"stone.readings": (f) =>
		`The measured block has ${f.found} readings; expected 24, twelve edges and twelve face diagonals. Enter the missing ones.`,
	"stone.reading": (f) => `The ${f.reading} reads ${f.found} mm; expected a length above 0. Measure it again.`,
	"stone.readingOff": (f) =>
		`The ${f.reading} reads ${f.found} mm while the edges beside it read about ${f.expected} mm. Look whether two readings have changed places, and measure it again.`,
	"stone.readingsNoBlock": () =>
		"The 24 readings give no block: they say nothing about its angles. Measure edges and diagonals again.",
	"stone.readingsMissing": (f) =>
		`${f.left} of the 24 readings of the block are missing, the next of them the ${f.next}. Measure and enter them, or give the block by its sides.`,
	"stone.noFaces": () =>
		"The stone is to be an offcut given by its faces, but no faces are given. Open a file of its faces, or describe the stone in another way.",
	"stone.noScan": () =>
		"The stone is to be a scanned one, but no scan of it is open. Open the scan of the stone, or describe it in another way.",
	"stone.scanMissing": (f) =>
		`The scan of the stone, ${f.name}, is not open, or has changed since it was chosen. Open it again.`,
	"stone.scanOpen": (f) =>
		`${f.name}, the scan of the stone, is not a closed surface; expected one without holes, so that inside and outside can be told. Close its holes and open it again.`,
	"stone.nothingGiven": (f) =>
		`${f.name} describes no stone: expected sides, faces or tape readings. Enter the stone in it, or choose another file.`,
	"stone.emptyYard": (f) =>
		`${f.path} holds no stone; expected scans (.stl, .ply), stone files (.json) or lists of sizes (.txt, .csv). Choose another folder.`,
	"stone.yardLine": (f) =>
		`${f.path}, line ${f.line}: found "${f.found}"; expected a size as "name, 400x300x200". Correct the line.`,
	"stone.yardComma": (f) =>
		`${f.path}, line ${f.line}: in "${f.found}" the comma may end a name or part a length's decimals. Write a space behind it for a name, or the decimals with a point.`,
	"stone.notYet": () => "The stone has not been worked out yet. Wait until its answer stands, then try again.",
	"stone.flawLine": (f) =>
		`The three places on the flaw "${f.name}" lie on one line. Take the third well off the line of the other two.`,
};
