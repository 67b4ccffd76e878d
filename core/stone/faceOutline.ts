/** Outlines of flat faces, and the axes from which places on them are measured. */

import { along, cross, dot, length, scale, sub, unit, type Vec3 } from "../vector.ts";

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

interface Corner extends FaceAxes {
	/** Whether the origin is a corner of the outline, and not only where its edges would meet. */
	readonly stands: boolean;
	readonly edge: number;
}

/** The axes along one edge of a convex outline, in which no corner has a negative u or v. */
function cornerAt(ring: readonly Vec3[], normal: Vec3, i: number, way: 1 | -1): Corner {
	const next = (i + 1) % ring.length;
	const [from, to] = way > 0 ? [ring[i], ring[next]] : [ring[next], ring[i]];
	// Corners carry rounding errors, and an axis that leaves the plane would bend what is measured along it.
	const edge = sub(to, from);
	const u = unit(along(edge, normal, -dot(edge, normal)));
	const left = cross(normal, u);
	const least = Math.min(...ring.map((p) => dot(sub(p, from), u)));
	return {
		// The outline runs counter-clockwise, so that the face lies to the left of its own edges.
		v: way > 0 ? left : scale(left, -1),
		u,
		stands: least > -AS_LONG,
		origin: least > -AS_LONG ? from : along(from, u, least),
		edge: length(edge),
	};
}

/** Negative where the first is the better one to measure from. */
function byCorner(a: Corner, b: Corner): number {
	if (a.stands !== b.stands) return a.stands ? -1 : 1;
	if (Math.abs(a.edge - b.edge) > AS_LONG) return b.edge - a.edge;
	const lower = a.origin[2] - b.origin[2];
	if (Math.abs(lower) > AS_LONG) return lower;
	const nearer = length(a.origin) - length(b.origin);
	return Math.abs(nearer) > AS_LONG ? nearer : 0;
}

/**
 * Axes of an offcut's face, a break or a cut: u along its longest edge from the end at which the whole face lies ahead, v square
 * to it into the face, so that no place on the face has a negative u or v. Of equal corners the lowest, then the nearest to the
 * marked corner. Where every corner is too blunt the origin is where the longest edge would meet the square across the face.
 */
export function axesOnFace(ring: readonly Vec3[], normal: Vec3): FaceAxes {
	let best = cornerAt(ring, normal, 0, 1);
	for (let i = 0; i < ring.length; i++)
		for (const way of [1, -1] as const) {
			const other = cornerAt(ring, normal, i, way);
			if (byCorner(other, best) < 0) best = other;
		}
	return { origin: best.origin, u: best.u, v: best.v };
}
