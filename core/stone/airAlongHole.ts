/** How much of a hole runs through air, where the stone itself was scanned and has hollows. */

import type { RayHit, SurfaceIndex } from "../surface/surfaceIndex.ts";
import { along, cross, distance, dot, sub, unit, type Vec3 } from "../vector.ts";

/** mm gone on after a crossing, so that the other triangle of an edge is not met as well. */
const STEP = 1e-6;
/** More crossings than any hole has. */
const MOST = 1000;

/**
 * mm of air between `floor`, which lies in the stone, and `entry` on the skin of the body around the scan. `scan` in the
 * stone frame, its triangles counter-clockwise from outside.
 */
export function airAlongHole(scan: SurfaceIndex, floor: Vec3, entry: Vec3): number {
	const long = distance(floor, entry);
	const out = unit(sub(entry, floor));
	const hit: RayHit = { distance: 0, triangle: 0 };
	let air = 0;
	let gone = 0;
	/** Where the stone was left last; −1 while the hole is in it. */
	let left = -1;
	for (let i = 0; i < MOST; i++) {
		if (!scan.castRay(along(floor, out, gone), out, long - gone, hit)) break;
		const at = gone + hit.distance;
		const leaves = dot(facing(scan, hit.triangle), out) > 0;
		if (leaves && left < 0) left = at;
		if (!leaves && left >= 0) {
			air += at - left;
			left = -1;
		}
		gone = at + STEP;
		if (gone >= long) break;
	}
	return left < 0 ? air : air + long - left;
}

function facing({ mesh: { positions: p, triangles } }: SurfaceIndex, t: number): Vec3 {
	const [a, b, c] = [0, 1, 2].map((k): Vec3 => {
		const v = 3 * triangles[3 * t + k];
		return [p[v], p[v + 1], p[v + 2]];
	});
	return cross(sub(b, a), sub(c, a));
}
