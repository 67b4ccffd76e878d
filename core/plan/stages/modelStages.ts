/** From the opened scan to the model on its foot: unit, stance, resting faces, the cast beside it. */

import type { Job } from "../../job.ts";
import { castCheck } from "../../model/castCheck.ts";
import { type ModelFrame, modelFrame } from "../../model/modelFrame.ts";
import { areaCentroid, restingFaces } from "../../model/restingFaces.ts";
import { Refusal } from "../../refusal.ts";
import type { ShellList } from "../../scan/shellList.ts";
import { MM_PER_UNIT } from "../../scan/unit.ts";
import type { Hull } from "../../stone/hull.ts";
import type { Vec3 } from "../../vector.ts";
import type { CastAnswer, ModelAnswer, OpenedScan, RestingAnswer } from "../answers.ts";
import type { Commission } from "../commission.ts";
import { choice, type Graph } from "../graph.ts";
import { mendStages } from "./mendStages.ts";

export function* modelStage(graph: Graph, scan: OpenedScan, commission: Commission): Job<ModelAnswer> {
	const { unit: given, mirrored } = commission.scan;
	const { scale, stance } = commission.model;
	const unit = given ?? scan.unit.unit;
	if (unit === null) throw new Refusal("unit.inDoubt", { name: scan.name, ...scan.unit.reason.facts });
	const mmPerUnit = MM_PER_UNIT[unit] * scale;
	const mended = yield* mendStages(graph, scan, commission, mmPerUnit);
	return yield* graph.stage("model", [mended, choice([unit, given, mirrored, scale, stance])], function* () {
		const { mesh, health, steps, shells, firstAddedTriangle } = mended;
		// A figure whose faces all look inwards is turned outwards: every normal, and with it every hole, depends on it.
		const inward = health.volume !== null && health.volume < 0;
		const frame = modelFrame(mesh, scan.file.origin, { mmPerUnit, mirrored, inward, quaternion: stance });
		return {
			unit,
			unitReason: given ? { code: "unit.given", facts: { unit } } : scan.unit.reason,
			mended: steps,
			mesh: frame.mesh,
			toModel: frame.toModel,
			size: [frame.max[0] - frame.min[0], frame.max[1] - frame.min[1], frame.max[2]] as const,
			area: health.area * mmPerUnit * mmPerUnit,
			volume: health.volume === null ? null : Math.abs(health.volume) * mmPerUnit * mmPerUnit * mmPerUnit,
			centroid: health.centroid && frame.fromScan(health.centroid),
			closed: health.closed,
			turnedOver: inward,
			health,
			shells: standingShells(shells, frame, mmPerUnit),
			firstAddedTriangle,
		};
	});
}

/** The shells in the model frame; a box that was turned is given the box around it. */
function standingShells({ count, shells }: ShellList, frame: ModelFrame, mmPerUnit: number): ShellList {
	return {
		count,
		shells: shells.map(({ number, triangles, area, min, max }) => {
			const corners = Array.from({ length: 8 }, (_, i) =>
				frame.fromScan([i & 1 ? max[0] : min[0], i & 2 ? max[1] : min[1], i & 4 ? max[2] : min[2]]),
			);
			const bound = (of: (...values: number[]) => number): Vec3 => [
				of(...corners.map((c) => c[0])),
				of(...corners.map((c) => c[1])),
				of(...corners.map((c) => c[2])),
			];
			return { number, triangles, area: area * mmPerUnit * mmPerUnit, min: bound(Math.min), max: bound(Math.max) };
		}),
	};
}

export function castStage(graph: Graph, commission: Commission): Job<CastAnswer | null> {
	const { castPairs, benchScale } = commission.model;
	return graph.stage("cast check", [choice([castPairs, benchScale])], function* (): Job<CastAnswer | null> {
		if (castPairs.length === 0) return null;
		try {
			return { check: castCheck(castPairs, benchScale), issue: null };
		} catch (error) {
			if (error instanceof Refusal) return { check: null, issue: error.issue };
			throw error;
		}
	});
}

export function restingStage(graph: Graph, model: ModelAnswer, hull: Hull): Job<RestingAnswer> {
	return graph.stage("resting faces", [model, hull], function* (): Job<RestingAnswer> {
		const centre = model.centroid ?? (yield* areaCentroid(model.mesh));
		return { faces: restingFaces(hull, centre), weighed: model.centroid ? "volume" : "area" };
	});
}
