/** Standing a scan up by quarter turns, kept as whole-numbered quaternions so that nothing drifts. */

import { type Quaternion, quaternionProduct, tidyQuaternion } from "../../core/model/quaternion.ts";

export type QuarterTurn = "forward" | "back" | "left" | "right" | "round";

/** x, y, z, w, in the model frame: x to the viewer's right, the viewer in front (−y), z up. */
const TURNS: Readonly<Record<QuarterTurn, Quaternion>> = {
	/** The top comes towards the viewer. */
	forward: [1, 0, 0, 1],
	back: [-1, 0, 0, 1],
	left: [0, -1, 0, 1],
	right: [0, 1, 0, 1],
	/** About the vertical, counter-clockwise from above. */
	round: [0, 0, 1, 1],
};

/** The stance after a further quarter turn as the viewer sees it; whole numbers stay whole and small. */
export const turnedStance = (stance: Quaternion, turn: QuarterTurn): [number, number, number, number] =>
	tidyQuaternion(quaternionProduct(TURNS[turn], stance));
