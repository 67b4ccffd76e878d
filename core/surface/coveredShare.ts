/** Which share of one triangle is marked, where strokes begin or end within it. */

import type { TriangleMesh } from "../scan/mesh.ts";
import type { Vec3 } from "../vector.ts";
import type { SurfaceStroke } from "./surfaceRegion.ts";

/** A piece smaller than this share of the smallest brush is decided by its middle. */
const FINE = 1 / 40;
/** However small the brush: 4⁹ pieces at its edge. */
const DEEPEST = 9;

/**
 * Share of triangle `t` that is marked after `strokes` (in order, all of them with a radius), `before` being its share
 * before the first. The triangle is cut in four until its pieces lie in or out, or are too small to matter.
 */
export function coveredShare(
	{ positions: p, triangles }: TriangleMesh,
	t: number,
	before: number,
	strokes: readonly SurfaceStroke[],
): number {
	const corner = (k: number): Vec3 => {
		const v = 3 * triangles[3 * t + k];
		return [p[v], p[v + 1], p[v + 2]];
	};
	const fine = FINE * strokes.reduce((least, { radius }) => Math.min(least, radius ?? least), Number.POSITIVE_INFINITY);
	return shareOf(corner(0), corner(1), corner(2), before, strokes, fine, 0);
}

const middle = (a: Vec3, b: Vec3): Vec3 => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2];

const off = (a: Vec3, b: Vec3): number => {
	const [x, y, z] = [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
	return Math.sqrt(x * x + y * y + z * z);
};

function shareOf(
	a: Vec3,
	b: Vec3,
	c: Vec3,
	before: number,
	strokes: readonly SurfaceStroke[],
	fine: number,
	depth: number,
): number {
	const m: Vec3 = [(a[0] + b[0] + c[0]) / 3, (a[1] + b[1] + c[1]) / 3, (a[2] + b[2] + c[2]) / 3];
	const reach = Math.max(off(a, m), off(b, m), off(c, m));
	const last = depth >= DEEPEST || reach <= fine;
	// The last stroke that holds a place decides about it.
	for (let i = strokes.length - 1; i >= 0; i--) {
		const { at, radius, adds } = strokes[i];
		const r = radius ?? Number.POSITIVE_INFINITY;
		const far = off(at, m);
		if (last ? far > r : far - reach > r) continue;
		if (last || Math.max(off(at, a), off(at, b), off(at, c)) <= r) return adds ? 1 : 0;
		const ab = middle(a, b);
		const bc = middle(b, c);
		const ca = middle(c, a);
		const part = (x: Vec3, y: Vec3, z: Vec3): number => shareOf(x, y, z, before, strokes, fine, depth + 1);
		return (part(a, ab, ca) + part(ab, b, bc) + part(ca, bc, c) + part(ab, bc, ca)) / 4;
	}
	return before;
}
