/** Holes in the stone are facts: before anything about the points changes, those that are done are put down as they lie in it. */

import { doneNumbers } from "../../core/bench/log.ts";
import type { Commission } from "../../core/plan/commission.ts";
import type { Plan, PlanPoint } from "../../core/plan/planFile.ts";
import { along } from "../../core/vector.ts";

type Drilled = Commission["drilled"][number];

/** What may change a point or its line: all but names, papers, what is only read, and the work after the last point. */
function placing(c: Commission): string {
	const { name, log, drilled, sheet, proofMarks, finish, fixing, quote, workday, ...rest } = c;
	return JSON.stringify(rest);
}

/** null for an undercut, which has no hole. */
function asDrilled({ number, round, kind, model_mm, normal, line, entry_mm, depth_mm }: PlanPoint): Drilled | null {
	if (line === null || entry_mm === null || depth_mm === null) return null;
	const floor_mm: [number, number, number] = [...along(entry_mm, line, -depth_mm)];
	return { number, round, kind, position_mm: model_mm, normal, hole: { line, floor_mm } };
}

/** `before`, with the points of `plan` that its log has as done written into it, when `next` touches the placing. */
export function withDrilled(before: Commission, next: Commission, plan: Plan | null): Commission {
	if (plan === null || before.log.length === 0 || placing(before) === placing(next)) return before;
	const done = doneNumbers(before.log);
	const known = new Set(before.drilled.map(({ number }) => number));
	const fresh = plan.points.flatMap((point) => {
		const drilled = done.has(point.number) && !known.has(point.number) ? asDrilled(point) : null;
		return drilled ? [drilled] : [];
	});
	return fresh.length === 0 ? before : { ...before, drilled: [...before.drilled, ...fresh] };
}
