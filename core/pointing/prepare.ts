/** What every round of a figure shares: the ground without its backing, its patches, and its forms at every scale. */

import { FIELD_WIDTH } from "../curvature/principalCurvatures.ts";
import { type Job, within } from "../job.ts";
import { Refusal } from "../refusal.ts";
import { buildAdjacency } from "../surface/adjacency.ts";
import { normalise } from "../surface/vertexNormals.ts";
import { type Coarse, gatherPatches, patchNormals } from "./coarse.ts";
import { type FormScale, formScales } from "./formScales.ts";
import type { Ground, Surface } from "./ground.ts";
import { mostSpacing } from "./spacing.ts";

export interface PreparedGround {
	readonly ground: Ground;
	readonly surface: Surface;
	readonly coarse: Coarse;
	/** Unit normals of the patches, 3 each. */
	readonly normals: Float64Array;
	readonly scales: readonly FormScale[];
	/** Brushed factor of each patch; null without a brush. */
	readonly brushed: Float32Array | null;
}

/** mm; size of the patches in which the ground is shared out: under a third of the least spacing. */
const PATCH = 3;

export function* prepareGround(ground: Ground): Job<PreparedGround> {
	const { areas, field, smallestForm, height } = ground;
	const surface = pointingSurface(ground);
	const coarse = gatherPatches(surface, areas, PATCH);
	yield { stage: "gathering the ground", share: 0.2 };
	const normals = patchNormals(coarse, areas, field.normals);
	normalise(normals);
	const scales = yield* within(
		formScales(coarse, PATCH, areas, field, FIELD_WIDTH * smallestForm, mostSpacing(height)),
		0.2,
		1,
	);
	return { ground, surface, coarse, normals, scales, brushed: brushedPatches(ground, surface, coarse) };
}

/**
 * The ground without the backing; a vertex carries points when a triangle of the scan with area touches it and it has a side
 * (on sheets that lie on each other, both ways round, the normals cancel).
 */
function pointingSurface(ground: Ground): Surface {
	const { mesh, areas, brushed } = ground;
	const { normals } = ground.field;
	const own = ground.firstAddedTriangle ?? mesh.triangles.length / 3;
	const whole = 3 * own >= mesh.triangles.length;
	const scan = whole ? mesh : { positions: mesh.positions, triangles: mesh.triangles.subarray(0, 3 * own) };
	const adjacency = whole ? ground.adjacency : buildAdjacency(scan);
	const carries = new Uint8Array(areas.length);
	let any = false;
	for (let v = 0; v < carries.length; v++) {
		if (adjacency.triangleStart[v + 1] === adjacency.triangleStart[v]) continue;
		if (!(areas[v] > 0) || (brushed && !(brushed[v] > 0))) continue;
		if (normals[3 * v] === 0 && normals[3 * v + 1] === 0 && normals[3 * v + 2] === 0) continue;
		carries[v] = 1;
		any = true;
	}
	if (!any) throw new Refusal("pointing.noGround", { triangles: own });
	return { mesh: scan, adjacency, carries };
}

/** Mean brushed factor of the ground of each patch that carries points. */
function brushedPatches(ground: Ground, surface: Surface, coarse: Coarse): Float32Array | null {
	const { brushed, areas } = ground;
	if (!brushed) return null;
	const factor = new Float32Array(coarse.areas.length).fill(1);
	for (let c = 0; c < factor.length; c++) {
		let sum = 0;
		let weight = 0;
		for (let i = coarse.memberStart[c]; i < coarse.memberStart[c + 1]; i++) {
			const v = coarse.memberList[i];
			if (!surface.carries[v]) continue;
			sum += areas[v] * brushed[v];
			weight += areas[v];
		}
		if (weight > 0) factor[c] = sum / weight;
	}
	return factor;
}
