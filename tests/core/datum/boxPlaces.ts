/** A box on its foot as a mesh, with flat places spread over its five open sides. */

import type { DatumPlace } from "../../../core/datum/seat.ts";
import type { TriangleMesh } from "../../../core/scan/mesh.ts";
import type { Vec3 } from "../../../core/vector.ts";

export function boxWithPlaces([l, w, h]: Vec3): { mesh: TriangleMesh; places: DatumPlace[] } {
	const corners: Vec3[] = [];
	for (const z of [0, h]) for (const y of [-w / 2, w / 2]) for (const x of [-l / 2, l / 2]) corners.push([x, y, z]);
	const quads = [
		[0, 2, 3, 1],
		[4, 5, 7, 6],
		[0, 1, 5, 4],
		[2, 6, 7, 3],
		[0, 4, 6, 2],
		[1, 3, 7, 5],
	];
	const triangles = quads.flatMap(([a, b, c, d]) => [a, b, c, a, c, d]);
	const places: DatumPlace[] = [];
	for (let i = -2; i <= 2; i++)
		for (let k = 0; k < 6; k++) {
			const z = (h * (k + 1)) / 7;
			places.push({ position: [(l * i) / 5, -w / 2, z], normal: [0, -1, 0] });
			places.push({ position: [(l * i) / 5, w / 2, z], normal: [0, 1, 0] });
			places.push({ position: [-l / 2, (w * i) / 5, z], normal: [-1, 0, 0] });
			places.push({ position: [l / 2, (w * i) / 5, z], normal: [1, 0, 0] });
			places.push({ position: [(l * i) / 5, (w * (k - 2.5)) / 6, h], normal: [0, 0, 1] });
		}
	return { mesh: { positions: Float64Array.from(corners.flat()), triangles: Uint32Array.from(triangles) }, places };
}
