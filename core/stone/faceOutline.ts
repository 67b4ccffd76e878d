/** Outlines of flat faces, and the axes from which places on them are measured. */

import { add, along, cross, dot, length, scale, sub, unit, type Vec3 } from "../vector.ts";

/** Edges this near in length are equally long, and corners this near in height equally low, mm: the drawing's own digit. */
const AS_LONG = 1e-6;

export interface FaceAxes {
	readonly origin: Vec3;
	readonly u: Vec3;
	readonly v: Vec3;
}

/** The part of a flat outline where n · x ≤ offset (Sutherland and Hodgman 1974). */
export function cutOutline(ring: readonly Vec3[], normal: Vec3, offset: number): Vec3[] {
	const kept: Vec3[] = [];
	for (let i = 0; i < ring.length; i++) {
		const from = ring[i];
		const to = ring[(i + 1) % ring.length];
		const s = dot(normal, from) - offset;
		const t = dot(normal, to) - offset;
		if (s <= 0) kept.push(from);
		if (s > 0 !== t > 0) kept.push(along(from, sub(to, from), s / (s - t)));
	}
	return kept;
}

export function withoutDoubles(ring: readonly Vec3[], within: number): Vec3[] {
	return ring.filter((p, i) => length(sub(p, ring[(i + ring.length - 1) % ring.length])) > within);
}

export function outlineArea(ring: readonly Vec3[], normal: Vec3): number {
	let doubled = 0;
	for (let i = 1; i + 1 < ring.length; i++) {
		doubled += dot(cross(sub(ring[i], ring[0]), sub(ring[i + 1], ring[0])), normal);
	}
	return doubled / 2;
}

/**
 * Axes of an offcut's face: origin at its lowest corner, of equally low ones the nearest to the marked corner; u along its
 * longest edge and v square to it, both growing into the face.
 */
export function axesOnFace(ring: readonly Vec3[], normal: Vec3): FaceAxes {
	let origin = ring[0];
	for (const p of ring) {
		const lower = origin[2] - p[2];
		if (lower > AS_LONG || (lower > -AS_LONG && length(p) < length(origin) - AS_LONG)) origin = p;
	}
	let longest = 0;
	let u: Vec3 = [0, 0, 0];
	for (let i = 0; i < ring.length; i++) {
		const edge = sub(ring[(i + 1) % ring.length], ring[i]);
		const l = length(edge);
		if (l > longest + AS_LONG) {
			longest = l;
			u = scale(edge, 1 / l);
		}
	}
	let middle: Vec3 = [0, 0, 0];
	for (const p of ring) middle = add(middle, scale(p, 1 / ring.length));
	const inwards = sub(middle, origin);
	if (dot(u, inwards) < 0) u = scale(u, -1);
	// Corners carry rounding errors, and an axis that leaves the plane would bend what is measured along it.
	u = unit(along(u, normal, -dot(u, normal)));
	let v = cross(normal, u);
	if (dot(v, inwards) < 0) v = scale(v, -1);
	return { origin, u, v };
}
