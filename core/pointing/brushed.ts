/** The carver's brush on the scan, from places with a radius to a factor at every vertex. */

import type { CurvatureField } from "../curvature/principalCurvatures.ts";
import type { Job } from "../job.ts";
import type { TriangleMesh } from "../scan/mesh.ts";
import type { Adjacency } from "../surface/adjacency.ts";
import type { Pick } from "./ground.ts";
import { nearestVertices } from "./nearestVertices.ts";
import { Neighbourhood } from "./patch.ts";

/** One stroke of the brush; model frame, mm. */
export interface BrushedArea {
	/** On the spacing: 0 no points, under 1 closer, over 1 wider. */
	readonly factor: number;
	readonly dabs: readonly (Pick & { readonly radius: number })[];
}

/**
 * Factor on the spacing at every vertex, 1 where nothing was brushed; null without areas. A dab is the ground joined to its
 * place within its radius, so that the other side of a thin part stays as it is. Of areas that overlap the later one counts.
 * Refused when a dab lies off the figure.
 */
export function* brushedGround(
	mesh: TriangleMesh,
	adjacency: Adjacency,
	field: CurvatureField,
	smallestForm: number,
	brushed: readonly BrushedArea[],
): Job<Float32Array | null> {
	if (brushed.length === 0) return null;
	const vertices = field.k1.length;
	const carries = Uint8Array.from(
		{ length: vertices },
		(_, v) => +(adjacency.triangleStart[v + 1] > adjacency.triangleStart[v]),
	);
	const surface = { mesh, adjacency, carries };
	const around = new Neighbourhood(surface);
	const factors = new Float32Array(vertices).fill(1);
	for (const [a, { factor, dabs }] of brushed.entries()) {
		const at = nearestVertices({ mesh, field, smallestForm }, surface, dabs, "pointing.areaOffGround");
		for (const [i, v] of at.entries()) {
			around.gather(v, dabs[i].radius);
			for (let k = 0; k < around.count; k++) factors[around.found[k]] = factor;
		}
		yield { stage: "brushing the ground", share: (a + 1) / brushed.length };
	}
	return factors;
}
