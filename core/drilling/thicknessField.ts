/** The thickness of the figure at every place (handbook 4), for the map on the banker and for finding its thin parts. */

import type { Job } from "../job.ts";
import type { SurfaceIndex } from "../surface/surfaceIndex.ts";
import { thicknessAt } from "./thickness.ts";

/** Rays between two yields: some milliseconds. */
const SLICE = 512;

/**
 * mm of stone behind every vertex of the indexed mesh, as `thicknessAt` measures it against the vertex's normal (unit,
 * outward, 3 a vertex); NaN where it does not end, and where the normal is of length 0.
 */
export function* thicknessField(index: SurfaceIndex, normals: Float64Array): Job<Float32Array> {
	const { positions } = index.mesh;
	const thickness = new Float32Array(positions.length / 3).fill(Number.NaN);
	for (let from = 0; from < thickness.length; from += SLICE) {
		for (let v = from; v < Math.min(from + SLICE, thickness.length); v++) {
			const at = 3 * v;
			if (normals[at] === 0 && normals[at + 1] === 0 && normals[at + 2] === 0) continue;
			const behind = thicknessAt(index, {
				position: [positions[at], positions[at + 1], positions[at + 2]],
				normal: [normals[at], normals[at + 1], normals[at + 2]],
			});
			if (behind !== null) thickness[v] = behind;
		}
		yield { stage: "measuring the thickness", share: from / thickness.length };
	}
	return thickness;
}
