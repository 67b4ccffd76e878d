/** How much of a seed's area a drill line can see: rays against the whole mesh, apart from the planner's own search. */
import { BufferAttribute, BufferGeometry, DoubleSide, Ray, Vector3 } from "three";
import { MeshBVH } from "three-mesh-bvh";
import { seededRandom } from "../../core/random.ts";
import type { TriangleMesh } from "../../core/scan/mesh.ts";

const RADIANS = Math.PI / 180;
/** Within the handbook's cone about the normal and lean from square to an open face. */
const CONE_DEG = 30;
const LEAN_DEG = 25;

/** Lines that lean at most 25° from one of the axes. */
function linesAbout(axes: readonly (readonly number[])[]): Vector3[] {
	const lines: Vector3[] = [];
	for (const axis of axes) {
		const a = new Vector3(...axis);
		const u = new Vector3(axis[1], axis[2], axis[0]);
		const v = new Vector3().crossVectors(a, u);
		lines.push(a);
		for (const [lean, count] of [
			[6, 6],
			[12, 10],
			[18, 14],
			[LEAN_DEG - 0.5, 20],
		] as const) {
			for (let i = 0; i < count; i++) {
				const turn = ((i + (lean % 12) / 12) * 2 * Math.PI) / count;
				const side = Math.tan(lean * RADIANS);
				lines.push(
					a
						.clone()
						.addScaledVector(u, side * Math.cos(turn))
						.addScaledVector(v, side * Math.sin(turn))
						.normalize(),
				);
			}
		}
	}
	return lines;
}

/** Says of a vertex whether a straight line within the cone and the lean runs free from it. */
export function seenBy(mesh: TriangleMesh, axes: readonly (readonly number[])[]): (vertex: number) => boolean {
	const geometry = new BufferGeometry();
	geometry.setAttribute("position", new BufferAttribute(new Float32Array(mesh.positions), 3));
	geometry.setIndex(new BufferAttribute(mesh.triangles.slice(), 1));
	const tree = new MeshBVH(geometry);
	geometry.computeVertexNormals();
	const normals = geometry.getAttribute("normal").array;
	const lines = linesAbout(axes);
	const cone = Math.cos(CONE_DEG * RADIANS);
	const ray = new Ray();
	const normal = new Vector3();
	return (vertex) => {
		normal.fromArray(normals, 3 * vertex);
		ray.origin.fromArray(mesh.positions, 3 * vertex).addScaledVector(normal, 0.1);
		return lines.some((line) => {
			if (line.dot(normal) < cone) return false;
			ray.direction.copy(line);
			return tree.raycastFirst(ray, DoubleSide) === null;
		});
	};
}

/** Share of the area in undercuts, from `samples` places drawn by area. */
export function undercutShare(mesh: TriangleMesh, axes: readonly (readonly number[])[], samples: number): number {
	const seen = seenBy(mesh, axes);
	const p = mesh.positions;
	const total = new Float64Array(mesh.triangles.length / 3);
	let sum = 0;
	for (let t = 0; t < total.length; t++) {
		const [a, b, c] = [0, 1, 2].map((i) => new Vector3().fromArray(p, 3 * mesh.triangles[3 * t + i]));
		sum += b.sub(a).cross(c.sub(a)).length() / 2;
		total[t] = sum;
	}
	const random = seededRandom(1);
	let hidden = 0;
	for (let s = 0; s < samples; s++) {
		const at = random.next() * sum;
		let low = 0;
		let high = total.length - 1;
		while (low < high) {
			const mid = (low + high) >> 1;
			if (total[mid] < at) low = mid + 1;
			else high = mid;
		}
		if (!seen(mesh.triangles[3 * low + random.below(3)])) hidden++;
	}
	return hidden / samples;
}
