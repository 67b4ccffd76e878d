/** How well points are spent: vertices that a mesh simplifier needs for a surface as near to the scan as our flat join. */

import { MeshoptSimplifier } from "meshoptimizer";
import { BufferAttribute, BufferGeometry, Vector3 } from "three";
import { MeshBVH } from "three-mesh-bvh";
import { finish } from "../../core/job.ts";
import type { SurfacePoint } from "../../core/pointing/ground.ts";
import { Join } from "../../core/pointing/join.ts";
import { seededRandom } from "../../core/random.ts";
import type { TriangleMesh } from "../../core/scan/mesh.ts";
import type { Adjacency } from "../../core/surface/adjacency.ts";

/** Places of the scan at which distances are taken, by area. */
const SAMPLES = 20_000;
/** Share of the area that lies within the distance told. */
const SHARE = 0.999;

/** Places spread over the scan by area (seeded), 3 each. */
export function placesByArea({ positions: p, triangles }: TriangleMesh): Float64Array {
	const upTo = new Float64Array(triangles.length / 3);
	let sum = 0;
	for (let t = 0; t < upTo.length; t++) {
		const [a, b, c] = [0, 1, 2].map((k) => 3 * triangles[3 * t + k]);
		const u = [0, 1, 2].map((k) => p[b + k] - p[a + k]);
		const w = [0, 1, 2].map((k) => p[c + k] - p[a + k]);
		sum += Math.hypot(u[1] * w[2] - u[2] * w[1], u[2] * w[0] - u[0] * w[2], u[0] * w[1] - u[1] * w[0]) / 2;
		upTo[t] = sum;
	}
	const random = seededRandom(31);
	const places = new Float64Array(3 * SAMPLES);
	for (let i = 0; i < SAMPLES; i++) {
		const at = random.next() * sum;
		let [low, high] = [0, upTo.length - 1];
		while (low < high) {
			const middle = (low + high) >> 1;
			if (upTo[middle] < at) low = middle + 1;
			else high = middle;
		}
		let [r, s] = [random.next(), random.next()];
		if (r + s > 1) [r, s] = [1 - r, 1 - s];
		const [a, b, c] = [0, 1, 2].map((k) => 3 * triangles[3 * low + k]);
		for (let k = 0; k < 3; k++) places[3 * i + k] = p[a + k] + r * (p[b + k] - p[a + k]) + s * (p[c + k] - p[a + k]);
	}
	return places;
}

/** The distance, mm, within which 99.9 % of the places lie of a surface. */
export function quantile(places: Float64Array, positions: Float32Array | Float64Array, triangles: Uint32Array): number {
	const geometry = new BufferGeometry();
	geometry.setAttribute("position", new BufferAttribute(positions, 3));
	geometry.setIndex(new BufferAttribute(triangles.slice(), 1));
	const tree = new MeshBVH(geometry);
	const at = new Vector3();
	const distances: number[] = [];
	for (let i = 0; i < places.length; i += 3) {
		at.fromArray(places, i);
		distances.push(tree.closestPointToPoint(at)?.distance ?? Number.POSITIVE_INFINITY);
	}
	distances.sort((a, b) => a - b);
	return distances[Math.floor(SHARE * distances.length)];
}

/** Triangles of the flat join through the points as they stand on the surface. */
export function joinOf(
	mesh: TriangleMesh,
	adjacency: Adjacency,
	normals: Float64Array,
	points: readonly SurfacePoint[],
): { positions: Float64Array; triangles: Uint32Array } {
	const carries = new Uint8Array(normals.length / 3).fill(1);
	const join = new Join({ mesh, adjacency, carries }, normals, 0, Number.NEGATIVE_INFINITY);
	for (const { vertex, position, normal } of points) join.enter(vertex, position, normal);
	finish(join.spread());
	finish(join.measure());
	const { corners, count } = join.facets;
	return {
		positions: Float64Array.from(points.flatMap((p) => p.position)),
		triangles: Uint32Array.from(corners.slice(0, 3 * count)),
	};
}

/** The fewest vertices with which the simplifier comes as near as `wanted` mm, and how near it then is. */
export function simplifiedTo(
	mesh: TriangleMesh,
	places: Float64Array,
	wanted: number,
): { vertices: number; mm: number } {
	const positions = Float32Array.from(mesh.positions);
	let [low, high] = [8, mesh.triangles.length / 3];
	let best = { vertices: mesh.positions.length / 3, mm: 0 };
	while (high - low > Math.max(1, 0.01 * low)) {
		const triangles = Math.round(Math.sqrt(low * high));
		const [simple] = MeshoptSimplifier.simplify(mesh.triangles, positions, 3, 3 * triangles, 1e9, ["ErrorAbsolute"]);
		const mm = quantile(places, positions, simple);
		const vertices = new Set(simple).size;
		if (mm <= wanted) {
			if (vertices < best.vertices) best = { vertices, mm };
			high = triangles;
		} else low = triangles;
	}
	return best;
}
