/** Datums and their seats in the stone. */

import { datumPlaces } from "../../datum/datumPlaces.ts";
import { type DatumSet, datumSetsFor } from "../../datum/datumSets.ts";
import { servedErrorMap } from "../../datum/reach.ts";
import type { DatumPlace } from "../../datum/seat.ts";
import { placementFromSeats } from "../../datum/seatsMeasured.ts";
import { createHoleGauge } from "../../drilling/holeGauge.ts";
import type { Lie } from "../../drilling/lies.ts";
import type { Job } from "../../job.ts";
import { Refusal } from "../../refusal.ts";
import { FIT_TOLERANCE, fitOf } from "../../stone/fitBlock.ts";
import { gapsIn } from "../../stone/fitStone.ts";
import type { ModelAnswer, StoneAnswer } from "../answers.ts";
import type { Commission, PlaceOnModel } from "../commission.ts";
import { choice, type Graph } from "../graph.ts";
import { armOf, spanOf } from "../transfer.ts";
import type { SurfaceParts } from "./surfaceStages.ts";

/** 1 for vertices on an open rim, and for the back of a shell, which the model on the bench need not have. */
function barredVertices({ mesh, firstAddedTriangle }: ModelAnswer, onRim: Uint8Array): Uint8Array {
	if (3 * firstAddedTriangle >= mesh.triangles.length) return onRim;
	const barred = onRim.slice();
	for (let i = 3 * firstAddedTriangle; i < mesh.triangles.length; i++) barred[mesh.triangles[i]] = 1;
	return barred;
}

export function* datumStage(
	graph: Graph,
	model: ModelAnswer,
	{ index, field, adjacency }: SurfaceParts,
	answer: StoneAnswer,
	lies: readonly Lie[],
	commission: Commission,
): Job<readonly DatumSet[]> {
	const { datumSets, stud_mm, seatError_mm } = commission;
	const { stone, fit, hull } = answer;
	const span = spanOf(commission);
	const arm = armOf(commission);
	const closedFaces = lies.map((lie) => lie.closedFace);
	return yield* graph.stage(
		"datums",
		[
			index,
			field,
			stone,
			fit,
			hull,
			choice([datumSets, stud_mm, String(span), String(arm), seatError_mm, closedFaces]),
		],
		() =>
			datumSetsFor({
				chosen: datumSets.map((set) => ({
					name: set.name,
					datums: set.datums.map(placeOf),
					link: set.link && { to: set.link.to, points: set.link.points.map(placeOf) },
					measured: set.measured_mm,
				})),
				mesh: index.mesh,
				field,
				barred: barredVertices(model, adjacency.onRim),
				corners: hull.vertices,
				stone,
				placement: fit.placement,
				gauge: createHoleGauge(index),
				index,
				closedFaces: new Set(closedFaces),
				stud: stud_mm,
				span,
				arm,
				seatError: seatError_mm,
			}),
	);
}

const placeOf = ({ position_mm, normal }: PlaceOnModel): DatumPlace => ({ position: position_mm, normal });

/** Flat ground of the figure, where a proof mark may stand. */
export const flatPlacesStage = (
	graph: Graph,
	model: ModelAnswer,
	{ index, field, adjacency }: SurfaceParts,
): Job<readonly DatumPlace[]> =>
	graph.stage("flat places", [model, index, field, adjacency], function* () {
		return datumPlaces(index.mesh, field, barredVertices(model, adjacency.onRim));
	});

/** The stone with the figure where its seats were measured; the same stone where none was. Refuses seats that push it out. */
export function* seatedStage(graph: Graph, stone: StoneAnswer, sets: readonly DatumSet[]): Job<StoneAnswer> {
	if (!sets.some((set) => set.measured)) return stone;
	return yield* graph.stage("seats as measured", [stone, sets], function* (): Job<StoneAnswer> {
		const placement = placementFromSeats(sets)?.placement ?? stone.fit.placement;
		const margins = stone.fit.gaps.map((gap) => gap.margin);
		const fit = fitOf(placement, gapsIn(stone.stone, stone.hull, placement, margins), stone.fit, FIT_TOLERANCE);
		const nearest = fit.gaps.reduce((a, b) => (b.gap < a.gap ? b : a));
		if (nearest.gap < 0) throw new Refusal("plan.seatsPushOut", { out: 0 - nearest.gap, face: nearest.face });
		// The margins were for the fit; where the figure lies now is a fact, and what it lacks of them is said.
		return { ...stone, fit: { ...fit, fits: true } };
	});
}

/** Root mean square error of a target at every vertex, by the set that serves it, mm. */
export const seatErrorStage = (
	graph: Graph,
	{ mesh }: ModelAnswer,
	{ field }: SurfaceParts,
	sets: readonly DatumSet[],
	commission: Commission,
): Job<Float32Array> =>
	graph.stage("seat error", [mesh, field, sets], function* () {
		return servedErrorMap(sets, commission.seatError_mm, armOf(commission), mesh.positions, field.normals);
	});
