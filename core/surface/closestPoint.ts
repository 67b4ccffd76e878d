/** The closest place of a surface, by the tree of its triangles. */

import type { TriangleMesh } from "../scan/mesh.ts";
import type { Vec3 } from "../vector.ts";
import type { ClosestHit } from "./surfaceIndex.ts";
import { NODE_COUNT, NODE_LINK, NODE_WORDS, type TriangleTree } from "./triangleTree.ts";

/** Square of the distance from a point to a node's box. */
function boxDistance(bounds: Float32Array, at: number, x: number, y: number, z: number): number {
	const dx = Math.max(bounds[at] - x, 0, x - bounds[at + 3]);
	const dy = Math.max(bounds[at + 1] - y, 0, y - bounds[at + 4]);
	const dz = Math.max(bounds[at + 2] - z, 0, z - bounds[at + 5]);
	return dx * dx + dy * dy + dz * dz;
}

/** Corner weights, in the triangle itself, of the place of triangle (0, u, v) closest to p, all relative to its first corner. */
export interface Weights {
	/** of the second corner */
	u: number;
	/** of the third corner */
	v: number;
	/** square of the distance */
	w: number;
}

/** Ericson, "Real-Time Collision Detection" (2005), 5.1.5: which of the seven regions of the triangle the point lies over. */
export function closestOnTriangle(
	ux: number,
	uy: number,
	uz: number,
	vx: number,
	vy: number,
	vz: number,
	px: number,
	py: number,
	pz: number,
	into: Weights,
): void {
	const d1 = ux * px + uy * py + uz * pz;
	const d2 = vx * px + vy * py + vz * pz;
	const uu = ux * ux + uy * uy + uz * uz;
	const uv = ux * vx + uy * vy + uz * vz;
	const vv = vx * vx + vy * vy + vz * vz;
	const d3 = d1 - uu;
	const d4 = d2 - uv;
	const d5 = d1 - uv;
	const d6 = d2 - vv;
	let s = 0;
	let t = 0;
	const overEdgeUv = d3 * d6 - d5 * d4;
	const overEdgeV = d5 * d2 - d1 * d6;
	const overEdgeU = d1 * d4 - d3 * d2;
	if (d1 <= 0 && d2 <= 0) {
		// first corner
	} else if (d3 >= 0 && d4 <= d3) s = 1;
	else if (d6 >= 0 && d5 <= d6) t = 1;
	else if (overEdgeU <= 0 && d1 >= 0 && d3 <= 0) s = d1 / (d1 - d3);
	else if (overEdgeV <= 0 && d2 >= 0 && d6 <= 0) t = d2 / (d2 - d6);
	else if (overEdgeUv <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0) {
		t = (d4 - d3) / (d4 - d3 + (d5 - d6));
		s = 1 - t;
	} else {
		const total = overEdgeUv + overEdgeV + overEdgeU;
		s = overEdgeV / total;
		t = overEdgeU / total;
	}
	// A triangle without area may divide nothing by nothing; its first corner then stands for it.
	if (!(s >= 0 && t >= 0)) {
		s = 0;
		t = 0;
	}
	const x = px - s * ux - t * vx;
	const y = py - s * uy - t * vy;
	const z = pz - s * uz - t * vz;
	into.u = s;
	into.v = t;
	into.w = x * x + y * y + z * z;
}

export function closestPoint(
	mesh: TriangleMesh,
	tree: TriangleTree,
	point: Vec3,
	maxDistance: number,
	stack: Int32Array,
	stackDistance: Float64Array,
	found: Weights,
	into: ClosestHit,
): ClosestHit | null {
	const { positions, triangles } = mesh;
	const { bounds, words, order } = tree;
	const x = point[0];
	const y = point[1];
	const z = point[2];
	let best = maxDistance * maxDistance;
	let bestTriangle = -1;
	let bestU = 0;
	let bestV = 0;
	stack[0] = 0;
	stackDistance[0] = boxDistance(bounds, 0, x, y, z);
	let depth = 1;
	while (depth > 0) {
		depth--;
		if (stackDistance[depth] > best) continue;
		let node = stack[depth];
		let at = node * NODE_WORDS;
		let count = words[at + NODE_COUNT];
		while (count === 0) {
			let near = node + 1;
			let far = words[at + NODE_LINK];
			let nearest = boxDistance(bounds, near * NODE_WORDS, x, y, z);
			let farther = boxDistance(bounds, far * NODE_WORDS, x, y, z);
			if (farther < nearest) {
				const n = near;
				near = far;
				far = n;
				const d = nearest;
				nearest = farther;
				farther = d;
			}
			if (nearest > best) break;
			if (farther <= best) {
				stack[depth] = far;
				stackDistance[depth] = farther;
				depth++;
			}
			node = near;
			at = node * NODE_WORDS;
			count = words[at + NODE_COUNT];
		}
		const first = words[at + NODE_LINK];
		for (let i = first; i < first + count; i++) {
			const t = order[i];
			const a = 3 * triangles[3 * t];
			const b = 3 * triangles[3 * t + 1];
			const c = 3 * triangles[3 * t + 2];
			const ax = positions[a];
			const ay = positions[a + 1];
			const az = positions[a + 2];
			closestOnTriangle(
				positions[b] - ax,
				positions[b + 1] - ay,
				positions[b + 2] - az,
				positions[c] - ax,
				positions[c + 1] - ay,
				positions[c + 2] - az,
				x - ax,
				y - ay,
				z - az,
				found,
			);
			if (found.w > best) continue;
			if (found.w === best && bestTriangle >= 0 && bestTriangle < t) continue;
			best = found.w;
			bestTriangle = t;
			bestU = found.u;
			bestV = found.v;
		}
	}
	if (bestTriangle < 0) return null;
	const a = 3 * triangles[3 * bestTriangle];
	const b = 3 * triangles[3 * bestTriangle + 1];
	const c = 3 * triangles[3 * bestTriangle + 2];
	const rest = 1 - bestU - bestV;
	into.distance = Math.sqrt(best);
	into.triangle = bestTriangle;
	into.x = rest * positions[a] + bestU * positions[b] + bestV * positions[c];
	into.y = rest * positions[a + 1] + bestU * positions[b + 1] + bestV * positions[c + 1];
	into.z = rest * positions[a + 2] + bestU * positions[b + 2] + bestV * positions[c + 2];
	return into;
}
