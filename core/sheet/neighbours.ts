/** Where a place lies among the drilled points: what callipers on the half-finished stone can find it by. */

import type { Plan, PlanPoint } from "../plan/planFile.ts";
import { distance, scale, sub, type Vec3 } from "../vector.ts";

export interface Neighbour {
	readonly point: PlanPoint;
	/** Straight from target to target on the finished figure, stone mm. */
	readonly away: number;
}

/** How many of the nearest are looked at, and how far from the place one must stand to be measured from, mm. */
const LOOKED_AT = 10;
const LEAST = 3;

/** The nearest drilled points of a place in the model frame, nearest first, ties by number. */
export function nearestDrilled(plan: Plan, place: Vec3, many: number): Neighbour[] {
	return plan.points
		.filter((p) => p.line !== null)
		.map((point) => ({ point, away: distance(point.model_mm, place) }))
		.sort((a, b) => a.away - b.away || a.point.number - b.point.number)
		.slice(0, many);
}

/** Three drilled points that stand around a place, so that three lengths find it; fewer where there are no more. */
export function threeAround(plan: Plan, place: Vec3): Neighbour[] {
	const near = nearestDrilled(plan, place, LOOKED_AT).filter((n) => n.away >= LEAST);
	if (near.length <= 3) return near;
	const ways = near.map((n) => scale(sub(n.point.model_mm, place), 1 / n.away));
	let best: readonly number[] = [0, 1, 2];
	let least = Infinity;
	for (let a = 0; a < near.length; a++)
		for (let b = a + 1; b < near.length; b++)
			for (let c = b + 1; c < near.length; c++) {
				// Unit vectors to points all around add up to nothing; those to points on one side add up to three.
				let sum = 0;
				for (let k = 0; k < 3; k++) {
					const s = ways[a][k] + ways[b][k] + ways[c][k];
					sum += s * s;
				}
				if (sum < least - 1e-9) {
					least = sum;
					best = [a, b, c];
				}
			}
	return best.map((i) => near[i]);
}
