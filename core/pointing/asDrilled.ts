/**
 * Placed points once their drill lines are known: where a line asks for more room than the placing did, or for less, the
 * joins are measured again among the points that are drilled, and what is claimed follows from that.
 */

import { type Job, within } from "../job.ts";
import type { SurfacePoint } from "./ground.ts";
import { judgeJoin } from "./judgeJoin.ts";
import { type RoundReport, reportNet } from "./report.ts";
import type { PlacedJoin, PointedGround } from "./rounds.ts";

/**
 * The same ground with `drilled[i]` (1 or 0) deciding which points have a hole. Depends on the placing and on `drilled`
 * alone, never on what was asked before.
 */
export function* asDrilled(placed: PointedGround, drilled: Uint8Array): Job<PointedGround> {
	if (placed.points.every((point, i) => point.reachable === (drilled[i] === 1))) return placed;
	const { joins } = placed;
	const points: SurfacePoint[] = placed.points.map((point, i) => ({ ...point, reachable: drilled[i] === 1 }));
	const rounds: RoundReport[] = [];
	for (const [r, join] of joins.entries()) {
		const share = r / joins.length;
		if (join === null) {
			rounds.push(placed.rounds[r]);
			continue;
		}
		const report = yield* within(remeasured(placed, join, drilled), share, share + 1 / joins.length);
		for (let i = join.counts.earlier; i < join.placed; i++)
			points[i] = { ...points[i], byEye: report.byEye[points[i].vertex] === 1 };
		rounds.push(report);
	}
	const reasonOf = ({ reachable, byEye }: SurfacePoint): string => (reachable ? (byEye ? "by eye" : "") : "undercut");
	return { ...placed, points: points.map((point) => ({ ...point, reason: reasonOf(point) })), rounds };
}

/** The report of one net, its join changed by the points that lost their hole or got one after all. */
function* remeasured(
	{ points, ground, surface }: PointedGround,
	{ measured, counts, placed }: PlacedJoin,
	drilled: Uint8Array,
): Job<RoundReport> {
	const { request, sizing } = measured;
	const undercuts: SurfacePoint[] = [];
	const lost: number[] = [];
	const gained: SurfacePoint[] = [];
	let seeds = 0;
	for (let i = 0; i < placed; i++) {
		// An undercut that a later round takes over is no point of this one.
		const mine = points[i].round <= request.round;
		const was = mine && points[i].reachable;
		const is = mine && drilled[i] === 1;
		if (was && !is) lost.push(seeds);
		if (!was && is) gained.push(points[i]);
		if (!is) undercuts.push(points[i]);
		// The join numbers its seeds in the order of the points.
		if (was) seeds++;
	}
	const join = measured.join.copy();
	if (lost.length > 0) join.leaveOut(lost);
	for (const { vertex, position, normal } of gained) join.enter(vertex, position, normal);
	yield* within(join.spread(), 0, 0.2);
	yield* within(join.measure(), 0.2, 0.5);
	const judged = yield* within(judgeJoin(surface, { ...measured, join }, undercuts), 0.5, 1);
	return reportNet(ground, surface, request, counts, sizing.spacing, judged);
}
