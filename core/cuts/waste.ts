/** How much waste the saw could free at most: the stone less the hull of what is kept, grown by what must stay over it (handbook 11). */

import { type Job, within } from "../job.ts";
import { cutOutline } from "../stone/faceOutline.ts";
import { convexHull, type Hull } from "../stone/hull.ts";
import { cross, dot, sub, unit, type Vec3 } from "../vector.ts";
import { type ConvexSolid, faceOf, measuresOf, planeOf } from "./convexSolid.ts";
import type { Spared } from "./spared.ts";

/** Unit directions of an octahedron whose edges are divided into n: 4n² + 2 of them, the axes among them, in a fixed order. */
export function directions(n: number): Vec3[] {
	const all: Vec3[] = [];
	for (let i = -n; i <= n; i++) {
		const rest = n - Math.abs(i);
		for (let j = -rest; j <= rest; j++) {
			const k = rest - Math.abs(j);
			all.push(unit([i, j, k]));
			if (k > 0) all.push(unit([i, j, -k]));
		}
	}
	return all;
}

/** Directions in which corners of the hull are rounded off, beside the normals of its own faces. */
const ROUNDED = 16;
/** Faces or corners between two reports. */
const SLICE = 256;
const STAGE = "measuring the waste";

/**
 * mm³ of waste that no plane at that distance could refuse. The grown body is taken as the hull of places that lie on it (its
 * faces moved out, its corners and edges rounded off by steps), clipped by the stone: a little less than the body, so the waste
 * is never understated and no share of it overstated.
 */
export function* removableWaste(stock: ConvexSolid, spared: Spared): Job<number> {
	const grown = yield* within(convexHull(yield* within(placesOver(spared), 0, 0.4)), 0.4, 0.8);
	const { volume, centre } = measuresOf(stock);
	return volume - (yield* within(volumeWithin(grown, stock, centre), 0.8, 1));
}

/** Places on the grown body. */
function* placesOver({ corners, over }: Spared): Job<Float64Array> {
	const hull = yield* within(convexHull(corners), 0, 0.5);
	const { vertices, triangles } = hull;
	const places: number[] = [];
	const put = (v: number, [x, y, z]: Vec3): void => {
		places.push(vertices[3 * v] + over * x, vertices[3 * v + 1] + over * y, vertices[3 * v + 2] + over * z);
	};
	for (let t = 0; t < triangles.length; t += 3) {
		const { normal } = triangleOf(hull, t);
		for (let k = 0; k < 3; k++) put(triangles[t + k], normal);
	}
	const all = directions(ROUNDED);
	for (const [i, direction] of all.entries()) {
		let best = 0;
		let reach = Number.NEGATIVE_INFINITY;
		for (let v = 0; v < vertices.length; v += 3) {
			const r = direction[0] * vertices[v] + direction[1] * vertices[v + 1] + direction[2] * vertices[v + 2];
			if (r > reach) {
				reach = r;
				best = v / 3;
			}
		}
		put(best, direction);
		if (i % SLICE === 0) yield { stage: STAGE, share: 0.5 + (0.5 * i) / all.length };
	}
	return Float64Array.from(places);
}

/** A triangle of a hull with its outward unit normal; `t` is where it starts. */
export function triangleOf({ vertices, triangles }: Hull, t: number): { ring: Vec3[]; normal: Vec3 } {
	const ring = [0, 1, 2].map((k): Vec3 => {
		const v = 3 * triangles[t + k];
		return [vertices[v], vertices[v + 1], vertices[v + 2]];
	});
	return { ring, normal: unit(cross(sub(ring[1], ring[0]), sub(ring[2], ring[0]))) };
}

/**
 * Volume that a hull and the stone share, mm³: pyramids from a place within the stone over the parts of each one's faces that
 * lie within the other.
 */
function* volumeWithin(hull: Hull, stock: ConvexSolid, apex: Vec3): Job<number> {
	let volume = 0;
	const walls = stock.names.map((_, f) => planeOf(stock, f));
	const sides = walls.map((_, f) => faceOf(stock, f));
	for (let t = 0; t < hull.triangles.length; t += 3) {
		const { ring, normal } = triangleOf(hull, t);
		const offset = dot(normal, ring[0]);
		let inside = ring;
		for (const wall of walls) if (inside.length > 2) inside = cutOutline(inside, wall.normal, wall.offset);
		volume += pyramid(inside, apex);
		sides.forEach((side, f) => {
			if (side.length > 2 && side.some((at) => dot(normal, at) > offset)) sides[f] = cutOutline(side, normal, offset);
		});
		if (t % (3 * SLICE) === 0) yield { stage: STAGE, share: t / hull.triangles.length };
	}
	for (const side of sides) volume += pyramid(side, apex);
	return volume;
}

function pyramid(ring: readonly Vec3[], apex: Vec3): number {
	let sixfold = 0;
	for (let k = 1; k + 1 < ring.length; k++) {
		sixfold += dot(sub(ring[0], apex), cross(sub(ring[k], apex), sub(ring[k + 1], apex)));
	}
	return sixfold / 6;
}
