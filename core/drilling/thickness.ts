/** How much stone stands behind a target when the figure is finished (handbook 4). */

import type { RayHit, SurfaceIndex } from "../surface/surfaceIndex.ts";
import { along, scale } from "../vector.ts";
import type { DrillTarget } from "./drillLine.ts";

/** The ray starts this far under the surface, past doubled triangles and the target's own. */
const UNDER_SKIN = 0.05;
const hit: RayHit = { distance: 0, triangle: 0 };

/** mm from the target straight inward, against its normal, to the far side; null when nothing is behind (an open shell). */
export function thicknessAt(index: SurfaceIndex, target: DrillTarget): number | null {
	const inward = scale(target.normal, -1);
	const found = index.castRay(along(target.position, inward, UNDER_SKIN), inward, Number.POSITIVE_INFINITY, hit);
	return found ? found.distance + UNDER_SKIN : null;
}
