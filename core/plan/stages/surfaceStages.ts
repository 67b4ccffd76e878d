/** The model's surface: neighbours, areas, index and curvature at the smallest form. */

import { type CurvatureField, principalCurvatures } from "../../curvature/principalCurvatures.ts";
import type { Job } from "../../job.ts";
import { buildAdjacency } from "../../surface/adjacency.ts";
import { buildSurfaceIndex, type SurfaceIndex } from "../../surface/surfaceIndex.ts";
import { vertexAreas } from "../../surface/vertexNormals.ts";
import type { ModelAnswer, StoneAnswer } from "../answers.ts";
import type { Commission } from "../commission.ts";
import type { Graph } from "../graph.ts";

export interface SurfaceParts {
	readonly adjacency: ReturnType<typeof buildAdjacency>;
	readonly areas: Float64Array;
	readonly field: CurvatureField;
	readonly index: SurfaceIndex;
}

export function* surfaceStages(graph: Graph, model: ModelAnswer, commission: Commission): Job<SurfaceParts> {
	const { mesh } = model;
	const joints = yield* graph.stage("neighbours", [mesh], function* () {
		yield { stage: "joining the surface", share: 0 };
		return { adjacency: buildAdjacency(mesh), areas: vertexAreas(mesh) };
	});
	const index = yield* graph.stage("index", [mesh], () => buildSurfaceIndex(mesh));
	const smallestForm = commission.model.smallestForm_mm;
	const field = yield* graph.stage("curvature", [mesh, joints, smallestForm], () =>
		principalCurvatures(mesh, joints.adjacency, smallestForm),
	);
	return yield* graph.stage("surface", [joints, index, field], function* () {
		return { ...joints, index, field };
	});
}

/** The index of a stone that was scanned itself; null for one bounded by planes. */
export function* stoneIndexStage(graph: Graph, { scanned }: StoneAnswer): Job<SurfaceIndex | null> {
	if (!scanned) return null;
	return yield* graph.stage("index of the stone", [scanned], () => buildSurfaceIndex(scanned.mesh));
}
