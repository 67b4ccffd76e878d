/** Proper left and right: the model's own, never the viewer's. */

import { dot, length, scale, type Vec3 } from "../vector.ts";

export type Side = "left" | "right" | "middle";

/** The plane normal · x = offset, model frame, mm; `normal` (unit) points to the model's own left. */
export interface MiddlePlane {
	readonly normal: Vec3;
	readonly offset: number;
}

/**
 * The middle of the model's bounds, for a model that faces −y: who stands before it looks towards +y, so its own left hand
 * is at +x.
 */
export function defaultMiddlePlane(positions: Float64Array): MiddlePlane {
	let least = Number.POSITIVE_INFINITY;
	let most = Number.NEGATIVE_INFINITY;
	for (let i = 0; i < positions.length; i += 3) {
		if (positions[i] < least) least = positions[i];
		if (positions[i] > most) most = positions[i];
	}
	return { normal: [1, 0, 0], offset: least <= most ? (least + most) / 2 : 0 };
}

/** The plane that the carver has set, its normal brought to length 1, or the default one. */
export function middlePlane(
	set: { readonly normal: Vec3; readonly offset_mm: number } | null,
	positions: Float64Array,
): MiddlePlane {
	if (set === null) return defaultMiddlePlane(positions);
	const long = length(set.normal);
	return { normal: scale(set.normal, 1 / long), offset: set.offset_mm / long };
}

/** Side of a place, model frame; "middle" within a smallest form (mm) of the plane. */
export function sideOf(place: Vec3, plane: MiddlePlane, smallestForm: number): Side {
	const d = dot(plane.normal, place) - plane.offset;
	if (Math.abs(d) <= smallestForm) return "middle";
	return d > 0 ? "left" : "right";
}
