/**
 * How the banker is looked at: an orthographic view on a turntable, so that the scale bar is true everywhere and what is seen
 * agrees with the printed maps. Angles in radians, lengths in mm of the frame that is shown; z is up.
 */

import type { Vec3 } from "../../core/vector.ts";
import type { Bounds } from "./bounds.ts";

export interface Pose {
	/** What stands in the middle of the view. */
	readonly target: Vec3;
	/** 0 looks from the front (towards +y), growing to the right: π/2 looks from the right face. */
	readonly azimuth: number;
	/** 0 is level, π/2 looks straight down on the top. */
	readonly elevation: number;
	/** mm from the lower to the upper edge of the view */
	readonly span: number;
}

export interface Axes {
	readonly right: Vec3;
	readonly up: Vec3;
	/** Towards the viewer. */
	readonly eye: Vec3;
}

export const VIEWS = ["front", "back", "left", "right", "top", "bed"] as const;
export type ViewName = (typeof VIEWS)[number];

const QUARTER = Math.PI / 2;
const DIRECTIONS: Readonly<Record<ViewName, readonly [number, number]>> = {
	front: [0, 0],
	right: [QUARTER, 0],
	back: [2 * QUARTER, 0],
	left: [-QUARTER, 0],
	top: [0, QUARTER],
	// As the printed map of the bed: up is towards the back.
	bed: [2 * QUARTER, -QUARTER],
};
/** Room around what is shown. */
const AIR = 1.16;
const LEAST_SPAN = 2;
const GREATEST_SPAN = 60_000;

export function axesOf(pose: Pose): Axes {
	const sa = Math.sin(pose.azimuth);
	const ca = Math.cos(pose.azimuth);
	const se = Math.sin(pose.elevation);
	const ce = Math.cos(pose.elevation);
	return { right: [ca, sa, 0], up: [-sa * se, ca * se, ce], eye: [sa * ce, -ca * ce, se] };
}

/** The pose that shows all of the bounds from that side. `aspect` is width ÷ height of the view. */
export function poseOn(
	bounds: Bounds,
	aspect: number,
	from: { readonly azimuth: number; readonly elevation: number },
): Pose {
	const target: Vec3 = [
		(bounds.min[0] + bounds.max[0]) / 2,
		(bounds.min[1] + bounds.max[1]) / 2,
		(bounds.min[2] + bounds.max[2]) / 2,
	];
	const axes = axesOf({ target, span: 1, ...from });
	const half: Vec3 = [bounds.max[0] - target[0], bounds.max[1] - target[1], bounds.max[2] - target[2]];
	const reach = (d: Vec3): number => Math.abs(d[0]) * half[0] + Math.abs(d[1]) * half[1] + Math.abs(d[2]) * half[2];
	const span = 2 * AIR * Math.max(reach(axes.up), reach(axes.right) / aspect, LEAST_SPAN / 2);
	return { target, azimuth: from.azimuth, elevation: from.elevation, span };
}

export function viewFrom(name: ViewName, bounds: Bounds, aspect: number): Pose {
	const [azimuth, elevation] = DIRECTIONS[name];
	return poseOn(bounds, aspect, { azimuth, elevation });
}

const alike = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/** The view that the pose looks from, within half a degree, or null. */
export function viewOf(pose: Pose): ViewName | null {
	const near = Math.cos(0.5 * (Math.PI / 180));
	const axes = axesOf(pose);
	return (
		VIEWS.find((name) => {
			const [azimuth, elevation] = DIRECTIONS[name];
			const other = axesOf({ ...pose, azimuth, elevation });
			return alike(axes.eye, other.eye) > near && alike(axes.up, other.up) > near;
		}) ?? null
	);
}

export function orbited(pose: Pose, byAzimuth: number, byElevation: number): Pose {
	const elevation = Math.max(-QUARTER, Math.min(QUARTER, pose.elevation + byElevation));
	return { ...pose, azimuth: pose.azimuth + byAzimuth, elevation };
}

/** Moves what is seen by that many mm to the right and up on the screen. */
export function panned(pose: Pose, right: number, up: number): Pose {
	const axes = axesOf(pose);
	const target = pose.target.map((t, i) => t - axes.right[i] * right - axes.up[i] * up) as unknown as Vec3;
	return { ...pose, target };
}

/** Zooms about a place of the view, given in mm right and up from its middle, which stays where it is on the screen. */
export function zoomed(pose: Pose, factor: number, right = 0, up = 0): Pose {
	const span = Math.max(LEAST_SPAN, Math.min(GREATEST_SPAN, pose.span / factor));
	const keep = 1 - span / pose.span;
	return { ...panned(pose, -right * keep, -up * keep), span };
}
