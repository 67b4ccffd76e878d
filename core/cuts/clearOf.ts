/** Whether a flat-sided region keeps its distance from the figure: by halving it, each half judged from its middle. */

import { distanceOfSegments } from "../drilling/crossings.ts";
import type { SurfaceIndex } from "../surface/surfaceIndex.ts";
import { add, type Placement, placeBack, scale, type Vec3 } from "../vector.ts";
import type { Kept } from "./spared.ts";

/** A box with any axes: every place middle + a·x + b·y + c·z with |x|, |y|, |z| ≤ 1. A flat sheet has an axis of length 0. */
export interface Region {
	readonly middle: Vec3;
	readonly axes: readonly [Vec3, Vec3, Vec3];
}

export interface Guard {
	readonly index: SurfaceIndex;
	/** Model → stone frame. */
	readonly placement: Placement;
	/** Bosses and bridges, stone frame. */
	readonly kept: readonly Kept[];
}

/** Halves smaller than this are judged by their farthest place, mm: what is told clear is clear, some that is clear is not. */
export const FINEST = 0.2;

/**
 * True only when every place of the region that `counts` lies `distance` or farther from the surface and from what is kept.
 * The distance of a place changes no faster than the place moves, so one look at the middle settles all within reach of it.
 */
export function clearOf(
	guard: Guard,
	{ middle, axes }: Region,
	distance: number,
	counts: (middle: Vec3, radius: number) => boolean = () => true,
): boolean {
	const lengths = axes.map((a) => Math.sqrt(a[0] * a[0] + a[1] * a[1] + a[2] * a[2]));
	const radius = Math.sqrt(lengths[0] * lengths[0] + lengths[1] * lengths[1] + lengths[2] * lengths[2]);
	if (!counts(middle, radius)) return true;
	const near = nearest(guard, middle, distance + radius);
	if (near >= distance + radius) return true;
	if (near < distance || radius < FINEST) return false;
	const longest = lengths.indexOf(Math.max(...lengths));
	const half = axes.map((a, k) => (k === longest ? scale(a, 0.5) : a)) as [Vec3, Vec3, Vec3];
	return (
		clearOf(guard, { middle: add(middle, half[longest]), axes: half }, distance, counts) &&
		clearOf(guard, { middle: add(middle, scale(half[longest], -1)), axes: half }, distance, counts)
	);
}

/** Distance to the surface and to what is kept, or `most` where that is less. */
function nearest({ index, placement, kept }: Guard, at: Vec3, most: number): number {
	let near = index.closestPoint(placeBack(placement, at), most)?.distance ?? most;
	for (const one of kept)
		if (one.kind === "boss" || one.kind === "bridge")
			near = Math.min(near, Math.max(0, distanceOfSegments(at, at, one.from, one.to) - one.radius));
	return near;
}
