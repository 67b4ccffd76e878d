/** Whether a stone stands on the face that it lies on: its centre of gravity over the support polygon (handbook 11). */

import { cross, dot, length, sub, unit, type Vec3 } from "../vector.ts";
import { type ConvexSolid, faceOf, measuresOf } from "./convexSolid.ts";

export interface Standing {
	/** Least way, in the plane of the face, from under the centre of gravity to the edge it would tip over; negative: it tips, mm. */
	readonly margin: number;
	/** How high the centre of gravity stands over the face, mm. */
	readonly height: number;
}

/** null: the face is gone. */
export function standingOn(solid: ConvexSolid, faceName: string): Standing | null {
	const face = solid.names.indexOf(faceName);
	if (face < 0) return null;
	const ring = faceOf(solid, face);
	const normal: Vec3 = [solid.planes[4 * face], solid.planes[4 * face + 1], solid.planes[4 * face + 2]];
	const { centre } = measuresOf(solid);
	let margin = Number.POSITIVE_INFINITY;
	ring.forEach((from, k) => {
		const way = sub(ring[(k + 1) % ring.length], from);
		if (length(way) > 0) margin = Math.min(margin, dot(unit(cross(normal, way)), sub(centre, from)));
	});
	return { margin, height: solid.planes[4 * face + 3] - dot(normal, centre) };
}

/** A stone stands safely while it can be leant this far, as the tangent: about 10° (common practice, no source). */
const LEAST_LEAN = 0.18;

export const standsFirm = (standing: Standing | null): boolean =>
	standing !== null && standing.margin >= LEAST_LEAN * standing.height;
