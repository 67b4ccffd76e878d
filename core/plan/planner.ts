/**
 * From a scan and a commission to every answer, by stages. Written to be called again and again by the window: each stage
 * is worked out anew only when something that it depends on has changed.
 */

import { type CurvatureField, principalCurvatures } from "../curvature/principalCurvatures.ts";
import { type DatumSet, datumSetsFor } from "../datum/datumSets.ts";
import { seatErrorMap } from "../datum/seatError.ts";
import { aimOf, drillOf, stopAllowances } from "../drilling/drill.ts";
import { createHoleGauge } from "../drilling/holeGauge.ts";
import { type Lie, proposeLies } from "../drilling/lies.ts";
import { createLineSearch, type LineSearch } from "../drilling/lineSearch.ts";
import { type Job, within } from "../job.ts";
import { castCheck } from "../model/castCheck.ts";
import { modelFrame } from "../model/modelFrame.ts";
import { areaCentroid, restingFaces } from "../model/restingFaces.ts";
import { type PointedGround, placeRounds } from "../pointing/rounds.ts";
import { type Issue, Refusal } from "../refusal.ts";
import { hashScan } from "../scan/hashScan.ts";
import { examine, type ScanHealth } from "../scan/health.ts";
import { type MendChoices, type MendStep, mend } from "../scan/mend.ts";
import type { TriangleMesh } from "../scan/mesh.ts";
import { readScan } from "../scan/readScan.ts";
import type { ScanSource } from "../scan/source.ts";
import { MM_PER_UNIT, proposeUnit } from "../scan/unit.ts";
import { stoneOf } from "../stone/block.ts";
import { FACES_ALONG, fitBlock, type Margins, type StoneFit } from "../stone/fitBlock.ts";
import { convexHull, type Hull } from "../stone/hull.ts";
import { dryMass, weighingOf, wetMass } from "../stone/mass.ts";
import { largestScale, smallestBlock } from "../stone/sizes.ts";
import type { Turning } from "../stone/turning.ts";
import { buildAdjacency } from "../surface/adjacency.ts";
import { buildSurfaceIndex, type SurfaceIndex } from "../surface/surfaceIndex.ts";
import { vertexAreas } from "../surface/vertexNormals.ts";
import { IDENTITY, type Vec3 } from "../vector.ts";
import type {
	Answers,
	CastAnswer,
	ModelAnswer,
	OpenedScan,
	RestingAnswer,
	SizesAnswer,
	StoneAnswer,
} from "./answers.ts";
import { assemblePlan } from "./assemblePlan.ts";
import type { Commission } from "./commission.ts";
import { choice, createGraph, type Graph } from "./graph.ts";
import { transferOf } from "./transfer.ts";

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
	 * for it.
	 */
	work(scan: OpenedScan, commission: Commission): Job<Answers>;
	/** The model alone, mended and stood up: the first of those answers. Throws Refusal. */
	stand(scan: OpenedScan, commission: Commission): Job<ModelAnswer>;
	/** Names of the stages that were worked out since the last call. */
	ran(): string[];
}

export function createPlanner(): Planner {
	const graph = createGraph();
	return {
		work: (scan, commission) => work(graph, scan, commission),
		stand: (scan, commission) => modelStage(graph, scan, commission),
		ran: graph.ran,
	};
}

type Page = "model" | "stone" | "points";

/** Margin that is left on every side of a block that was not given, mm. */
const ASSUMED_MARGIN = 25;

function* work(graph: Graph, scan: OpenedScan, commission: Commission): Job<Answers> {
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
	const stone = hull && (yield* part("stone", stoneStages(graph, model, hull, commission)));
	let datumSets: readonly DatumSet[] | null = null;
	let ground: PointedGround | null = null;
	let plan: Answers["plan"] = null;
	if (surface !== null && stone !== null) {
		if (stone.fit.fits) {
			datumSets = yield* part("points", datumStage(graph, model, surface, stone, commission));
			const lines = yield* part("points", lineSearchStage(graph, model, surface, stone, commission));
			ground = lines && (yield* part("points", roundsStage(graph, model, surface, lines, commission)));
			if (datumSets && lines && ground) {
				const parts = { scan, commission, model, stone, datumSets, search: lines.search, lies: lines.lies, ground };
				plan = yield* part(
					"points",
					graph.stage("plan", [scan, model, stone, datumSets, lines, ground, choice(commission)], () =>
						assemblePlan({ ...parts, index: surface.index }),
					),
				);
			}
		} else {
			const facts = { lacks: lacksOf(stone.fit), turning: commission.stone.turning };
			waits.push({ page: "points", issue: { code: "plan.doesNotFit", facts } });
		}
	}
	const seatError = datumSets
		? yield* graph.stage("seat error", [model, datumSets, commission.seatError_mm], function* () {
				return seatErrorMap(datumSets[0].form, commission.seatError_mm, model.mesh.positions);
			})
		: null;
	const sizes = stone && (yield* part("stone", sizesStage(graph, stone, commission)));
	return {
		model,
		resting,
		cast,
		field: surface?.field ?? null,
		stone,
		datumSets: datumSets ?? [],
		seatError,
		rounds: ground?.rounds ?? [],
		plan,
		sizes,
		waits,
	};
}

/** By how much the block falls short along x, y and z in the best placement, mm; 0 where it does not. */
const lacksOf = ({ gaps }: StoneFit): number[] =>
	FACES_ALONG.map((pair) => {
		const spare = gaps
			.filter((g) => pair.some((face) => face === g.face))
			.reduce((sum, g) => sum + g.gap - g.margin, 0);
		return Math.max(0, -spare);
	});

const NOTHING: Omit<Answers, "waits"> = {
	model: null,
	resting: null,
	cast: null,
	field: null,
	stone: null,
	datumSets: [],
	seatError: null,
	rounds: [],
	plan: null,
	sizes: null,
};

interface MendedScan {
	readonly mesh: TriangleMesh;
	readonly health: ScanHealth;
	readonly steps: readonly MendStep[];
}

function* modelStage(graph: Graph, scan: OpenedScan, commission: Commission): Job<ModelAnswer> {
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

interface SurfaceParts {
	readonly adjacency: ReturnType<typeof buildAdjacency>;
	readonly areas: Float64Array;
	readonly field: CurvatureField;
	readonly index: SurfaceIndex;
}

function* surfaceStages(graph: Graph, model: ModelAnswer, commission: Commission): Job<SurfaceParts> {
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

function castStage(graph: Graph, commission: Commission): Job<CastAnswer | null> {
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

function restingStage(graph: Graph, model: ModelAnswer, hull: Hull): Job<RestingAnswer> {
	return graph.stage("resting faces", [model, hull], function* (): Job<RestingAnswer> {
		const centre = model.centroid ?? (yield* areaCentroid(model.mesh));
		return { faces: restingFaces(hull, centre), weighed: model.centroid ? "volume" : "area" };
	});
}

function* stoneStages(graph: Graph, model: ModelAnswer, hull: Hull, commission: Commission): Job<StoneAnswer> {
	const { kind, density_kgm3, block_mm, margins_mm, turning } = commission.stone;
	const weighing = weighingOf(kind, density_kgm3);
	let margins: Margins = margins_mm;
	let sides: Vec3;
	if (block_mm) sides = block_mm;
	else {
		margins = assumedMargins(margins_mm);
		const smallest = yield* graph.stage("assumed block", [hull, choice([margins, turning])], () =>
			smallestBlock(hull, { turning: turningOf(turning === "free" ? "upright" : turning), margins }),
		);
		sides = smallest.sawn;
	}
	const fit = yield* graph.stage("fit", [hull, choice([sides, margins, turning])], () =>
		fitBlock(hull, sides, { turning: turningOf(turning), margins }),
	);
	return yield* graph.stage("stone", [model, hull, fit, choice([weighing, sides, turning])], function* () {
		const stone = stoneOf({ kind: "box", size: sides });
		return {
			stone,
			block: sides,
			assumed: block_mm === null,
			hull,
			fit,
			turning,
			density: weighing.density,
			stoneMass: dryMass(stone.volume, weighing),
			stoneMassWet: wetMass(stone.volume, weighing),
			figureMass: model.volume === null ? null : dryMass(model.volume, weighing),
			wasteShare: model.volume === null ? null : 1 - model.volume / stone.volume,
		};
	});
}

const turningOf = (turning: Commission["stone"]["turning"]): Turning =>
	turning === "as stood" ? { kind: "fixed", rotation: IDENTITY } : { kind: turning };

/** Margins for a block that was not given: the carver's own, at least the usual ones. */
function assumedMargins(own: Margins): Margins {
	const at = (face: keyof Margins): number => Math.max(own[face], ASSUMED_MARGIN);
	return { bed: at("bed"), top: at("top"), front: at("front"), back: at("back"), left: at("left"), right: at("right") };
}

function* sizesStage(graph: Graph, { hull, block, assumed }: StoneAnswer, commission: Commission): Job<SizesAnswer> {
	const { margins_mm, turning } = commission.stone;
	const margins = assumed ? assumedMargins(margins_mm) : margins_mm;
	const options = { turning: turningOf(turning), margins };
	const smallest = yield* graph.stage("smallest block", [hull, choice(options)], () => smallestBlock(hull, options));
	const largest = yield* graph.stage("largest size", [hull, choice([block, options])], function* () {
		try {
			return yield* largestScale(hull, block, options);
		} catch (error) {
			if (error instanceof Refusal && error.issue.code === "stone.marginsUseUp") return null;
			throw error;
		}
	});
	return yield* graph.stage("sizes", [smallest, largest], function* () {
		return { smallest, largest };
	});
}

/** The carver's lies, or the proposed ones. */
const liesOf = (model: ModelAnswer, commission: Commission): readonly Lie[] =>
	commission.lies.length > 0 ? commission.lies : proposeLies(model.closed);

function* datumStage(
	graph: Graph,
	model: ModelAnswer,
	{ index, field, adjacency }: SurfaceParts,
	{ stone, fit, hull }: StoneAnswer,
	commission: Commission,
): Job<readonly DatumSet[]> {
	const { datumSets, stud_mm, span_mm, seatError_mm } = commission;
	const closedFaces = liesOf(model, commission).map((lie) => lie.closedFace);
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

interface LineParts {
	readonly search: LineSearch;
	readonly lies: readonly Lie[];
}

function* lineSearchStage(
	graph: Graph,
	model: ModelAnswer,
	{ index }: SurfaceParts,
	{ stone, fit }: StoneAnswer,
	commission: Commission,
): Job<LineParts> {
	const { lines, aim } = commission;
	const transfer = transferOf(commission);
	const lies = liesOf(model, commission);
	return yield* graph.stage("line search", [index, stone, fit, choice([lies, lines, aim, transfer])], function* () {
		const search = createLineSearch({
			index,
			stone,
			placement: fit.placement,
			lies,
			coneDeg: lines.cone_deg,
			leanDeg: lines.lean_deg,
			outsideMm: lines.outside_mm,
			aim: aimOf(transfer, aim),
		});
		return { search, lies };
	});
}

function* roundsStage(
	graph: Graph,
	model: ModelAnswer,
	{ adjacency, areas, field }: SurfaceParts,
	lines: LineParts,
	commission: Commission,
): Job<PointedGround> {
	const { rounds, holes, picks } = commission;
	const smallestForm = commission.model.smallestForm_mm;
	return yield* graph.stage(
		"rounds",
		[model, field, lines, choice([rounds, holes, picks, smallestForm])],
		function* () {
			const allowances = stopAllowances(rounds, holes);
			const drills = rounds.map((round) => drillOf(round.tool));
			return yield* placeRounds(
				{ mesh: model.mesh, adjacency, areas, field, height: model.size[2], smallestForm },
				rounds.map((round, i) => ({
					kind: round.kind,
					join: round.join_mm,
					eyeFactor: round.eyeFactor,
					count: round.count,
					drill: round.tool.drill_mm,
					round: i,
				})),
				picks.map((pick) => ({ position: pick.position_mm, normal: pick.normal })),
				(x, y, z, nx, ny, nz, round) =>
					lines.search.reaches({ position: [x, y, z], normal: [nx, ny, nz] }, drills[round], allowances[round]),
			);
		},
	);
}
