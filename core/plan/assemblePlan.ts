/** The plan document from the answers of the stages: lines for every point, numbers, and everything as others read it. */

import type { CutsAnswer } from "../cuts/planCuts.ts";
import type { DatumSet } from "../datum/datumSets.ts";
import type { DatumPlace } from "../datum/seat.ts";
import type { ChosenLies } from "../drilling/chooseLies.ts";
import { aimOf, drillOf, stopAllowances } from "../drilling/drill.ts";
import { isUndercut } from "../drilling/drillLine.ts";
import type { Job } from "../job.ts";
import { armTravel } from "../pointing/armTravel.ts";
import { numberPoints, orderPoints } from "../pointing/order.ts";
import { CLAIMED, WHY_NOT } from "../pointing/report.ts";
import type { PointedGround } from "../pointing/rounds.ts";
import { middlePlane, sideOf } from "../pointing/side.ts";
import type { SurfaceIndex } from "../surface/surfaceIndex.ts";
import { refusalText } from "../text/refusals.ts";
import type { Vec3 } from "../vector.ts";
import type { ModelAnswer, OpenedScan, StoneAnswer } from "./answers.ts";
import type { Commission } from "./commission.ts";
import { planCode } from "./parts/planCode.ts";
import { cutWarnings, planCuts } from "./parts/planCuts.ts";
import { planLie, planSet } from "./parts/planDatum.ts";
import { planPoint } from "./parts/planPoint.ts";
import { planProofMarks } from "./parts/planProofMarks.ts";
import { planStone } from "./parts/planStone.ts";
import { mm, mm3 } from "./parts/rounding.ts";
import type { WorkedPoints } from "./parts/workedPoints.ts";
import { planCautions } from "./planCautions.ts";
import type { Plan, PlanPoint } from "./planFile.ts";
import { asCut } from "./stages/cutStages.ts";
import type { NatureAnswer } from "./stages/flawStages.ts";
import { transferOf } from "./transfer.ts";

export interface PlanParts {
	readonly scan: OpenedScan;
	readonly commission: Commission;
	readonly model: ModelAnswer;
	readonly stone: StoneAnswer;
	readonly nature: NatureAnswer;
	readonly datumSets: readonly DatumSet[];
	readonly cuts: CutsAnswer | null;
	readonly lies: ChosenLies;
	/** As drilled. */
	readonly ground: PointedGround;
	readonly drilling: WorkedPoints;
	readonly index: SurfaceIndex;
	/** Of the stone's own scan; null for a stone bounded by planes. */
	readonly stoneIndex: SurfaceIndex | null;
	/** Flat ground, for proof marks. */
	readonly flatPlaces: readonly DatumPlace[];
}

const UP: Vec3 = [0, 0, 1];
const total = (areas: readonly number[]): number => areas.reduce((sum, area) => sum + area, 0);

export function* assemblePlan(parts: PlanParts): Job<Plan> {
	const { scan, commission, model, stone, nature, datumSets, cuts, lies, ground } = parts;
	const transfer = transferOf(commission);
	const aim = aimOf(transfer, commission.aim);
	const drills = commission.rounds.map((round) => drillOf(round.tool));
	const allowances = stopAllowances(commission.rounds, commission.holes);
	const { worked, crossings: crossed } = parts.drilling;
	const middle = middlePlane(commission.middle, model.mesh.positions);
	const sides = ground.points.map((point) => sideOf(point.position, middle, commission.model.smallestForm_mm));
	const order = orderPoints(
		ground.points.map(({ position, round, kind }, i) => {
			const { answer } = worked[i];
			return { position, round, lie: isUndercut(answer) ? null : answer.lie, kind, side: sides[i] };
		}),
		UP,
		commission.sides === "in pairs" ? { sides: "in pairs", plane: middle } : { sides: commission.sides },
	);
	const numbers = numberPoints(
		order,
		ground.points.map((point) => point.number),
	);
	const crossings = crossed
		.map(({ a, b, web }) => ({
			points: [numbers[a], numbers[b]].sort((m, n) => m - n) as [number, number],
			web_mm: mm(web),
		}))
		.sort((x, y) => x.points[0] - y.points[0] || x.points[1] - y.points[1]);
	const points: PlanPoint[] = [];
	for (const [k, i] of order.entries()) {
		points.push(planPoint(ground.points[i], worked[i], sides[i], numbers[i], parts));
		if (k % 4 === 3) yield { stage: "writing the plan", share: k / order.length };
	}
	const way = armTravel(points.filter((point) => !point.undercut).map((point) => point.model_mm));
	const proofMarks = yield* planProofMarks(parts, points);
	const plan: Plan = {
		format: "puntello-plan",
		version: 1,
		name: commission.name,
		// Named below, by what is drilled.
		code: "",
		model: {
			scan: scan.name,
			sha256: scan.sha256,
			unit: model.unit,
			unitReason: refusalText(model.unitReason),
			scale: commission.model.scale,
			benchScale: commission.model.benchScale,
			mirrored: commission.scan.mirrored,
			triangles: model.mesh.triangles.length / 3,
			area_mm2: mm(model.area),
			volume_mm3: model.volume === null ? null : mm(model.volume),
			size_mm: mm3(model.size),
			toModel: model.toModel as Plan["model"]["toModel"],
		},
		stone: planStone(commission, stone, nature),
		transfer,
		aim: { mark_mm: aim.mark, lean_deg: aim.leanDeg, wander: aim.wander },
		seatError_mm: commission.seatError_mm,
		datumSets: datumSets.map((set) => planSet(set, stone)),
		proofMarks,
		lies: lies.lies.map((lie, i) =>
			planLie(lie, asCut(stone, cuts), lies.reached[i], points.filter((point) => point.lie === i).length),
		),
		rounds: ground.rounds.map((report, i) => {
			const round = commission.rounds[i];
			const drill = drills[i];
			return {
				name: round.name,
				kind: round.kind,
				allowance_mm: allowances[i],
				join_mm: round.join_mm,
				eyeFactor: round.eyeFactor,
				leastCover_mm: report.leastCover === null ? null : mm(report.leastCover),
				greatestCover_mm: report.greatestCover === null ? null : mm(report.greatestCover),
				plannedCover_mm: report.plannedCover === null ? null : mm(report.plannedCover),
				leastCoverAt_mm: report.leastCoverVertex === null ? null : mm3(vertexAt(model, report.leastCoverVertex)),
				claimedShare: report.claimedShare === null ? null : mm(report.claimedShare),
				points: points.filter((p) => p.round === i).length,
				foreseen: mm(report.foreseen),
				earlier: report.earlier,
				added: report.added,
				unclaimed: report.areaByReason.flatMap((area, why) =>
					why === CLAIMED || !(area > 0)
						? []
						: [{ reason: WHY_NOT[why] as string, share: mm(area / total(report.areaByReason)) }],
				),
				tool: {
					tip: drill.tip,
					radius_mm: drill.holeRadius,
					drill_mm: drill.diameter,
					pointAngle_deg: drill.pointAngleDeg,
					reach_mm: drill.reach,
					setZero_mm: round.tool.setZero_mm,
				},
			};
		}),
		points,
		travel: { order_mm: mm(way.order), nearest_mm: mm(way.nearest), random_mm: mm(way.random) },
		crossings,
		...planCuts(cuts, commission, stone.fit.placement),
		finish: null,
		sheet: { ...commission.sheet },
		cautions: [...planCautions(parts, points, crossings), ...cutWarnings(cuts)],
	};
	return { ...plan, code: yield* planCode(plan, plan.sheet.units) };
}

const vertexAt = ({ mesh: { positions } }: ModelAnswer, v: number): Vec3 => [
	positions[3 * v],
	positions[3 * v + 1],
	positions[3 * v + 2],
];
