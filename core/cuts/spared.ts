/**
 * What no cut may come near: the hull of the figure with its bosses, bridges and holding foot, and the marked corner (handbook 11).
 * Stone frame, mm.
 */

import type { Hull } from "../stone/hull.ts";
import { bodyOf, cornerOf, furthestCorner } from "../stone/support.ts";
import {
	add,
	along,
	cross,
	dot,
	type Placement,
	place,
	scale,
	squareTo,
	sub,
	turnBack,
	unit,
	type Vec3,
} from "../vector.ts";
import type { Plane } from "./convexSolid.ts";

/** Stone that is kept beside the figure. */
export type Kept =
	/** A round boss with flat ends, or a bridge with round ones, between two places. */
	| {
			readonly kind: "boss" | "bridge";
			readonly name: string;
			readonly from: Vec3;
			readonly to: Vec3;
			readonly radius: number;
	  }
	/** Single places: the rim of the holding foot, proof marks. */
	| { readonly kind: "places"; readonly name: string; readonly places: readonly Vec3[] }
	/** Places that must stay on the stone, but need no allowance. */
	| { readonly kind: "corner"; readonly name: string; readonly places: readonly Vec3[] };

export interface Spared {
	/** How far everything kept reaches along a unit direction with what must stay over it, and what reaches farthest. */
	limit(normal: Vec3): { readonly offset: number; readonly name: string };
	/** Corners of the kept body without allowances: a polyhedron inscribed in it, with the figure's own corners exactly. */
	readonly corners: Float64Array;
	/** What stays over the body, mm: the rough allowance and half the kerf. */
	readonly over: number;
}

/** Length of the marked corner's three edges that is spared, mm, to lay a rule and a square against (common practice, no source). */
const CORNER_EDGES = 50;

/** The marked corner with a hand's breadth of its edges. */
export const markedCorner = (block: Vec3): Kept => ({
	kind: "corner",
	name: "the marked corner",
	places: [
		[0, 0, 0],
		[Math.min(CORNER_EDGES, block[0]), 0, 0],
		[0, Math.min(CORNER_EDGES, block[1]), 0],
		[0, 0, Math.min(CORNER_EDGES, block[2])],
	],
});

/** `over`: rough allowance and half the kerf. */
export function sparedBody(hull: Hull, placement: Placement, kept: readonly Kept[], over: number): Spared {
	const body = bodyOf(hull);
	let near = 0;
	const limit = (normal: Vec3): { offset: number; name: string } => {
		const d = turnBack(placement.rotation, normal);
		near = furthestCorner(body, near, ...d);
		const figure = add(cornerOf(body, near), body.middle);
		let offset = dot(normal, place(placement, figure)) + over;
		let name = "the figure";
		for (const one of kept) {
			const reach = reachOf(one, normal) + (one.kind === "corner" ? 0 : over);
			if (reach > offset) {
				offset = reach;
				name = one.name;
			}
		}
		return { offset, name };
	};
	const corners: number[] = [];
	for (let i = 0; i < hull.vertices.length; i += 3) {
		corners.push(...place(placement, [hull.vertices[i], hull.vertices[i + 1], hull.vertices[i + 2]]));
	}
	for (const one of kept) if (one.kind !== "corner") for (const corner of cornersIn(one)) corners.push(...corner);
	return { limit, corners: Float64Array.from(corners), over };
}

function reachOf(one: Kept, normal: Vec3): number {
	if (one.kind === "places" || one.kind === "corner") return Math.max(...one.places.map((at) => dot(normal, at)));
	const ends = Math.max(dot(normal, one.from), dot(normal, one.to));
	if (one.kind === "bridge") return ends + one.radius;
	const lean = dot(normal, axisOf(one));
	return ends + one.radius * Math.sqrt(Math.max(0, 1 - lean * lean));
}

const axisOf = ({ from, to }: { from: Vec3; to: Vec3 }): Vec3 => {
	const axis = unit(sub(to, from));
	return dot(axis, axis) > 0 ? axis : [0, 0, 1];
};

/** Sixteen unit directions around a circle, exact: eight of the square's and those between. */
const AROUND: readonly (readonly [number, number])[] = (() => {
	const eighth: [number, number][] = [
		[1, 0],
		[2, 1],
		[1, 1],
		[1, 2],
	].map(([x, y]) => {
		const l = Math.sqrt(x * x + y * y);
		return [x / l, y / l];
	});
	const quarter = (k: number): [number, number][] =>
		eighth.map(([x, y]) => (k === 0 ? [x, y] : k === 1 ? [-y, x] : k === 2 ? [-x, -y] : [y, -x]));
	return [0, 1, 2, 3].flatMap(quarter);
})();

function cornersIn(one: Kept): Vec3[] {
	if (one.kind === "places" || one.kind === "corner") return [...one.places];
	const axis = axisOf(one);
	const a = squareTo(axis);
	const b = cross(axis, a);
	const rings: [Vec3, number][] = [
		[one.from, one.radius],
		[one.to, one.radius],
	];
	const tips: Vec3[] = [];
	if (one.kind === "bridge") {
		const half = Math.sqrt(0.5) * one.radius;
		rings.push([along(one.from, axis, -half), half], [along(one.to, axis, half), half]);
		tips.push(along(one.from, axis, -one.radius), along(one.to, axis, one.radius));
	}
	return [
		...tips,
		...rings.flatMap(([middle, r]) => AROUND.map(([x, y]) => add(middle, add(scale(a, r * x), scale(b, r * y))))),
	];
}

/** How far the plane stays off what must stay, beyond the allowance; negative: too near by so much, and to what. */
export function spareOf(spared: Spared, plane: Plane): { spare: number; nearest: string } {
	const { offset, name } = spared.limit(plane.normal);
	return { spare: plane.offset - offset, nearest: name };
}
