/** From the frames of model and stone to the screen, for one pose. */

import type { Vec3 } from "../../core/vector.ts";
import { type Axes, axesOf, type Pose } from "./camera.ts";

/** Joins model frame and screen for one pose. */
export interface Projection {
	readonly axes: Axes;
	/** Towards the viewer, model frame. */
	readonly eye: Vec3;
	toScreen(model: Vec3): readonly [number, number];
	shownToScreen(shown: Vec3): readonly [number, number];
}

export function projection(
	pose: Pose,
	width: number,
	height: number,
	toShown: (model: Vec3) => Vec3,
	turnBack: (direction: Vec3) => Vec3,
): Projection {
	const axes = axesOf(pose);
	const perMm = height / pose.span;
	const shownToScreen = (p: Vec3): readonly [number, number] => {
		const d: Vec3 = [p[0] - pose.target[0], p[1] - pose.target[1], p[2] - pose.target[2]];
		const right = d[0] * axes.right[0] + d[1] * axes.right[1] + d[2] * axes.right[2];
		const up = d[0] * axes.up[0] + d[1] * axes.up[1] + d[2] * axes.up[2];
		return [width / 2 + right * perMm, height / 2 - up * perMm];
	};
	return { axes, eye: turnBack(axes.eye), shownToScreen, toScreen: (model) => shownToScreen(toShown(model)) };
}
