/** Whether places lie inside a closed surface: by how many times a ray from them leaves it. */

import type { Vec3 } from "../vector.ts";
import type { RayHit, SurfaceIndex } from "./surfaceIndex.ts";

/** Directions that no scan is likely to have an edge along; the second and third are asked when the first two differ. */
const RAYS: readonly Vec3[] = [
	[0.5773, 0.211, 0.7888],
	[-0.3015, 0.9045, 0.3017],
	[0.1621, -0.4864, -0.8586],
].map(([x, y, z]) => {
	const l = Math.sqrt(x * x + y * y + z * z);
	return [x / l, y / l, z / l];
});

/** After a crossing the ray goes on this share of the surface's size further on: the other triangle of an edge is the same crossing. */
const STEP = 1e-9;

function crossings(surface: SurfaceIndex, from: Vec3, along: Vec3, size: number, hit: RayHit): number {
	let count = 0;
	let [x, y, z] = from;
	// A scan that a ray crosses a thousand times is none.
	while (count < 1000 && surface.castRay([x, y, z], along, Number.POSITIVE_INFINITY, hit)) {
		count++;
		const on = hit.distance + STEP * size;
		x += on * along[0];
		y += on * along[1];
		z += on * along[2];
	}
	return count;
}

/** Whether a place lies inside a closed surface whose size is about `size` mm: two of three rays decide. */
export function isInside(surface: SurfaceIndex, place: Vec3, size: number): boolean {
	const hit: RayHit = { distance: 0, triangle: 0 };
	const odd = (ray: Vec3): boolean => crossings(surface, place, ray, size, hit) % 2 === 1;
	const first = odd(RAYS[0]);
	return odd(RAYS[1]) === first ? first : odd(RAYS[2]);
}
