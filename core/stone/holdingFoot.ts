/** The holding foot: stone left under the figure's foot, cut off last, so that it belongs to what has to fit. */
import type { Job } from "../job.ts";
import { convexHull, type Hull } from "./hull.ts";

/** What of the figure stands no higher than this over its lowest place is its foot, mm. */
const FOOT = 1;

/**
 * The hull of a figure that stands on z = 0 together with its foot carried straight down by `height` mm; the hull itself at 0.
 * `positions` are the figure's vertices, model frame.
 */
export function* hullWithFoot(hull: Hull, positions: Float64Array, height: number): Job<Hull> {
	if (height === 0) return hull;
	const points = [...hull.vertices];
	for (let i = 0; i < positions.length; i += 3)
		if (positions[i + 2] <= FOOT) points.push(positions[i], positions[i + 1], -height);
	return yield* convexHull(Float64Array.from(points));
}
