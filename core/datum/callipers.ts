/**
 * Three-calliper transfer: the lengths from datums A, B and C to a place.
 * Two places answer to three lengths, mirrored in the plane of the datums; the side says which is meant.
 */

import { cross, dot, length, scale, sub, unit, type Vec3 } from "../vector.ts";
import type { Triangle } from "./seatError.ts";

/** Lengths from A, B, C to a place, in the unit of the coordinates. */
export function calliperLengths(datums: Triangle, place: Vec3): Vec3 {
	return [length(sub(place, datums[0])), length(sub(place, datums[1])), length(sub(place, datums[2]))];
}

/** Height over the datum plane; positive on the side to which (B−A)×(C−A) points. */
export function heightOverDatums(datums: Triangle, place: Vec3): number {
	const normal = unit(cross(sub(datums[1], datums[0]), sub(datums[2], datums[0])));
	return dot(normal, sub(place, datums[0]));
}

/** A reading error of one length r grows by r/|height| in the height; beyond this it is not trusted (common practice, no source). */
const MOST_GROWTH = 5;

/** Near the datum plane three lengths hardly hold the height: too near where even the shortest grows a reading error so. */
export function unreliableByCallipers(datums: Triangle, place: Vec3): boolean {
	const height = Math.abs(heightOverDatums(datums, place));
	return height * MOST_GROWTH < Math.min(...calliperLengths(datums, place));
}

/** Faces of a block by the axis of the stone and the end at which they stand. */
const SIDE_NAMES = [
	["left", "right"],
	["front", "back"],
	["bed", "top"],
] as const;
export type DatumSide = (typeof SIDE_NAMES)[number][number];
export const DATUM_SIDES = SIDE_NAMES.flat() as [DatumSide, ...DatumSide[]];

/**
 * On which side of the plane of the seats a place lies (stone frame), named by the face of the block to which that side looks
 * most: of the two places that answer to three lengths it tells the right one.
 */
export function sideOfDatums(seats: Triangle, place: Vec3): DatumSide {
	const normal = unit(cross(sub(seats[1], seats[0]), sub(seats[2], seats[0])));
	const out = heightOverDatums(seats, place) >= 0 ? normal : scale(normal, -1);
	const size = out.map(Math.abs);
	const axis = size[1] >= size[0] && size[1] >= size[2] ? 1 : size[2] >= size[0] ? 2 : 0;
	return SIDE_NAMES[axis][out[axis] >= 0 ? 1 : 0];
}
