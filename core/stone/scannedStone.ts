/**
 * A stone from its own scan: closed surface, convex or not.
 *
 * The convex hull of the scan holds the stone, and a polyhedron of few faces around that hull stands for the stone where
 * faces are wanted: no placement in the stone can be better than one in the polyhedron, which is what the proof rests on.
 * What of a placement holds on the stone itself is measured on the scan (`clearanceOnScan.ts`).
 */

import { type Job, within } from "../job.ts";
import { Refusal } from "../refusal.ts";
import { examine } from "../scan/health.ts";
import { crossInto, distanceSquared } from "../scan/measures.ts";
import type { TriangleMesh } from "../scan/mesh.ts";
import type { Vec3 } from "../vector.ts";
import { boundsOfStone, movedStone, type Stone, stoneOf } from "./block.ts";
import { convexHull, type Hull } from "./hull.ts";

export interface ScannedStone {
	/** The polyhedron around the scan, its bounds from the origin on. */
	readonly stone: Stone;
	/** The scan in the stone frame, mm, its triangles counter-clockwise from outside. */
	readonly mesh: TriangleMesh;
	/** From the scan's own coordinates (as read, recentred) × mm per unit to the stone frame. */
	readonly shift: Vec3;
	/** Of the scan itself, mm³. */
	readonly volume: number;
	/** How far the polyhedron stands out from the hull of the scan at most, mm. */
	readonly over: number;
	/** The stone's hollows: share of the hull that is not stone. */
	readonly hollow: number;
}

/** Faces of the polyhedron at most; the proof's work grows with them. */
const MOST_FACES = 32;
/** Closer than this the polyhedron need not come to the hull, mm: the proof's own tolerance is larger. */
const NEAR_ENOUGH = 0.02;

export function* scannedStone(scan: TriangleMesh, mmPerUnit: number, name: string): Job<ScannedStone> {
	const health = yield* within(examine(scan), 0, 0.4);
	if (health.volume === null || health.volume === 0) throw new Refusal("stone.scanOpen", { name });
	const positions = scan.positions.map((x) => x * mmPerUnit);
	const hull = yield* within(convexHull(positions), 0.4, 0.6);
	const { stone: around, over } = yield* within(polyhedronAround(hull), 0.6, 1);
	const { min } = boundsOfStone(around);
	const shift: Vec3 = [-min[0], -min[1], -min[2]];
	const moved = positions.map((x, i) => x + shift[i % 3]);
	const volume = Math.abs(health.volume) * mmPerUnit * mmPerUnit * mmPerUnit;
	return {
		stone: movedStone(around, shift),
		mesh: { positions: moved, triangles: health.volume < 0 ? turnedOver(scan.triangles) : scan.triangles },
		shift,
		volume,
		over,
		hollow: Math.max(0, 1 - volume / hull.volume),
	};
}

function turnedOver(triangles: Uint32Array): Uint32Array {
	const turned = triangles.slice();
	for (let i = 0; i < turned.length; i += 3) [turned[i + 1], turned[i + 2]] = [turned[i + 2], turned[i + 1]];
	return turned;
}

/**
 * A polyhedron of few faces that holds a hull: from its bounds on, always the face of the hull that cuts off the corner
 * which stands out furthest. Where the hull has few faces, as that of a sawn offcut, it ends with the hull itself.
 */
export function* polyhedronAround(hull: Hull, mostFaces = MOST_FACES): Job<{ stone: Stone; over: number }> {
	const facets = facetPlanes(hull);
	const { vertices } = hull;
	const planes: number[] = [];
	for (let axis = 0; axis < 3; axis++) {
		let low = Infinity;
		let high = -Infinity;
		for (let i = axis; i < vertices.length; i += 3) {
			low = Math.min(low, vertices[i]);
			high = Math.max(high, vertices[i]);
		}
		const normal = [0, 0, 0];
		normal[axis] = 1;
		planes.push(...normal.map((x) => 0 - x), -low, ...normal, high);
	}
	for (;;) {
		const stone = stoneOf({ kind: "planes", planes: Float64Array.from(planes) });
		let over = 0;
		let best = -1;
		for (const { outline } of stone.faces) {
			for (const [x, y, z] of outline) {
				for (let f = 0; f < facets.length; f += 4) {
					const out = facets[f] * x + facets[f + 1] * y + facets[f + 2] * z - facets[f + 3];
					if (out > over) {
						over = out;
						best = f;
					}
				}
			}
		}
		if (over <= NEAR_ENOUGH || best < 0 || stone.faces.length >= mostFaces) return { stone, over };
		const [nx, ny, nz] = facets.subarray(best, best + 3);
		// The furthest corner, so that rounding in a small triangle's normal leaves no part of the hull outside.
		let offset = -Infinity;
		for (let i = 0; i < vertices.length; i += 3)
			offset = Math.max(offset, vertices[i] * nx + vertices[i + 1] * ny + vertices[i + 2] * nz);
		planes.push(nx, ny, nz, offset);
		yield { stage: "laying planes around the stone", share: Math.min(1, planes.length / (4 * mostFaces)) };
	}
}

/** Unit normal and offset of every triangle of a hull; slivers have none to trust and are left out. */
function facetPlanes({ vertices, triangles }: Hull): Float64Array {
	const planes: number[] = [];
	const n = new Float64Array(3);
	for (let t = 0; t < triangles.length; t += 3) {
		const [a, b, c] = triangles.subarray(t, t + 3);
		const area = crossInto(n, vertices, a, b, c);
		const sides = distanceSquared(vertices, a, b) + distanceSquared(vertices, a, c);
		if (!(area > 1e-12 * sides)) continue;
		const offset = (n[0] * vertices[3 * a] + n[1] * vertices[3 * a + 1] + n[2] * vertices[3 * a + 2]) / area;
		planes.push(n[0] / area, n[1] / area, n[2] / area, offset);
	}
	return Float64Array.from(planes);
}
