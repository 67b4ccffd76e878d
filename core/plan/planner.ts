/**
 * From a scan and a commission to every answer, by stages. Written to be called again and again by the window: each stage
 * is worked out anew only when something that it depends on has changed.
 */

import type { DatumSet } from "../datum/datumSets.ts";
import { type Job, within } from "../job.ts";
import type { PointedGround } from "../pointing/rounds.ts";
import { type Issue, Refusal } from "../refusal.ts";
import { hashScan } from "../scan/hashScan.ts";
import { examine, type ScanHealth } from "../scan/health.ts";
import { readScan } from "../scan/readScan.ts";
import type { ScanSource } from "../scan/source.ts";
import { proposeUnit } from "../scan/unit.ts";
import { convexHull } from "../stone/hull.ts";
import type { Answers, ModelAnswer, OpenedScan, ThicknessAnswer } from "./answers.ts";
import { assemblePlan } from "./assemblePlan.ts";
import { type Commission, newCommission } from "./commission.ts";
import { choice, createGraph, type Graph } from "./graph.ts";
import { withFinish } from "./parts/planFinish.ts";
import type { Plan } from "./planFile.ts";
import { asCut, cutsStage } from "./stages/cutStages.ts";
import { datumStage, flatPlacesStage, seatErrorStage, seatedStage } from "./stages/datumStages.ts";
import { finishStages } from "./stages/finishStages.ts";
import { natureStage } from "./stages/flawStages.ts";
import { lieStage } from "./stages/lieStage.ts";
import { castStage, modelStage, restingStage } from "./stages/modelStages.ts";
import { drillingStages, lineSearchStage, roundsStage } from "./stages/pointingStages.ts";
import { lacksOf, sizesStage, stoneStages } from "./stages/stoneStages.ts";
import { stoneIndexStage, surfaceStages } from "./stages/surfaceStages.ts";
import { thicknessStage } from "./stages/thicknessStage.ts";
import { checkCarriedOver } from "./transfer.ts";

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
	/**
	 * Every answer that can be had. A refused choice stops only what depends on it and is named in `waits`; nothing is thrown
	 * for it. `stoneScan` is the scan of the stone, where the commission names one.
	 */
	work(scan: OpenedScan, commission: Commission, stoneScan?: OpenedScan | null): Job<Answers>;
	/** The model alone, mended and stood up: the first of those answers. Throws Refusal. */
	stand(scan: OpenedScan, commission: Commission): Job<ModelAnswer>;
	/** How thick the model is everywhere; only to be looked at. Throws Refusal. */
	thickness(scan: OpenedScan, commission: Commission): Job<ThicknessAnswer>;
	/** Names of the stages that were worked out since the last call. */
	ran(): string[];
}

export function createPlanner(): Planner {
	const graph = createGraph();
	return {
		work: (scan, commission, stoneScan = null) => work(graph, scan, commission, stoneScan),
		stand: (scan, commission) => modelStage(graph, scan, commission),
		*thickness(scan, commission) {
			const model = yield* modelStage(graph, scan, commission);
			return yield* thicknessStage(graph, model, commission);
		},
		ran: graph.ran,
	};
}

/** What is done at the bench and after the last point moves no point, and so changes neither the map nor its code. */
function forThePoints(commission: Commission): Commission {
	const { finish, fixing, quote, workday } = NO_WISHES;
	return { ...commission, log: [], finish, fixing, quote, workday };
}
const NO_WISHES = newCommission("-");

type Page = "model" | "stone" | "points";

function* work(graph: Graph, scan: OpenedScan, whole: Commission, stoneScan: OpenedScan | null): Job<Answers> {
	const commission = forThePoints(whole);
	const waits: { page: Page; issue: Issue }[] = [];
	/** Runs a part of the work; a refusal in it is noted for its page and the part has no answer. */
	function* part<T>(page: Page, job: Job<T>): Job<T | null> {
		try {
			return yield* job;
		} catch (error) {
			if (!(error instanceof Refusal)) throw error;
			waits.push({ page, issue: error.issue });
			return null;
		}
	}

	const model = yield* part("model", modelStage(graph, scan, commission));
	if (model === null) return { ...NOTHING, waits };
	const cast = yield* castStage(graph, commission);
	const surface = yield* part("model", surfaceStages(graph, model, commission));
	const hull = yield* part(
		"stone",
		graph.stage("hull", [model.mesh], () => convexHull(model.mesh.positions)),
	);
	const resting = hull && (yield* restingStage(graph, model, hull));
	const planned = hull && (yield* part("stone", stoneStages(graph, model, hull, commission, stoneScan)));
	let stone = planned;
	const carried = carriedOver(commission, waits);
	let datumSets: readonly DatumSet[] | null = null;
	let ground: PointedGround | null = null;
	let plan: Answers["plan"] = null;
	let cuts: Answers["cuts"] = null;
	if (surface !== null && stone !== null) {
		if (stone.fit.fits) {
			const chosen = yield* part("points", lieStage(graph, model, surface, stone, commission));
			const lies = chosen?.lies ?? [];
			datumSets = chosen && (yield* part("points", datumStage(graph, model, surface, stone, lies, commission)));
			const seated = datumSets ? yield* part("points", seatedStage(graph, stone, datumSets)) : stone;
			stone = seated ?? stone;
			const nature = yield* natureStage(graph, model, surface.index, stone, commission);
			cuts = yield* cutsStage(graph, surface, stone, lies, datumSets, commission);
			const lines =
				chosen &&
				seated &&
				(yield* part("points", lineSearchStage(graph, model, surface, asCut(stone, cuts), lies, commission)));
			const placed = lines && (yield* part("points", roundsStage(graph, model, surface, lines, commission)));
			const drilled =
				lines &&
				placed &&
				datumSets &&
				(yield* part("points", drillingStages(graph, model, surface, lines, placed, stone, datumSets, commission)));
			ground = drilled?.ground ?? null;
			const flatPlaces = yield* flatPlacesStage(graph, model, surface);
			if (carried && chosen && datumSets && lines && drilled) {
				const ground = { index: surface.index, stoneIndex: yield* stoneIndexStage(graph, stone), flatPlaces };
				const parts = { scan, commission, model, stone, nature, datumSets, cuts, lies: chosen, ...ground, ...drilled };
				plan = yield* part(
					"points",
					graph.stage(
						"plan",
						[scan, model, stone, nature, datumSets, cuts, chosen, lines, drilled, choice(commission)],
						() => assemblePlan(parts),
					),
				);
			}
		} else {
			const facts = { lacks: lacksOf(stone.fit), turning: commission.stone.turning };
			waits.push({ page: "points", issue: { code: "plan.doesNotFit", facts } });
		}
	}
	const seatError = datumSets && surface && (yield* seatErrorStage(graph, model, surface, datumSets, commission));
	const finish = surface && stone && (yield* finishStages(graph, model, surface, stone, plan, whole));
	if (plan && finish)
		plan = yield* graph.stage("finished plan", [plan, finish], function* () {
			return withFinish(plan as Plan, finish);
		});
	const nature = stone && (yield* part("stone", natureStage(graph, model, surface?.index ?? null, stone, commission)));
	const sizes = planned && (yield* part("stone", sizesStage(graph, planned, commission)));
	return {
		model,
		resting,
		cast,
		field: surface?.field ?? null,
		index: surface?.index ?? null,
		stone,
		cuts,
		datumSets: datumSets ?? [],
		seatError,
		rounds: ground?.rounds ?? [],
		plan,
		sizes,
		finish,
		nature,
		waits,
	};
}

/** Whether the transfer chosen can carry the copy; if not, both pages that need it say so. */
function carriedOver(commission: Commission, waits: { page: Page; issue: Issue }[]): boolean {
	try {
		checkCarriedOver(commission);
		return true;
	} catch (error) {
		if (!(error instanceof Refusal)) throw error;
		for (const page of ["model", "points"] as const) waits.push({ page, issue: error.issue });
		return false;
	}
}

const NOTHING: Omit<Answers, "waits"> = {
	model: null,
	resting: null,
	cast: null,
	field: null,
	index: null,
	stone: null,
	cuts: null,
	datumSets: [],
	seatError: null,
	rounds: [],
	plan: null,
	sizes: null,
	finish: null,
	nature: null,
};
