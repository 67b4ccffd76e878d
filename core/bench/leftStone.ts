/** From plan and log to the stone that is left, and from a figure placed anew in it to the commission's own placement. */

import { quaternionFromRotation, tidyQuaternion } from "../model/quaternion.ts";
import type { LogEntry } from "../plan/commission.ts";
import type { Plan, PlanPoint } from "../plan/planFile.ts";
import type { Stone } from "../stone/block.ts";
import { add, along, dot, multiply, type Placement, place, scale, turn, type Vec3 } from "../vector.ts";
import { isPastStop } from "./left.ts";
import { type PointStanding, standings } from "./log.ts";
import type { PlacedAnew } from "./placeAnew.ts";
import type { LeftPlane, LeftTarget, Remains } from "./remains.ts";

export interface LeftStone {
	readonly remains: Remains;
	/** Number of the point that each target is of. */
	readonly numbers: readonly number[];
}

/**
 * Every drilled or drillable target with the stone over it: the floor of its hole as read, or at its stop, once it is done;
 * the join of the rounds before, where all of their points are done; else the faces alone. `lost` are planes beyond which
 * stone is gone; `corners` are those of the figure's hull, model frame.
 */
export function leftStone(
	plan: Plan,
	log: readonly LogEntry[],
	stone: Stone,
	corners: Float64Array,
	lost: readonly LeftPlane[],
): LeftStone {
	const known = standings(log);
	const placement = plan.stone.placement;
	const joined = roundsDone(plan, known);
	const drillable = plan.points.filter((point) => point.line !== null);
	const body = new Float64Array(corners.length);
	for (let i = 0; i < corners.length; i += 3)
		body.set(place(placement, [corners[i], corners[i + 1], corners[i + 2]]), i);
	return {
		remains: {
			targets: drillable.map((point) => leftTarget(point, plan, known.get(point.number), point.round <= joined)),
			planes: [...stone.faces.map(({ name, normal, offset }) => ({ name, normal, offset })), ...lost],
			body,
		},
		numbers: drillable.map((point) => point.number),
	};
}

/** The last round for whose points the ground has been joined: every point of the nets before it is done. */
function roundsDone(plan: Plan, known: ReadonlyMap<number, PointStanding>): number {
	let joined = 0;
	while (joined + 1 < plan.rounds.length && plan.points.every((p) => p.round > joined || p.line === null || isDone(p)))
		joined++;
	return joined;
	function isDone(point: PlanPoint): boolean {
		return known.get(point.number)?.done ?? false;
	}
}

function leftTarget(
	point: PlanPoint,
	plan: Plan,
	standing: PointStanding | undefined,
	groundJoined: boolean,
): LeftTarget {
	const placement = plan.stone.placement;
	const at = place(placement, point.model_mm);
	const line = point.line as Vec3;
	const stop = point.stop_mm as number;
	const done = standing?.done ?? false;
	const worked = groundJoined && point.round > 0 && point.toGo_mm !== null ? point.toGo_mm + stop : null;
	const normal = turn(placement.rotation, point.normal);
	const allowance = plan.rounds[point.round].allowance_mm;
	const read = standing?.over ?? null;
	const over = read === null ? (done ? stop : worked) : isPastStop(read, stop) ? read : Math.max(read, stop);
	return {
		at,
		normal,
		allowance,
		// On a bulging form the plan's own floor keeps its allowance off the scan and yet lies nearer to the tangent plane.
		coverAllowance: Math.min(allowance, stop * dot(normal, line)),
		over: over === null ? null : along(at, line, over),
		drilled: done,
	};
}

export interface HandPlacement {
	/** x, y, z, w */
	readonly quaternion: [number, number, number, number];
	/** mm */
	readonly translation: [number, number, number];
}

/** Model → stone after the figure has been placed anew; the model itself is then `scale` times its size, about its foot. */
export function handPlacement(before: Placement, { motion, scale: s }: PlacedAnew): HandPlacement {
	const rotation = multiply(motion.rotation, before.rotation);
	const [x, y, z] = add(scale(turn(motion.rotation, before.translation), s), motion.translation);
	return { quaternion: tidyQuaternion(quaternionFromRotation(rotation)), translation: [x, y, z] };
}
