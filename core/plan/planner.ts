/**
 * From a scan and a commission to every answer, by stages. Written to be called again and again by the window: each stage
 * is worked out anew only when something that it depends on has changed.
 */

import { type Job, within } from "../job.ts";
import { modelFrame } from "../model/modelFrame.ts";
import { type Issue, Refusal } from "../refusal.ts";
import { hashScan } from "../scan/hashScan.ts";
import { examine, type ScanHealth } from "../scan/health.ts";
import type { TriangleMesh } from "../scan/mesh.ts";
import { readScan } from "../scan/readScan.ts";
import type { ScanSource } from "../scan/source.ts";
import { MM_PER_UNIT, proposeUnit } from "../scan/unit.ts";
import type { Vec3 } from "../vector.ts";
import type { Answers, ModelAnswer, OpenedScan } from "./answers.ts";
import type { Commission } from "./commission.ts";
import { choice, createGraph, type Graph } from "./graph.ts";

/** Reads a scan, takes its fingerprint and examines it. Throws Refusal for a file that cannot be used. */
export function* openScan(source: ScanSource, name: string): Job<OpenedScan> {
	const file = yield* within(readScan(source, name), 0, 0.6);
	const sha256 = yield* within(hashScan(source), 0.6, 0.75);
	const health = yield* within(examine(file.mesh), 0.75, 1);
	return { name, sha256, file, health, unit: proposeUnit(largestExtent(health)) };
}

const largestExtent = ({ bounds: { min, max } }: ScanHealth): number =>
	Math.max(max[0] - min[0], max[1] - min[1], max[2] - min[2]);

export interface Planner {
	/** Every answer that can be had. Refused choices stop what depends on them and are named in `waits`; nothing is thrown for them. */
	work(scan: OpenedScan, commission: Commission): Job<Answers>;
	/** Names of the stages that were worked out since the last call. */
	ran(): string[];
}

export function createPlanner(): Planner {
	const graph = createGraph();
	return { work: (scan, commission) => work(graph, scan, commission), ran: graph.ran };
}

function* work(graph: Graph, scan: OpenedScan, commission: Commission): Job<Answers> {
	const waits: { page: "model" | "stone" | "points"; issue: Issue }[] = [];
	/** Runs a part; a refusal in it is noted for its page and gives null. */
	function* part<T>(page: "model" | "stone" | "points", job: Job<T>): Job<T | null> {
		try {
			return yield* job;
		} catch (error) {
			if (!(error instanceof Refusal)) throw error;
			waits.push({ page, issue: error.issue });
			return null;
		}
	}
	const model = yield* part("model", modelStage(graph, scan, commission));
	void (model satisfies ModelAnswer | null);
	return { model, field: null, stone: null, seatError: null, rounds: [], plan: null, sizes: null, waits };
}

function* modelStage(graph: Graph, scan: OpenedScan, commission: Commission): Job<ModelAnswer> {
	const { unit: given, mirrored } = commission.scan;
	const { scale, stance } = commission.model;
	return yield* graph.stage("model", [scan, choice([given, mirrored, scale, stance])], function* () {
		const unit = given ?? scan.unit.unit;
		if (unit === null) throw new Refusal("unit.inDoubt", { name: scan.name, ...scan.unit.reason.facts });
		const mmPerUnit = MM_PER_UNIT[unit] * scale;
		const frame = modelFrame(scan.file.mesh, scan.file.origin, { mmPerUnit, mirrored, quaternion: stance });
		const { health } = scan;
		return {
			unit,
			unitReason: given ? { code: "unit.given", facts: { unit } } : scan.unit.reason,
			mesh: frame.mesh satisfies TriangleMesh,
			toModel: frame.toModel,
			size: [frame.max[0] - frame.min[0], frame.max[1] - frame.min[1], frame.max[2]] as Vec3,
			area: health.area * mmPerUnit * mmPerUnit,
			volume: health.volume === null ? null : health.volume * mmPerUnit * mmPerUnit * mmPerUnit,
			centroid: null,
			closed: health.closed,
		};
	});
}
