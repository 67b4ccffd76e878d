/** After the last point: grades, gilded areas, fixing, the quote and the vibration of the days; none of it moves a point. */

import { finishedGround } from "../../finish/detail.ts";
import { type Figure, fixingOf } from "../../finish/fixing.ts";
import { leavesFor } from "../../finish/gilding.ts";
import { checkChain, type GradeChain, LAST_GRIT, proposeChain } from "../../finish/grades.ts";
import { createPinGauge, type PinGauge } from "../../finish/pinHole.ts";
import { quoteOf } from "../../finish/quote.ts";
import { proposedDays } from "../../finish/workdays.ts";
import { type Job, within } from "../../job.ts";
import { Refusal } from "../../refusal.ts";
import { backShell } from "../../scan/backShell.ts";
import { examine } from "../../scan/health.ts";
import { convexHull } from "../../stone/hull.ts";
import { dryMass, weighingOf, wetMass } from "../../stone/mass.ts";
import { buildAdjacency } from "../../surface/adjacency.ts";
import { buildSurfaceIndex } from "../../surface/surfaceIndex.ts";
import { surfaceRegion, vertexShares } from "../../surface/surfaceRegion.ts";
import type { FinishAnswer, GildedArea, ModelAnswer, Outcome, StoneAnswer } from "../answers.ts";
import type { Commission } from "../commission.ts";
import { choice, type Graph } from "../graph.ts";
import { quantitiesOf } from "../parts/quantities.ts";
import type { Plan } from "../planFile.ts";
import type { SurfaceParts } from "./surfaceStages.ts";

const MM_PER_CM = 10;
/** Of the NIOSH equation, for a load without handles. */
const POOR_GRIP = 0.9;

/** Each part has its answer, or the reason why it has none. */
function* outcome<T>(job: Job<T>): Job<Outcome<T>> {
	try {
		return { answer: yield* job, issue: null };
	} catch (error) {
		if (!(error instanceof Refusal)) throw error;
		return { answer: null, issue: error.issue };
	}
}

export function* finishStages(
	graph: Graph,
	model: ModelAnswer,
	surface: SurfaceParts,
	stone: StoneAnswer,
	plan: Plan | null,
	commission: Commission,
): Job<FinishAnswer> {
	const { finish, fixing, quote, workday } = commission;
	const ground = yield* graph.stage("finished ground", [model, surface, finish.detailRadius_mm], function* () {
		return finishedGround(model.mesh, surface.field, finish.detailRadius_mm);
	});
	const join = commission.rounds[commission.rounds.length - 1].join_mm;
	const grades = yield* graph.stage("grades", [choice([finish, join])], () => outcome(gradesJob(finish, join)));
	const gilded: Outcome<GildedArea>[] = [];
	for (const [i, area] of finish.gilded.entries())
		gilded.push(
			yield* graph.stage(`gilded area ${i}`, [surface, choice([area, finish.leaf])], () =>
				outcome(gildedJob(surface, area, finish.leaf)),
			),
		);
	const figure = yield* graph.stage("figure", [model, surface, stone, choice([fixing.back_mm, commission.stone])], () =>
		outcome(figureJob(model, surface, stone, commission)),
	);
	const fixed = yield* graph.stage("fixing", [figure, choice([fixing, commission.stone])], () =>
		outcome(fixingJob(figure, commission)),
	);
	return yield* graph.stage(
		"finish",
		[stone, plan, ground, grades, figure, fixed, ...gilded, choice([quote, workday, fixing.base, commission.rounds])],
		function* (): Job<FinishAnswer> {
			const quantities =
				plan &&
				quantitiesOf({
					stone,
					plan,
					ground,
					figure: figure.answer?.figure ?? null,
					grades: grades.answer?.steps.length ?? 0,
					gilded: gilded.flatMap(({ answer }) => (answer ? [answer] : [])),
					fixing: fixed.answer,
					commission,
				});
			const offer = quantities && quoteOf(quantities, quote.rates, quote.stoneBy);
			const days = proposedDays(commission, offer);
			return { ground, grades, gilded, fixing: fixed, quantities, quote: offer, days };
		},
	);
}

function* gradesJob(finish: Commission["finish"], join: number): Job<GradeChain> {
	const { polish, abrasives, firstGrit, ratio, scratchShare, grainsOff, marks_mm } = finish;
	const last = LAST_GRIT[polish];
	const rules = { ratio, scratchShare, grainsOff, marks_mm };
	if (last === null) return checkChain([], rules, join);
	return checkChain(abrasives.length > 0 ? abrasives : proposeChain(firstGrit, last, ratio), rules, join);
}

function* gildedJob(
	{ index, adjacency, field }: SurfaceParts,
	area: Commission["finish"]["gilded"][number],
	leaf: Commission["finish"]["leaf"],
): Job<GildedArea> {
	const region = yield* surfaceRegion(
		index,
		adjacency,
		field,
		area.strokes.map(({ at_mm, radius_mm, crease_mm, adds }) => ({
			at: at_mm,
			radius: radius_mm,
			crease: crease_mm,
			adds,
		})),
	);
	const marked = vertexShares(adjacency, region.shares);
	return { name: area.name, region, marked, leaf: leavesFor(region.area, leaf) };
}

interface FixedFigure {
	readonly figure: Figure;
	readonly gauge: PinGauge;
}

/** The figure as a solid, an open shell with its back, and the gauge for its pin. */
function* figureJob(
	model: ModelAnswer,
	surface: SurfaceParts,
	stone: StoneAnswer,
	commission: Commission,
): Job<FixedFigure> {
	const weighing = weighingOf(commission.stone.kind, commission.stone.density_kgm3);
	const solid = (volume: number) => ({
		volume,
		mass: dryMass(volume, weighing),
		wet: wetMass(volume, weighing),
		height: model.size[2],
	});
	if (model.volume !== null && model.centroid !== null) {
		const gauge = yield* createPinGauge(surface.index, surface.adjacency, [model.centroid[0], model.centroid[1]]);
		return { figure: { ...solid(model.volume), hull: stone.hull, centre: model.centroid }, gauge };
	}
	// The model faces −y, so its back lies towards +y.
	const { mesh } = yield* within(backShell(model.mesh, [0, 1, 0], commission.fixing.back_mm), 0, 0.3);
	const health = yield* within(examine(mesh), 0.3, 0.6);
	if (health.volume === null || health.centroid === null) throw new Refusal("fixing.openBack");
	const index = yield* within(buildSurfaceIndex(mesh), 0.6, 0.8);
	const hull = yield* within(convexHull(mesh.positions), 0.8, 1);
	const gauge = yield* createPinGauge(index, buildAdjacency(mesh), [health.centroid[0], health.centroid[1]]);
	return { figure: { ...solid(Math.abs(health.volume)), hull, centre: health.centroid }, gauge };
}

function* fixingJob(found: Outcome<FixedFigure>, commission: Commission): Job<ReturnType<typeof fixingOf>> {
	if (found.answer === null) throw new Refusal(found.issue.code, found.issue.facts);
	const { figure, gauge } = found.answer;
	const { base, place, slope_deg, leastTip_deg, pin, lift } = commission.fixing;
	const own = base?.stone == null;
	const density =
		base && weighingOf(base.stone ?? commission.stone.kind, own ? commission.stone.density_kgm3 : null).density;
	yield { stage: "fixing the figure", share: 0.2 };
	return fixingOf(figure, gauge, {
		base: base && density && { length: base.size_mm[0], width: base.size_mm[1], height: base.size_mm[2], density },
		slopeDeg: slope_deg,
		leastTipDeg: leastTip_deg,
		place,
		pin: { bar_mm: pin.bar_mm, depth_mm: pin.depth_mm, at: pin.at_mm },
		rules: {
			cover_mm: pin.cover_mm,
			thicknessShare: pin.thicknessShare,
			depthInBars: pin.depthInBars,
			clearance_mm: pin.clearance_mm,
			extra_mm: pin.extra_mm,
			aside: pin.aside,
		},
		resinWaste: pin.resinWaste,
		lift: {
			reach: lift.reach_mm / MM_PER_CM,
			from: lift.from_mm / MM_PER_CM,
			to: lift.to_mm / MM_PER_CM,
			twist_deg: lift.twist_deg,
			// Now and then, and stone has no handles.
			frequency: 1,
			grip: POOR_GRIP,
		},
	});
}
