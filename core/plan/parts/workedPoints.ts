import type { Drill } from "../../drilling/drill.ts";
import { type DrillLine, isUndercut, type SharedLine, type Undercut } from "../../drilling/drillLine.ts";
import { thicknessAt } from "../../drilling/thickness.ts";
import type { Job } from "../../job.ts";
import type { SurfacePoint } from "../../pointing/ground.ts";
import { defaultMiddlePlane, type Side, sideOf } from "../../pointing/side.ts";
import { distance } from "../../vector.ts";
import type { PlanParts } from "../assemblePlan.ts";

/** A point with its line, before it is numbered. */
export interface WorkedPoint {
	readonly point: SurfacePoint;
	readonly thickness: number | null;
	readonly side: Side;
	readonly answer: DrillLine | Undercut;
}

/** Finds the line of every point; neighbours are offered each other's directions. */
export function* workLines(
	{ index, search, ground, model, commission }: PlanParts,
	drills: readonly Drill[],
	allowances: readonly number[],
): Job<WorkedPoint[]> {
	const worked: WorkedPoint[] = [];
	const { points } = ground;
	const middle = defaultMiddlePlane(model.mesh.positions);
	for (const [i, point] of points.entries()) {
		const target = { position: point.position, normal: point.normal };
		const thickness = model.closed ? thicknessAt(index, target) : null;
		const answer = search.find(
			target,
			drills[point.round],
			allowances[point.round],
			sharedLines(worked, point),
			thickness ?? undefined,
		);
		const side = sideOf(point.position, middle, commission.model.smallestForm_mm);
		worked.push({ point, thickness, side, answer });
		if (i % 4 === 3) yield { stage: "finding the drill lines", share: i / points.length };
	}
	return worked;
}

/** How many neighbours' lines are offered. */
const SHARED = 3;

/** Lines of the nearest points that have one, nearest first, ties by order. */
function sharedLines(worked: readonly WorkedPoint[], point: SurfacePoint): SharedLine[] {
	const nearest: { d: number; shared: SharedLine }[] = [];
	for (const { point: other, answer } of worked) {
		if (isUndercut(answer)) continue;
		const d = distance(other.position, point.position);
		if (nearest.length === SHARED && d >= nearest[SHARED - 1].d) continue;
		let at = nearest.length;
		while (at > 0 && nearest[at - 1].d > d) at--;
		nearest.splice(at, 0, { d, shared: { face: answer.face.name, leanDeg: answer.leanDeg } });
		if (nearest.length > SHARED) nearest.pop();
	}
	return nearest.map((n) => n.shared);
}
