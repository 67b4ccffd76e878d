/** Words for places that no drill line reaches, and for what would open them. */

import type { Opening, Undercut } from "../drilling/drillLine.ts";
import { degreesFromCosine } from "./angle.ts";
import { angleText, lengthText } from "./format.ts";

/** Said where the figure blocks; a sheet that can name the place says this instead. */
export const BLOCKED = "The figure itself is in the way of every permitted line.";

const REASONS: Readonly<Record<Undercut["reason"], string>> = {
	blocked: BLOCKED,
	lean: "No open face can be entered within the permitted lean.",
	reach: "It lies deeper than the drill reaches.",
	banker: "The drill would have to stand in the banker.",
	shallow: "Less stone stands over it than the stop must leave.",
	arris: "Every line would enter nearer to an edge of the block than the drill is wide.",
	thin: "The part is too thin for hammer action; take a rotary drill.",
	holes: "Every permitted line would run into another hole.",
	bridge: "A bridge that stands until a later round is in the way of every permitted line.",
};

/** Why a place is an undercut. */
export const undercutText = ({ reason }: Undercut): string => REASONS[reason];

export function openingText(opening: Opening): string {
	switch (opening.by) {
		case "bridge":
			return "Once the bridge is cut away it can be drilled.";
		case "lie":
			return `With the stone laid on its ${opening.closedFace} face, a line through the ${opening.face} face would.`;
		case "reach":
			return `A drill that reaches ${lengthText(Math.ceil(opening.reach), "mm", 0)} would.`;
		case "tilt":
			return `A line through the ${opening.face} face would, tilted ${angleText(degreesFromCosine(opening.tiltCosine))} from square to the surface.`;
		case "lean":
			return `A flat cut first on the ${opening.face} face would: lean ${angleText(opening.leanDeg[0])}, ${angleText(opening.leanDeg[1])}.`;
		case "nothing":
			return "No straight hole does: work it by eye from the points around it.";
	}
}
