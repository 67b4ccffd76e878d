/** Places of the figure that could carry a datum: spread evenly, where a stud finds its footing (handbook 9). */

import type { CurvatureField } from "../curvature/principalCurvatures.ts";
import { type TriangleMesh, vertexCount } from "../scan/mesh.ts";
import { BOSS_ACROSS } from "./bosses.ts";
import type { DatumPlace } from "./seat.ts";

/** Cells along the longest side: some two or three hundred places on a figure. */
const CELLS = 14;

/**
 * The flattest vertex of every cell of a grid over the model (frame of the mesh, mm), barred ones (1 for each vertex) and normals of length 0
 * left out; in the order of the cells. Ground bent so sharply that a stud finds no footing, 2 ÷ `BOSS_ACROSS`, is left out.
 */
export function datumPlaces(mesh: TriangleMesh, field: CurvatureField, barred: Uint8Array): DatumPlace[] {
	const { positions } = mesh;
	const low = [Infinity, Infinity, Infinity];
	const high = [-Infinity, -Infinity, -Infinity];
	for (let i = 0; i < positions.length; i++) {
		const k = i % 3;
		if (positions[i] < low[k]) low[k] = positions[i];
		if (positions[i] > high[k]) high[k] = positions[i];
	}
	const cell = Math.max(high[0] - low[0], high[1] - low[1], high[2] - low[2]) / CELLS;
	if (!(cell > 0)) return [];
	const bent = (v: number): number => Math.max(Math.abs(field.k1[v]), Math.abs(field.k2[v]));
	const flattest = new Map<number, number>();
	for (let v = 0; v < vertexCount(mesh); v++) {
		if (barred[v] || bent(v) * BOSS_ACROSS > 2) continue;
		const n = 3 * v;
		if (field.normals[n] === 0 && field.normals[n + 1] === 0 && field.normals[n + 2] === 0) continue;
		let key = 0;
		for (let k = 0; k < 3; k++)
			key = key * (CELLS + 1) + Math.min(CELLS, Math.floor((positions[n + k] - low[k]) / cell));
		const other = flattest.get(key);
		if (other === undefined || bent(v) < bent(other)) flattest.set(key, v);
	}
	return [...flattest.entries()]
		.sort((a, b) => a[0] - b[0])
		.map(([, v]) => ({
			position: [positions[3 * v], positions[3 * v + 1], positions[3 * v + 2]],
			normal: [field.normals[3 * v], field.normals[3 * v + 1], field.normals[3 * v + 2]],
		}));
}
