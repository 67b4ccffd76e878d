/** Holes in the stone are facts: before anything about the points changes, those that are there are put down as they lie in it. */

import { holeNumbers } from "../../core/bench/log.ts";
import type { Commission } from "../../core/plan/commission.ts";
import type { Plan, PlanPoint } from "../../core/plan/planFile.ts";
import { quaternionOf } from "../../core/stone/turning.ts";
import { along } from "../../core/vector.ts";

type Drilled = Commission["drilled"][number];

/** What may change a point or its line: all but names, papers, what is only read, and the work after the last point. */
export function placing(c: Commission): string {
	const { name, log, drilled, sheet, proofMarks, finish, fixing, quote, workday, ...rest } = c;
	return JSON.stringify({ ...rest, model: { ...rest.model, stanceSaid: true } });
}

/** An undercut, which has no hole, still keeps its number and its place. */
function asDrilled({ number, round, kind, model_mm, normal, line, entry_mm, depth_mm }: PlanPoint): Drilled {
	const none = line === null || entry_mm === null || depth_mm === null;
	const hole = none ? null : { line, floor_mm: [...along(entry_mm, line, -depth_mm)] as [number, number, number] };
	return { number, round, kind, position_mm: model_mm, normal, hole };
}

/** Numbers of points that are done or read but not yet put down as they lie in the stone. */
export function notPutDown({ log, drilled }: Commission): number[] {
	const known = new Set(drilled.map(({ number }) => number));
	return [...holeNumbers(log)].filter((number) => !known.has(number));
}

/** Whether every hole of the log, the figure's place and the stone are written down. */
export const isPutDown = (c: Commission): boolean =>
	notPutDown(c).length === 0 && c.stone.byHand !== null && !isAssumed(c.stone);

const isAssumed = ({ given, block_mm }: Commission["stone"]): boolean => given === "sides" && block_mm === null;

/** `c`, with what `plan`, its own, has of the holes in its log written into it, and of where the figure lies in which stone. */
export function withDrilled(c: Commission, plan: Plan): Commission {
	const wanted = new Set(notPutDown(c));
	const fresh = plan.points.flatMap((point) => (wanted.has(point.number) ? [asDrilled(point)] : []));
	const { rotation, translation } = plan.stone.placement;
	const { block_mm } = plan.stone;
	return {
		...c,
		drilled: fresh.length === 0 ? c.drilled : [...c.drilled, ...fresh],
		stone: {
			...c.stone,
			block_mm: isAssumed(c.stone) && block_mm ? [...block_mm] : c.stone.block_mm,
			byHand: c.stone.byHand ?? {
				quaternion: [...quaternionOf(rotation)],
				translation_mm: [...translation],
			},
		},
	};
}
