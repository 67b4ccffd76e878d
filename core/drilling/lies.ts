/** How the stone lies on the banker while a group of points is worked. */

import type { Stone, StoneFace } from "../stone/block.ts";
import { add, cross, dot, type Mat3, scale, sub, turn, type Vec3 } from "../vector.ts";

/** One way in which the stone lies: the face that lies on the banker is closed, all others are open. */
export interface Lie {
	readonly name: string;
	readonly closedFace: string;
}

/** How a figure lies when this side of it is down; it looks along −y, and its proper left is +x. */
const SIDES: readonly (readonly [string, Vec3])[] = [
	["upright", [0, 0, -1]],
	["on its back", [0, 1, 0]],
	["on its face", [0, -1, 0]],
	["on its proper left side", [1, 0, 0]],
	["on its proper right side", [-1, 0, 0]],
	["on its head", [0, 0, 1]],
];

/** The side down in the usual first lie: a figure stands, a relief lies on its back. Model frame. */
export const usualSide = (closedFigure: boolean): Vec3 => SIDES[closedFigure ? 0 : 1][1];

/**
 * The lie on a face, named by what the figure does, which need not stand upright in its block; `rotation` maps model to
 * stone frame. Faces that are none of a block's six may share a side, so their own name is added.
 */
export function lieOn({ name, normal }: StoneFace, rotation: Mat3): Lie {
	const towards = ([, side]: (typeof SIDES)[number]): number => dot(turn(rotation, side), normal);
	const [words] = SIDES.reduce((best, side) => (towards(side) > towards(best) + 1e-9 ? side : best));
	return { name: /\d/.test(name) ? `${words}, on ${name}` : words, closedFace: name };
}

/**
 * Faces on which the stone lies without tipping: the middle of its skin stands over them. That is where a solid's weight
 * acts only nearly, so a stone to be laid on a narrow face is propped all the same.
 */
export function facesToLieOn({ faces }: Stone): StoneFace[] {
	let sum: Vec3 = [0, 0, 0];
	let area = 0;
	for (const face of faces) {
		const corners = face.outline.reduce<Vec3>((total, corner) => add(total, corner), [0, 0, 0]);
		sum = add(sum, scale(corners, face.area / face.outline.length));
		area += face.area;
	}
	const middle = scale(sum, 1 / area);
	return faces.filter(({ outline, normal }) =>
		outline.every((corner, i) => {
			const edge = sub(outline[(i + 1) % outline.length], corner);
			return dot(cross(edge, sub(middle, corner)), normal) >= 0;
		}),
	);
}
