/** Sentences for what the choice of points refuses. */

import type { Facts } from "./refusals.ts";

export const pointingRefusals: Record<string, (facts: Facts) => string> = {
	"pointing.noRounds": () => "The commission has no rounds, so there is nothing to point. Add at least one round.",
	"pointing.joinTooSmall": (f) =>
		`Round ${f.round} joins at ${f.join} mm, but ${f.least} mm is kept in reserve and nothing would be left to spend. Enter a join allowance over ${f.least} mm.`,
	"pointing.count": (f) =>
		`Round ${f.round} asks for ${f.count} points. Enter a whole number from 1 up, or leave the number to the cover.`,
	"pointing.noGround": (f) =>
		`No ground is left for points: ${f.triangles} triangles, all without area or left rough. Choose another scan or brush less ground out.`,
	"pointing.areaOffGround": (f) =>
		`Brushed ground ${f.pick} at ${[f.at].flat().join(", ")} mm lies more than ${f.farthest} mm from the figure. Brush it anew, or take it out.`,
	"pointing.drilledOffGround": (f) =>
		`The drilled point ${f.pick} at ${[f.at].flat().join(", ")} mm lies more than ${f.farthest} mm from ground that carries points: the figure has been moved or resized since. Put size and stance back, or start a new commission for the new figure.`,
	"pointing.pickOffGround": (f) =>
		`Picked point ${f.pick} at ${[f.at].flat().join(", ")} mm lies more than ${f.farthest} mm from ground that carries points. Move it onto the figure or take it out.`,
};
