import type { TriangleMesh } from "../../core/scan/mesh.ts";
import type { Vec3 } from "../../core/vector.ts";

/** A mesh of a patch x(u, v), counter-clockwise seen against the growing third axis; n × m cells. */
export function patch(n: number, m: number, at: (u: number, v: number) => Vec3): TriangleMesh {
	const positions: number[] = [];
	const triangles: number[] = [];
	for (let j = 0; j <= m; j++) for (let i = 0; i <= n; i++) positions.push(...at(i / n, j / m));
	for (let j = 0; j < m; j++) {
		for (let i = 0; i < n; i++) {
			const a = j * (n + 1) + i;
			triangles.push(a, a + 1, a + n + 2, a, a + n + 2, a + n + 1);
		}
	}
	return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}

/** Several meshes as one. */
export function together(...meshes: readonly TriangleMesh[]): TriangleMesh {
	const triangles: number[] = [];
	let shift = 0;
	for (const mesh of meshes) {
		for (const v of mesh.triangles) triangles.push(v + shift);
		shift += mesh.positions.length / 3;
	}
	return {
		positions: Float64Array.from(meshes.flatMap((mesh) => Array.from(mesh.positions))),
		triangles: Uint32Array.from(triangles),
	};
}

/** A flat square of side 2 × half about a place, square to z. */
export const square = (middle: Vec3, half: number, cells = 4): TriangleMesh =>
	patch(cells, cells, (u, v) => [middle[0] + half * (2 * u - 1), middle[1] + half * (2 * v - 1), middle[2]]);

/** The same mesh, facing the other way. */
export const turned = (mesh: TriangleMesh): TriangleMesh => ({
	...mesh,
	triangles: mesh.triangles.map((_, i) => mesh.triangles[i % 3 === 1 ? i + 1 : i % 3 === 2 ? i - 1 : i]),
});

/** A closed box of twelve triangles facing outwards; corner i is high along x, y, z where its bits 1, 2, 4 are set. */
export function box(low: Vec3, high: Vec3): TriangleMesh {
	const positions = Float64Array.from({ length: 24 }, (_, i) => (((i / 3) >> (i % 3)) & 1 ? high : low)[i % 3]);
	const quads = [
		[0, 2, 3, 1],
		[4, 5, 7, 6],
		[0, 1, 5, 4],
		[2, 6, 7, 3],
		[0, 4, 6, 2],
		[1, 3, 7, 5],
	];
	return { positions, triangles: Uint32Array.from(quads.flatMap(([a, b, c, d]) => [a, b, c, a, c, d])) };
}
