/** Datums and their seats in the stone. */

import { type DatumSet, datumSetsFor } from "../../datum/datumSets.ts";
import { createHoleGauge } from "../../drilling/holeGauge.ts";
import type { Job } from "../../job.ts";
import type { ModelAnswer, StoneAnswer } from "../answers.ts";
import type { Commission } from "../commission.ts";
import { choice, type Graph } from "../graph.ts";
import { liesOf } from "./pointingStages.ts";
import type { SurfaceParts } from "./surfaceStages.ts";

export function* datumStage(
	graph: Graph,
	model: ModelAnswer,
	{ index, field, adjacency }: SurfaceParts,
	answer: StoneAnswer,
	commission: Commission,
): Job<readonly DatumSet[]> {
	const { datumSets, stud_mm, span_mm, seatError_mm } = commission;
	const { stone, fit, hull } = answer;
	const closedFaces = liesOf(model, answer, commission).map((lie) => lie.closedFace);
	return yield* graph.stage(
		"datums",
		[index, field, stone, fit, hull, choice([datumSets, stud_mm, span_mm, seatError_mm, closedFaces])],
		() =>
			datumSetsFor({
				chosen: datumSets.map((set) => ({
					name: set.name,
					datums: set.datums.map((d) => ({ position: d.position_mm, normal: d.normal })),
				})),
				mesh: index.mesh,
				field,
				onRim: adjacency.onRim,
				corners: hull.vertices,
				stone,
				placement: fit.placement,
				gauge: createHoleGauge(index),
				index,
				closedFaces: new Set(closedFaces),
				stud: stud_mm,
				span: span_mm,
				seatError: seatError_mm,
			}),
	);
}
