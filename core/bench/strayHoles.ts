/** Holes that are not those of the points by whose numbers they were drilled: after the figure was placed anew, or its size changed. */

import type { Commission } from "../plan/commission.ts";
import type { Plan } from "../plan/planFile.ts";
import { along, distance } from "../vector.ts";

/** Plans are rounded finer than this, and no bench sees it, mm. */
const SAME = 0.01;

/** Numbers of drilled points whose hole in the stone, by line and floor, is not the one that the plan has for them; rising. */
export function strayHoles(plan: Plan, drilled: Commission["drilled"]): number[] {
	const points = new Map(plan.points.map((point) => [point.number, point]));
	return drilled
		.flatMap(({ number, hole }) => {
			if (!hole) return [];
			const point = points.get(number);
			if (!point?.line || !point.entry_mm || point.depth_mm === null) return [number];
			const floor = along(point.entry_mm, point.line, -point.depth_mm);
			return distance(floor, hole.floor_mm) > SAME || distance(point.line, hole.line) > SAME ? [number] : [];
		})
		.sort((a, b) => a - b);
}
