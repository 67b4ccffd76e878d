/** A lumpy egg, 320 mm high, with a brow, a waist and two flanks: a figure that is planned in a second or two. */

import type { TriangleMesh } from "../../core/scan/mesh.ts";
import { sphere } from "../support/shapes.ts";

/** `edge`: mean length of an edge on the unit figure, mm; 6 gives some 10,000 triangles. */
export function eggMesh(edge: number): TriangleMesh {
	const { mesh } = sphere(120, { edge });
	const positions = mesh.positions.slice();
	for (let i = 0; i < positions.length; i += 3) {
		const [x, y, z] = [0, 1, 2].map((k) => positions[i + k] / 120);
		const waist = 1 - 0.1 * Math.cos(5 * z);
		const flanks = 1 + 0.08 * Math.sin(7 * x + 2 * z) * Math.sin(6 * z);
		const brow = y < 0 ? 1 + 0.1 * Math.exp(-40 * (z - 0.55) * (z - 0.55)) * y * y : 1;
		const swell = 120 * waist * flanks * brow;
		positions[i] = 0.85 * swell * x;
		positions[i + 1] = 0.75 * swell * y;
		positions[i + 2] = 1.4 * swell * z;
	}
	return { positions, triangles: mesh.triangles };
}
