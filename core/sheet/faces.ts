/**
 * The faces of a block as they are looked at: where the view's axes point in the stone, where a face's zero corner lies and
 * which way u and v run (handbook 16). Stone frame; a view's x runs to the viewer's right, y upwards, depth towards the viewer.
 */

import type { FaceName } from "../plan/commission.ts";
import type { Plan } from "../plan/planFile.ts";
import { cross, dot, scale, sub, unit, type Vec3 } from "../vector.ts";

/** Where a view's axes point: unit vectors of the stone frame. */
export interface ViewAxes {
	readonly right: Vec3;
	readonly up: Vec3;
	/** From the stone to the viewer. */
	readonly towards: Vec3;
}

/** A view square on a face: `towards` is its outward normal. */
export interface FaceView extends ViewAxes {
	readonly face: FaceName;
	/** Axes of the block along which u and v run. */
	readonly uAxis: 0 | 1;
	readonly vAxis: 1 | 2;
}

export const FACE_VIEWS: Readonly<Record<FaceName, FaceView>> = {
	front: { face: "front", right: [1, 0, 0], up: [0, 0, 1], towards: [0, -1, 0], uAxis: 0, vAxis: 2 },
	back: { face: "back", right: [-1, 0, 0], up: [0, 0, 1], towards: [0, 1, 0], uAxis: 0, vAxis: 2 },
	left: { face: "left", right: [0, -1, 0], up: [0, 0, 1], towards: [-1, 0, 0], uAxis: 1, vAxis: 2 },
	right: { face: "right", right: [0, 1, 0], up: [0, 0, 1], towards: [1, 0, 0], uAxis: 1, vAxis: 2 },
	top: { face: "top", right: [1, 0, 0], up: [0, 1, 0], towards: [0, 0, 1], uAxis: 0, vAxis: 1 },
	bed: { face: "bed", right: [-1, 0, 0], up: [0, 1, 0], towards: [0, 0, -1], uAxis: 0, vAxis: 1 },
};

/** Nearer to the vertical than this (sine of the angle), a view has the stone's back upwards instead of its top. */
const NEARLY_UPRIGHT = 0.05;

/** The view from a direction (stone frame, any length but 0), upright as far as it can be. */
export function axesTowards(direction: Vec3): ViewAxes {
	const towards = unit(direction);
	const level = Math.sqrt(towards[0] * towards[0] + towards[1] * towards[1]);
	const upwards: Vec3 = level < NEARLY_UPRIGHT ? [0, 1, 0] : [0, 0, 1];
	const up = unit(sub(upwards, scale(towards, dot(upwards, towards))));
	return { right: cross(up, towards), up, towards };
}

/** What a box with a corner at the origin covers in a view, mm: least x and y, greatest x and y. */
export interface Extent {
	readonly x0: number;
	readonly y0: number;
	readonly x1: number;
	readonly y1: number;
}

export function blockExtent(block: Vec3, { right, up }: ViewAxes): Extent {
	const reach = (axis: Vec3, sign: 1 | -1): number =>
		axis.reduce((sum, c, k) => sum + (sign * c > 0 ? c * block[k] : 0), 0);
	return { x0: reach(right, -1), y0: reach(up, -1), x1: reach(right, 1), y1: reach(up, 1) };
}

export const FACE_ORDER: readonly FaceName[] = ["front", "left", "right", "back", "top", "bed"];

/** A face laid flat as seen from outside: its size, its zero corner and the way u and v run, x right and y up. */
export interface FlatFace {
	readonly width: number;
	readonly height: number;
	/** 1: u runs to the viewer's right; −1: to the left. */
	readonly uSign: 1 | -1;
	/** True where the stone's marked corner (the origin of the stone frame) is the zero corner of this face. */
	readonly holdsMarkedCorner: boolean;
}

export function flatFace(view: FaceView, block: Vec3): FlatFace {
	const axes: Vec3[] = [
		[1, 0, 0],
		[0, 1, 0],
		[0, 0, 1],
	];
	const uSign = dot(view.right, axes[view.uAxis]) > 0 ? 1 : -1;
	const far = view.towards[0] + view.towards[1] + view.towards[2] > 0;
	return { width: block[view.uAxis], height: block[view.vAxis], uSign, holdsMarkedCorner: !far };
}

/** Place of (u, v) on the flat face, mm from its lower left corner as seen from outside. */
export const onFlatFace = (flat: FlatFace, u: number, v: number): readonly [number, number] => [
	flat.uSign > 0 ? u : flat.width - u,
	v,
];

/** The sets whose seats the sheets show: only where a cross, callipers or a straightedge rest on them (handbook 2, step 0). */
export const shownSets = (plan: Plan): Plan["datumSets"] => (plan.transfer === "faces" ? [] : plan.datumSets);
