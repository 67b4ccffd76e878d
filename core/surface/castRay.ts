/** Rays against the tree of triangles. */

import type { TriangleMesh } from "../scan/mesh.ts";
import type { Vec3 } from "../vector.ts";
import type { RayHit } from "./surfaceIndex.ts";
import { NODE_COUNT, NODE_LINK, NODE_WORDS, type TriangleTree } from "./triangleTree.ts";

/** Where the ray enters a node's box: the distance, or infinity when it misses it within `farthest`. */
function boxEntry(
	bounds: Float32Array,
	at: number,
	ox: number,
	oy: number,
	oz: number,
	ix: number,
	iy: number,
	iz: number,
	farthest: number,
): number {
	// An axis along which the ray does not move gives ±infinity, or NaN on the very face of the box: the comparisons below
	// are written so that NaN leaves the interval as it is.
	let near = 0;
	let far = farthest;
	let a = (bounds[at] - ox) * ix;
	let b = (bounds[at + 3] - ox) * ix;
	let low = Math.min(a, b);
	let high = Math.max(a, b);
	if (low > near) near = low;
	if (high < far) far = high;
	a = (bounds[at + 1] - oy) * iy;
	b = (bounds[at + 4] - oy) * iy;
	low = Math.min(a, b);
	high = Math.max(a, b);
	if (low > near) near = low;
	if (high < far) far = high;
	a = (bounds[at + 2] - oz) * iz;
	b = (bounds[at + 5] - oz) * iz;
	low = Math.min(a, b);
	high = Math.max(a, b);
	if (low > near) near = low;
	if (high < far) far = high;
	return near <= far ? near : Number.POSITIVE_INFINITY;
}

/** A triangle is met out to this share beyond its edges, so that no ray slips through between two neighbours. */
const EDGE_SLACK = 1e-12;

export function castRay(
	mesh: TriangleMesh,
	tree: TriangleTree,
	origin: Vec3,
	direction: Vec3,
	maxDistance: number,
	stack: Int32Array,
	stackDistance: Float64Array,
	into: RayHit,
): RayHit | null {
	const { positions, triangles } = mesh;
	const { bounds, words, order } = tree;
	const ox = origin[0];
	const oy = origin[1];
	const oz = origin[2];
	const dx = direction[0];
	const dy = direction[1];
	const dz = direction[2];
	const ix = 1 / dx;
	const iy = 1 / dy;
	const iz = 1 / dz;
	let best = maxDistance;
	let bestTriangle = -1;
	let depth = 0;
	const start = boxEntry(bounds, 0, ox, oy, oz, ix, iy, iz, best);
	if (start === Number.POSITIVE_INFINITY) return null;
	stack[0] = 0;
	stackDistance[0] = start;
	depth = 1;
	while (depth > 0) {
		depth--;
		if (stackDistance[depth] > best) continue;
		let node = stack[depth];
		let at = node * NODE_WORDS;
		let count = words[at + NODE_COUNT];
		while (count === 0) {
			let near = node + 1;
			let far = words[at + NODE_LINK];
			let nearEntry = boxEntry(bounds, near * NODE_WORDS, ox, oy, oz, ix, iy, iz, best);
			let farEntry = boxEntry(bounds, far * NODE_WORDS, ox, oy, oz, ix, iy, iz, best);
			if (farEntry < nearEntry) {
				const n = near;
				near = far;
				far = n;
				const e = nearEntry;
				nearEntry = farEntry;
				farEntry = e;
			}
			if (nearEntry === Number.POSITIVE_INFINITY) break;
			if (farEntry !== Number.POSITIVE_INFINITY) {
				stack[depth] = far;
				stackDistance[depth] = farEntry;
				depth++;
			}
			node = near;
			at = node * NODE_WORDS;
			count = words[at + NODE_COUNT];
		}
		const first = words[at + NODE_LINK];
		for (let i = first; i < first + count; i++) {
			// Möller and Trumbore 1997, both sides.
			const t = order[i];
			const a = 3 * triangles[3 * t];
			const b = 3 * triangles[3 * t + 1];
			const c = 3 * triangles[3 * t + 2];
			const ax = positions[a];
			const ay = positions[a + 1];
			const az = positions[a + 2];
			const ux = positions[b] - ax;
			const uy = positions[b + 1] - ay;
			const uz = positions[b + 2] - az;
			const vx = positions[c] - ax;
			const vy = positions[c + 1] - ay;
			const vz = positions[c + 2] - az;
			const px = dy * vz - dz * vy;
			const py = dz * vx - dx * vz;
			const pz = dx * vy - dy * vx;
			const det = ux * px + uy * py + uz * pz;
			if (det === 0) continue;
			const sx = ox - ax;
			const sy = oy - ay;
			const sz = oz - az;
			const share = (sx * px + sy * py + sz * pz) / det;
			if (share < -EDGE_SLACK || share > 1 + EDGE_SLACK) continue;
			const qx = sy * uz - sz * uy;
			const qy = sz * ux - sx * uz;
			const qz = sx * uy - sy * ux;
			const other = (dx * qx + dy * qy + dz * qz) / det;
			if (other < -EDGE_SLACK || share + other > 1 + EDGE_SLACK) continue;
			const distance = (vx * qx + vy * qy + vz * qz) / det;
			if (distance < 0 || distance > best) continue;
			if (distance === best && bestTriangle >= 0 && bestTriangle < t) continue;
			best = distance;
			bestTriangle = t;
		}
	}
	if (bestTriangle < 0) return null;
	into.distance = best;
	into.triangle = bestTriangle;
	return into;
}
