/** From the screen back to what is shown: the ray under a pixel, a step along the surface, the mark nearest to a pixel. */

import { type Placement, placeBack, turnBack, type Vec3 } from "../../core/vector.ts";
import { axesOf, type Pose } from "./camera.ts";
import { whereKept } from "./cutPlane.ts";
import type { Mark, Projected } from "./marksView.ts";
import type { Place } from "./picker.ts";
import type { ScanCut } from "./scanView.ts";
import { FAR_MM } from "./stand.ts";

/** How near the pointer must be to a mark, pixels. */
const NEAR_MARK = 12;

/** The way of so many mm right and up on the screen, frame that is shown. */
export function wayOnScreen(pose: Pose, right: number, up: number): Vec3 {
	const axes = axesOf(pose);
	return [0, 1, 2].map((k) => axes.right[k] * right + axes.up[k] * up) as unknown as Vec3;
}

/** The ray that far right and up from the middle of the view, mm; model frame, from the first place that a cut keeps. */
export function rayUnder(
	pose: Pose,
	placement: Placement,
	right: number,
	up: number,
	cut: ScanCut | null,
): { origin: Vec3; direction: Vec3 } {
	const { eye } = axesOf(pose);
	const way = wayOnScreen(pose, right, up);
	const far = FAR_MM + 4 * pose.span;
	const inwards: Vec3 = [-eye[0], -eye[1], -eye[2]];
	const origin = pose.target.map((t, k) => t + way[k] + eye[k] * far) as unknown as Vec3;
	return {
		origin: placeBack(placement, cut ? whereKept(origin, inwards, cut) : origin),
		direction: turnBack(placement.rotation, inwards),
	};
}

/**
 * Where one comes from a place by going that many mm right and up on the screen along the surface, model frame: what of the
 * way would lead off it is left out, and the length kept. null when all of it would.
 */
export function stepped(pose: Pose, placement: Placement, from: Place, right: number, up: number): Vec3 | null {
	const go = turnBack(placement.rotation, wayOnScreen(pose, right, up));
	const n = from.normal;
	const out = go[0] * n[0] + go[1] * n[1] + go[2] * n[2];
	const along = go.map((x, k) => x - out * n[k]);
	const long = Math.hypot(...along);
	if (long < 1e-9) return null;
	const by = Math.hypot(right, up) / long;
	return from.position.map((x, k) => x + along[k] * by) as unknown as Vec3;
}

/** The mark nearest to a pixel, within reach of a finger's aim. */
export function nearestMark(seen: readonly Projected[], x: number, y: number): Mark | null {
	let best: Mark | null = null;
	let least = NEAR_MARK;
	for (const one of seen) {
		const reach = Math.hypot(one.x - x, one.y - y) - (one.mark.kind === "point" ? 0 : 4);
		if (reach < least) {
			least = reach;
			best = one.mark;
		}
	}
	return best;
}
