/** What the cuts take of a face before it is drilled, and whether its zero corner goes with it. */

import type { Plan } from "../plan/planFile.ts";
import { distance, dot, sub, type Vec3 } from "../vector.ts";

type PlanFace = Plan["stone"]["faces"][number];

export interface SawnGround {
	/** Corners of what is left of the face, stone frame; none where the whole face goes. */
	readonly left: readonly Vec3[];
	/** The cut that takes the zero corner; null where it stays. */
	readonly zeroBy: string | null;
}

/** Corners that lie this near are the same, mm: the plan's own digits. */
const SAME = 1e-3;

/** null where no cut takes anything of the face. */
export function sawnGround(plan: Plan, face: PlanFace): SawnGround | null {
	if (plan.afterCuts === null || !plan.stone.faces.some(({ name }) => name === face.name)) return null;
	const left = plan.afterCuts.faces.find(({ name }) => name === face.name)?.outline_mm ?? [];
	const whole =
		left.length === face.outline_mm.length &&
		left.every((at) => face.outline_mm.some((corner) => distance(at, corner) < SAME));
	if (whole) return null;
	const taken = plan.cuts.find(({ plane: [x, y, z, offset] }) => dot([x, y, z], face.origin_mm) > offset + SAME);
	return { left, zeroBy: taken?.name ?? null };
}

/** u, v of a face's corners, mm. */
export const onItsAxes = ({ origin_mm, u, v }: PlanFace, corners: readonly Vec3[]): (readonly [number, number])[] =>
	corners.map((at) => {
		const from = sub(at, origin_mm);
		return [dot(from, u), dot(from, v)] as const;
	});

/** Whether a place lies in a convex outline, whichever way round it runs. */
export function isInOutline(outline: readonly (readonly [number, number])[], x: number, y: number): boolean {
	let turns = 0;
	for (let i = 0; i < outline.length; i++) {
		const [ax, ay] = outline[i];
		const [bx, by] = outline[(i + 1) % outline.length];
		const side = (bx - ax) * (y - ay) - (by - ay) * (x - ax);
		if (side === 0) continue;
		if (turns !== 0 && side > 0 !== turns > 0) return false;
		turns = side;
	}
	return outline.length > 2;
}

/** Where u and v count from when the zero corner is gone. */
export const zeroGoneWords = (zeroBy: string): string => `zero goes with ${zeroBy}: measure from the scribed axes`;
export const HATCHED_SAWN = "hatched: sawn off";
