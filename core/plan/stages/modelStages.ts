/** From the opened scan to the model on its foot: unit, mending, stance, resting faces, the cast beside it. */

import { type Job, within } from "../../job.ts";
import { castCheck } from "../../model/castCheck.ts";
import { modelFrame } from "../../model/modelFrame.ts";
import { areaCentroid, restingFaces } from "../../model/restingFaces.ts";
import { Refusal } from "../../refusal.ts";
import { examine, type ScanHealth } from "../../scan/health.ts";
import { type MendChoices, type MendStep, mend } from "../../scan/mend.ts";
import type { TriangleMesh } from "../../scan/mesh.ts";
import { MM_PER_UNIT } from "../../scan/unit.ts";
import type { Hull } from "../../stone/hull.ts";
import type { CastAnswer, ModelAnswer, OpenedScan, RestingAnswer } from "../answers.ts";
import type { Commission } from "../commission.ts";
import { choice, type Graph } from "../graph.ts";

interface MendedScan {
	readonly mesh: TriangleMesh;
	readonly health: ScanHealth;
	readonly steps: readonly MendStep[];
}

export function* modelStage(graph: Graph, scan: OpenedScan, commission: Commission): Job<ModelAnswer> {
	const { unit: given, mirrored, mend: choices } = commission.scan;
	const { scale, stance } = commission.model;
	const unit = given ?? scan.unit.unit;
	if (unit === null) throw new Refusal("unit.inDoubt", { name: scan.name, ...scan.unit.reason.facts });
	const mmPerUnit = MM_PER_UNIT[unit] * scale;
	const mended = yield* graph.stage("mending", [scan, choice([choices, mmPerUnit])], function* (): Job<MendedScan> {
		const { mesh, steps } = yield* within(mend(scan.file.mesh, mendChoices(choices, mmPerUnit)), 0, 0.6);
		const health = mesh === scan.file.mesh ? scan.health : yield* within(examine(mesh), 0.6, 1);
		return { mesh, health, steps };
	});
	return yield* graph.stage("model", [mended, choice([unit, given, mirrored, scale, stance])], function* () {
		const { mesh, health, steps } = mended;
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
		};
	});
}

/** The carver's choices, whose lengths are mm of the stone figure, in the units of the scan. */
const mendChoices = (chosen: Commission["scan"]["mend"], mmPerUnit: number): MendChoices => ({
	weldWithin: chosen.weldWithin_mm / mmPerUnit,
	dropArealess: chosen.dropArealess,
	dropDoubled: chosen.dropDoubled,
	keepShells: chosen.keepLargestShell ? "largest" : "all",
	faceOutward: chosen.faceOutward,
	closeHolesUpTo: chosen.closeHolesUpTo_mm / mmPerUnit,
});

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
