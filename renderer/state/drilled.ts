/** Holes in the stone are facts: before anything about the points changes, those that are done are put down with number and place. */

import { doneNumbers } from "../../core/bench/log.ts";
import type { Commission } from "../../core/plan/commission.ts";
import type { Plan } from "../../core/plan/planFile.ts";

/** What places or numbers points; everything else leaves them as they are. */
const PLACING = [
	"rounds",
	"picks",
	"areas",
	"middle",
	"sides",
	"holes",
	"lies",
	"lines",
	"aim",
	"transfer",
	"model",
	"stone",
	"scan",
	"bridges",
	"cuts",
] as const satisfies readonly (keyof Commission)[];
const placing = (c: Commission): string => JSON.stringify(PLACING.map((key) => c[key]));

/** `before`, with the points of `plan` that its log has as done written into it, when `next` touches the placing. */
export function withDrilled(before: Commission, next: Commission, plan: Plan | null): Commission {
	if (plan === null || before.log.length === 0 || placing(before) === placing(next)) return before;
	const done = doneNumbers(before.log);
	const known = new Set(before.drilled.map(({ number }) => number));
	const fresh = plan.points.filter(({ number, undercut }) => done.has(number) && !undercut && !known.has(number));
	if (fresh.length === 0) return before;
	const drilled = fresh.map(({ number, round, kind, model_mm, normal }) => ({
		number,
		round,
		kind,
		position_mm: model_mm,
		normal,
	}));
	return { ...before, drilled: [...before.drilled, ...drilled] };
}
