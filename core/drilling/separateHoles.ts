/** Moves holes that would run into each other, where another clear line exists (handbook 8). */

import type { Job } from "../job.ts";
import { along } from "../vector.ts";
import { type Crossing, crossingHoles, LEAST_WEB } from "./crossings.ts";
import { behindFloor, type Drill } from "./drill.ts";
import { type DrillLine, type DrillTarget, type Hole, isUndercut, type Undercut } from "./drillLine.ts";
import type { LineSearch } from "./lineSearch.ts";

/** A point with the line found for it alone. */
export interface PlannedPoint {
	readonly target: DrillTarget;
	readonly drill: Drill;
	readonly allowance: number;
	/** As handed to the search. */
	readonly thickness?: number;
	readonly answer: DrillLine | Undercut;
	/** The hole is in the stone and cannot be moved. */
	readonly sunk?: boolean;
}

export interface Separated {
	/** The answer of every point, in the order given. */
	readonly answers: readonly (DrillLine | Undercut)[];
	/** Points whose line is another one now, in growing order. */
	readonly moved: readonly number[];
	/** Pairs of points that still have less than the web between their holes. */
	readonly crossings: readonly Crossing[];
}

/** The hole of a line, stone frame. */
export const holeOf = (line: DrillLine, drill: Drill, thickness?: number): Hole => ({
	tip: along(line.entry, line.direction, -line.depth),
	entry: line.entry,
	radius: drill.holeRadius,
	behind: behindFloor(drill, thickness),
});

/**
 * Of each pair that runs too close, the later point takes the least tilted line that leaves `web` mm of stone to every other
 * hole; where it has none, the earlier one; where neither has one, both stay and the pair is listed.
 */
export function* separateHoles(points: readonly PlannedPoint[], search: LineSearch, web = LEAST_WEB): Job<Separated> {
	const answers = points.map((point) => point.answer);
	const holed = points.flatMap((point, i) => (isUndercut(point.answer) ? [] : [i]));
	const holes = holed.map((i) => holeOf(answers[i] as DrillLine, points[i].drill, points[i].thickness));
	const first = yield* crossingHoles(holes, web);
	const moved = new Set<number>();
	const move = (h: number): boolean => {
		const { target, drill, allowance, thickness, sunk } = points[holed[h]];
		if (sunk) return false;
		const others = { holes: holes.filter((_, i) => i !== h), web };
		const line = search.find(target, drill, allowance, [], thickness, others);
		if (isUndercut(line)) return false;
		answers[holed[h]] = line;
		holes[h] = holeOf(line, drill, thickness);
		moved.add(holed[h]);
		return true;
	};
	for (const [n, { a, b }] of first.entries()) {
		// An earlier move may have parted this pair already.
		const pair = yield* crossingHoles([holes[a], holes[b]], web);
		if (pair.length > 0 && !move(b)) move(a);
		yield { stage: "parting the holes", share: n / first.length };
	}
	const left = yield* crossingHoles(holes, web);
	return {
		answers,
		moved: [...moved].sort((i, j) => i - j),
		crossings: left.map((pair) => ({ ...pair, a: holed[pair.a], b: holed[pair.b] })),
	};
}
