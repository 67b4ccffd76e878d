/** The cut along the hole of one point of a plan. */

import { aimOf, drillOf, stopAllowances } from "../drilling/drill.ts";
import type { Job } from "../job.ts";
import type { Answers } from "../plan/answers.ts";
import type { Commission } from "../plan/commission.ts";
import type { PlanPoint } from "../plan/planFile.ts";
import { transferOf } from "../plan/transfer.ts";
import { Refusal } from "../refusal.ts";
import { dot, turnBack } from "../vector.ts";
import type { Drawing } from "./drawing.ts";
import { holeSection } from "./holeSection.ts";
import { sectionPicture } from "./sectionPicture.ts";

/** A point that has a hole. */
type Drilled = PlanPoint & {
	readonly [K in "line" | "lean_deg" | "face" | "stop_mm" | "depth_mm"]: NonNullable<PlanPoint[K]>;
};
const isDrilled = (point: PlanPoint): point is Drilled => !point.undercut && point.line !== null && point.face !== null;

/** Refuses where there is no plan, no such point, or no hole. */
export function* pointSection(answers: Answers, commission: Commission, number: number): Job<Drawing> {
	const { plan, model, stone, field, index } = answers;
	if (!plan || !model || !stone || !field || !index) throw new Refusal("sheet.noPlan");
	const point = plan.points.find((one) => one.number === number);
	if (!point || !isDrilled(point)) throw new Refusal("drilling.noHole", { number });
	const face = stone.stone.faces.find((one) => one.name === point.face);
	if (!face) throw new Error(`no face ${point.face}`);
	const { placement } = stone.fit;
	const round = commission.rounds[point.round];
	const drill = drillOf(round.tool);
	const allowance = stopAllowances(commission.rounds, commission.holes)[point.round];
	const square = dot(point.line, face.normal);
	const section = yield* holeSection(
		{ index, normals: field.normals, closed: model.closed, stone: stone.stone, placement },
		{
			line: {
				target: point.model_mm,
				direction: turnBack(placement.rotation, point.line),
				entry: point.depth_mm + point.stop_mm,
				leanSine: Math.sqrt(Math.max(0, 1 - square * square)),
			},
			normal: point.normal,
			drill,
			allowance,
			aim: aimOf(transferOf(commission), commission.aim),
			stop: point.stop_mm,
		},
	);
	const numbers = {
		number,
		round: round.name,
		face: point.face,
		drill,
		allowance,
		stop: point.stop_mm,
		depth: point.depth_mm,
		clearance: point.clearance_mm ?? 0,
		tilt: point.tilt_deg ?? 0,
		lean: point.lean_deg,
		aimSafe: point.aimSafe_deg ?? 0,
		thickness: point.thickness_mm,
	};
	return sectionPicture(section, numbers, commission.sheet.units);
}
