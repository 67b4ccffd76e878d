/** Lies, drill lines and the rounds of points. */

import { type Bridge, standingBridges } from "../../cuts/bridges.ts";
import { bossesOf } from "../../datum/bosses.ts";
import type { DatumSet } from "../../datum/datumSets.ts";
import { aimOf, drillOf, placingAllowances, stopAllowances } from "../../drilling/drill.ts";
import { type Hole, isUndercut } from "../../drilling/drillLine.ts";
import type { Lie } from "../../drilling/lies.ts";
import { createLineSearch, type LineSearch } from "../../drilling/lineSearch.ts";
import type { Job } from "../../job.ts";
import { asDrilled } from "../../pointing/asDrilled.ts";
import { type BrushedArea, brushedGround } from "../../pointing/brushed.ts";
import { type PointedGround, placeRounds } from "../../pointing/rounds.ts";
import type { ModelAnswer, StoneAnswer } from "../answers.ts";
import type { Commission } from "../commission.ts";
import { choice, type Graph } from "../graph.ts";
import { type WorkedPoints, workPoints } from "../parts/workedPoints.ts";
import { transferOf } from "../transfer.ts";
import type { SurfaceParts } from "./surfaceStages.ts";
import { thicknessStage } from "./thicknessStage.ts";

export const bridgesOf = ({ bridges }: Commission): Bridge[] =>
	bridges.map(({ name, from_mm, to_mm, radius_mm, round }) => ({
		name,
		from: from_mm,
		to: to_mm,
		radius: radius_mm,
		round,
	}));

export interface LineParts {
	readonly search: LineSearch;
	readonly lies: readonly Lie[];
	/** Bridges that stand while a round is drilled, by round; stone frame. */
	readonly bridges: readonly (readonly Hole[])[];
}

export function* lineSearchStage(
	graph: Graph,
	model: ModelAnswer,
	{ index }: SurfaceParts,
	answer: StoneAnswer,
	lies: readonly Lie[],
	commission: Commission,
): Job<LineParts> {
	const { stone, fit } = answer;
	const { lines, aim, rounds } = commission;
	const hammered = model.closed && rounds.some(({ tool }) => tool.action === "hammer");
	const thinMarks = hammered ? (yield* thicknessStage(graph, model, commission)).marks : null;
	const transfer = transferOf(commission);
	return yield* graph.stage(
		"line search",
		[index, stone, fit, thinMarks, choice([lies, lines, aim, transfer, commission.bridges, rounds.length])],
		function* () {
			const search = createLineSearch({
				index,
				stone,
				placement: fit.placement,
				lies,
				coneDeg: lines.cone_deg,
				leanDeg: lines.lean_deg,
				outsideMm: lines.outside_mm,
				aim: aimOf(transfer, aim),
				thinMarks,
			});
			return { search, lies, bridges: standingBridges(bridgesOf(commission), rounds.length, fit.placement) };
		},
	);
}

export function* roundsStage(
	graph: Graph,
	model: ModelAnswer,
	{ adjacency, areas, field }: SurfaceParts,
	lines: LineParts,
	commission: Commission,
): Job<PointedGround> {
	const { holes, picks, areas: brushes, drilled } = commission;
	const smallestForm = commission.model.smallestForm_mm;
	// Neither a round's name nor the carver's own stop moves a point.
	const rounds = commission.rounds.map(({ name, stop_mm, ...round }) => round);
	return yield* graph.stage(
		"rounds",
		[model, field, lines, choice([rounds, holes, picks, smallestForm, brushes, drilled])],
		function* () {
			const brushed = yield* brushedGround(model.mesh, adjacency, field, smallestForm, brushedAreas(brushes));
			const allowances = placingAllowances(commission.rounds, holes);
			const drills = rounds.map((round) => drillOf(round.tool));
			return yield* placeRounds(
				{
					mesh: model.mesh,
					adjacency,
					areas,
					field,
					height: model.size[2],
					firstAddedTriangle: model.firstAddedTriangle,
					smallestForm,
					brushed: brushed ?? undefined,
				},
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
					lines.search.reaches(
						{ position: [x, y, z], normal: [nx, ny, nz], kept: lines.bridges[round] },
						drills[round],
						allowances[round],
					),
				drilled.map((hole) => ({ ...hole, position: hole.position_mm })),
			);
		},
	);
}

const brushedAreas = (areas: Commission["areas"]): BrushedArea[] =>
	areas.map(({ factor, dabs }) => ({
		factor,
		dabs: dabs.map(({ position_mm, normal, radius_mm }) => ({ position: position_mm, normal, radius: radius_mm })),
	}));

export interface DrilledGround {
	readonly drilling: WorkedPoints;
	/** The placed points as they are drilled. */
	readonly ground: PointedGround;
}

export function* drillingStages(
	graph: Graph,
	model: ModelAnswer,
	{ index }: SurfaceParts,
	lines: LineParts,
	placed: PointedGround,
	{ fit: { placement } }: StoneAnswer,
	datumSets: readonly DatumSet[],
	commission: Commission,
): Job<DrilledGround> {
	const { rounds, holes } = commission;
	const sunk = commission.drilled.flatMap(({ number, hole }) =>
		hole ? [[number, { line: hole.line, floor: hole.floor_mm }] as const] : [],
	);
	const allowances = stopAllowances(rounds, holes);
	const tools = rounds.map((round) => round.tool);
	const seated = transferOf(commission) === "faces" ? null : datumSets;
	const drilling = yield* graph.stage(
		"drill lines",
		[index, lines, placed, seated, choice([allowances, tools, sunk])],
		() =>
			workPoints(placed.points, lines.search, index, model.closed, {
				drills: tools.map(drillOf),
				allowances,
				bridges: lines.bridges,
				bosses: (seated ?? []).flatMap((set) => bossesOf(set, placement)),
				placement,
				sunk: new Map(sunk),
			}),
	);
	const ground = yield* graph.stage("cover as drilled", [placed, drilling], () =>
		asDrilled(
			placed,
			Uint8Array.from(drilling.worked, ({ answer }) => (isUndercut(answer) ? 0 : 1)),
		),
	);
	return yield* graph.stage("drilling", [drilling, ground], function* () {
		return { drilling, ground };
	});
}
