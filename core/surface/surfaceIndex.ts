/** What the stages ask of the surface: rays and closest places. Which library built the tree is known in this folder only. */

import type { Job } from "../job.ts";
import type { TriangleMesh } from "../scan/mesh.ts";
import type { Vec3 } from "../vector.ts";
import {
	buildTriangleTree,
	NODE_COUNT,
	NODE_LINK,
	NODE_WORDS,
	STACK_NODES,
	type TriangleTree,
} from "./triangleTree.ts";

export interface RayHit {
	/** mm along the ray */
	distance: number;
	/** index into the mesh's triangles */
	triangle: number;
}
export interface ClosestHit {
	/** mm */
	distance: number;
	/** index into the mesh's triangles */
	triangle: number;
	/** The closest place itself, frame of the mesh. */
	x: number;
	y: number;
	z: number;
}

/**
 * Answers for one mesh, in its own frame. Not to be used by two threads at once (it holds scratch). Nothing is allocated
 * when the caller hands in the answer to fill.
 */
export interface SurfaceIndex {
	readonly mesh: TriangleMesh;
	readonly tree: TriangleTree;
	/**
	 * The first triangle that the ray meets, from either side, no farther than `maxDistance` mm; null when there is none.
	 * `direction` must be of unit length. Of equally near triangles the lowest index is named.
	 */
	castRay(origin: Vec3, direction: Vec3, maxDistance?: number, into?: RayHit): RayHit | null;
	/**
	 * The place of the surface closest to the point, no farther than `maxDistance` mm; null when there is none.
	 * Of equally near triangles the lowest index is named.
	 */
	closestPoint(point: Vec3, maxDistance?: number, into?: ClosestHit): ClosestHit | null;
}

/** Builds the index. The mesh must not be changed afterwards. */
export function* buildSurfaceIndex(mesh: TriangleMesh): Job<SurfaceIndex> {
	const tree = yield* buildTriangleTree(mesh);
	const stack = new Int32Array(STACK_NODES);
	const stackDistance = new Float64Array(STACK_NODES);
	const found = { u: 0, v: 0, w: 0 };
	return {
		mesh,
		tree,
		castRay: (origin, direction, maxDistance = Number.POSITIVE_INFINITY, into = { distance: 0, triangle: 0 }) =>
			castRay(mesh, tree, origin, direction, maxDistance, stack, stackDistance, into),
		closestPoint: (
			point,
			maxDistance = Number.POSITIVE_INFINITY,
			into = { distance: 0, triangle: 0, x: 0, y: 0, z: 0 },
		) => closestPoint(mesh, tree, point, maxDistance, stack, stackDistance, found, into),
	};
}

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

function castRay(
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
	const [ox, oy, oz] = origin;
	const [dx, dy, dz] = direction;
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

/** Square of the distance from a point to a node's box. */
function boxDistance(bounds: Float32Array, at: number, x: number, y: number, z: number): number {
	const dx = Math.max(bounds[at] - x, 0, x - bounds[at + 3]);
	const dy = Math.max(bounds[at + 1] - y, 0, y - bounds[at + 4]);
	const dz = Math.max(bounds[at + 2] - z, 0, z - bounds[at + 5]);
	return dx * dx + dy * dy + dz * dz;
}

/** Corner weights, in the triangle itself, of the place of triangle (0, u, v) closest to p, all relative to its first corner. */
interface Weights {
	/** of the second corner */
	u: number;
	/** of the third corner */
	v: number;
	/** square of the distance */
	w: number;
}

/** Ericson, "Real-Time Collision Detection" (2005), 5.1.5: which of the seven regions of the triangle the point lies over. */
function closestOnTriangle(
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

function closestPoint(
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
	const [x, y, z] = point;
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
