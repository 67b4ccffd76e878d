/** The faces of a figure by name, as it stands now; left is the model's own. */

import type { RestingFace } from "../../core/model/restingFaces.ts";
import { angleText } from "../../core/text/format.ts";
import type { Vec3 } from "../../core/vector.ts";

/** Cosine from which a face looks straight one way, some 20°. */
const STRAIGHT = 0.94;
/** Cosine to the vertical from which a face is the foot that it stands on. */
const STANDS = 0.9999;

export const standsOn = (normal: Vec3): boolean => normal[2] < -STANDS;

/** By axis, towards − and towards +. */
const NAMES = [
	["right side", "left side"],
	["face", "back"],
	["foot", "head"],
] as const;

const nameAt = (normal: Vec3, axis: number): string => NAMES[axis][normal[axis] < 0 ? 0 : 1];

/** "on its back, towards the head" */
export function faceWords(normal: Vec3): string {
	const axes = [0, 1, 2].sort((i, j) => Math.abs(normal[j]) - Math.abs(normal[i]) || i - j);
	const first = `on its ${nameAt(normal, axes[0])}`;
	return Math.abs(normal[axes[0]]) >= STRAIGHT ? first : `${first}, towards the ${nameAt(normal, axes[1])}`;
}

export const restingWords = ({ normal, tips }: RestingFace): string =>
	`${faceWords(normal)}: tips at ${angleText(tips, 0)}`;
