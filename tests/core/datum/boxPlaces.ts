/** A box on its foot as a mesh, with flat places spread over its five open sides. */

import type { DatumPlace } from "../../../core/datum/seat.ts";
import type { TriangleMesh } from "../../../core/scan/mesh.ts";
import type { Vec3 } from "../../../core/vector.ts";
import { box } from "../../support/groundMesh.ts";

export function boxWithPlaces([l, w, h]: Vec3): { mesh: TriangleMesh; places: DatumPlace[] } {
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
	return { mesh: box([-l / 2, -w / 2, 0], [l / 2, w / 2, h]), places };
}
