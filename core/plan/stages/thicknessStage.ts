/** The figure's thickness at every place and its thin parts. Nothing of the plan depends on it; it is to be looked at. */

import { thicknessField } from "../../drilling/thicknessField.ts";
import { findThinParts } from "../../drilling/thinParts.ts";
import { type Job, within } from "../../job.ts";
import type { ModelAnswer, ThicknessAnswer } from "../answers.ts";
import type { Commission } from "../commission.ts";
import type { Graph } from "../graph.ts";
import { surfaceStages } from "./surfaceStages.ts";

export function* thicknessStage(graph: Graph, model: ModelAnswer, commission: Commission): Job<ThicknessAnswer> {
	const { adjacency, areas, field, index } = yield* within(surfaceStages(graph, model, commission), 0, 0.3);
	const smallestForm = commission.model.smallestForm_mm;
	return yield* graph.stage("thickness", [index, field], function* (): Job<ThicknessAnswer> {
		const thickness = yield* within(thicknessField(index, field.normals), 0.3, 0.9);
		const { positions } = model.mesh;
		const thin = yield* within(findThinParts({ positions, adjacency, thickness, areas, smallestForm }), 0.9, 1);
		const at = (v: number) => [positions[3 * v], positions[3 * v + 1], positions[3 * v + 2]] as const;
		const normal = (v: number) => [field.normals[3 * v], field.normals[3 * v + 1], field.normals[3 * v + 2]] as const;
		return {
			thickness,
			marks: thin.marks,
			parts: thin.parts.map((part) => ({ ...part, at: at(part.vertex), normal: normal(part.vertex) })),
		};
	});
}
