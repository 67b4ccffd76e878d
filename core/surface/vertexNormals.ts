/** Normals and areas at the vertices of a mesh. */

import { areaBetween } from "../scan/measures.ts";
import { type TriangleMesh, triangleCount, vertexCount } from "../scan/mesh.ts";

/**
 * Unit normal of every vertex, outward, 3 a vertex; (0, 0, 0) where no triangle with area touches it.
 *
 * Weights: N. Max, "Weights for computing vertex normals from facet normals" (1999): each triangle's cross product of the
 * two edges at the vertex, divided by the product of their squared lengths. Exact for vertices on a sphere, and free of
 * angles, so the same to the bit everywhere.
 */
export function vertexNormals(mesh: TriangleMesh): Float64Array {
	const { positions: p, triangles: corner } = mesh;
	const normals = new Float64Array(p.length);
	const triangles = triangleCount(mesh);
	for (let t = 0; t < triangles; t++) {
		const a = 3 * corner[3 * t];
		const b = 3 * corner[3 * t + 1];
		const c = 3 * corner[3 * t + 2];
		const abx = p[b] - p[a];
		const aby = p[b + 1] - p[a + 1];
		const abz = p[b + 2] - p[a + 2];
		const acx = p[c] - p[a];
		const acy = p[c + 1] - p[a + 1];
		const acz = p[c + 2] - p[a + 2];
		const nx = aby * acz - abz * acy;
		const ny = abz * acx - abx * acz;
		const nz = abx * acy - aby * acx;
		const ab = abx * abx + aby * aby + abz * abz;
		const ac = acx * acx + acy * acy + acz * acz;
		const bcx = p[c] - p[b];
		const bcy = p[c + 1] - p[b + 1];
		const bcz = p[c + 2] - p[b + 2];
		const bc = bcx * bcx + bcy * bcy + bcz * bcz;
		if (!(ab > 0 && ac > 0 && bc > 0)) continue;
		const wa = 1 / (ab * ac);
		const wb = 1 / (ab * bc);
		const wc = 1 / (ac * bc);
		normals[a] += wa * nx;
		normals[a + 1] += wa * ny;
		normals[a + 2] += wa * nz;
		normals[b] += wb * nx;
		normals[b + 1] += wb * ny;
		normals[b + 2] += wb * nz;
		normals[c] += wc * nx;
		normals[c + 1] += wc * ny;
		normals[c + 2] += wc * nz;
	}
	normalise(normals);
	return normals;
}

/** Brings every triple of `vectors` to length 1, in place; (0, 0, 0) stays. */
export function normalise(vectors: Float64Array): void {
	for (let i = 0; i < vectors.length; i += 3) {
		const x = vectors[i];
		const y = vectors[i + 1];
		const z = vectors[i + 2];
		const length = Math.sqrt(x * x + y * y + z * z);
		if (length > 0) {
			vectors[i] = x / length;
			vectors[i + 1] = y / length;
			vectors[i + 2] = z / length;
		}
	}
}

/** Area that belongs to every vertex, mm²: a third of the triangles around it, so that the sum is the area of the mesh. */
export function vertexAreas(mesh: TriangleMesh): Float64Array {
	const { positions: p, triangles: corner } = mesh;
	const areas = new Float64Array(vertexCount(mesh));
	const triangles = triangleCount(mesh);
	for (let t = 0; t < triangles; t++) {
		const va = corner[3 * t];
		const vb = corner[3 * t + 1];
		const vc = corner[3 * t + 2];
		const third = areaBetween(p, va, vb, vc) / 3;
		areas[va] += third;
		areas[vb] += third;
		areas[vc] += third;
	}
	return areas;
}
