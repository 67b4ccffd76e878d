/** How much stone stands behind a target when the figure is finished (handbook 4). */

import type { RayHit, SurfaceIndex } from "../surface/surfaceIndex.ts";
import { along, cross, dot, scale, sub, type Vec3 } from "../vector.ts";
import type { DrillTarget } from "./drillLine.ts";

/** The ray starts this far under the surface, and behind every surface it meets: past doubled triangles and scan noise. */
const UNDER_SKIN = 0.05;
/** More crossings than any figure has between target and daylight. */
const MOST_CROSSINGS = 16;
const hit: RayHit = { distance: 0, triangle: 0 };

/**
 * mm from the target straight inward, against its normal, to where the stone ends; null where it does not end (an open
 * shell). Parts that overlap count as one: a surface that is entered on the way must be left again.
 */
export function thicknessAt(index: SurfaceIndex, target: DrillTarget): number | null {
	const inward = scale(target.normal, -1);
	let within = 1;
	let gone = UNDER_SKIN;
	for (let i = 0; i < MOST_CROSSINGS; i++) {
		if (!index.castRay(along(target.position, inward, gone), inward, Number.POSITIVE_INFINITY, hit)) return null;
		gone += hit.distance;
		within += dot(normalOf(index, hit.triangle), inward) > 0 ? -1 : 1;
		if (within === 0) return gone;
		gone += UNDER_SKIN;
	}
	return null;
}

/** Along the outward normal of a triangle, of any length. */
function normalOf({ mesh: { positions, triangles } }: SurfaceIndex, t: number): Vec3 {
	const [a, b, c] = [0, 1, 2].map((k): Vec3 => {
		const v = 3 * triangles[3 * t + k];
		return [positions[v], positions[v + 1], positions[v + 2]];
	});
	return cross(sub(b, a), sub(c, a));
}
