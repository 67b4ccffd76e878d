/** What the stages ask of the surface: rays and closest places. Which library built the tree is known in this folder only. */

import type { Job } from "../job.ts";
import type { TriangleMesh } from "../scan/mesh.ts";
import type { Vec3 } from "../vector.ts";
import { castRay } from "./castRay.ts";
import { closestPoint } from "./closestPoint.ts";
import { buildTriangleTree, STACK_NODES, type TriangleTree } from "./triangleTree.ts";

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
