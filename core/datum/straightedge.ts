/**
 * A relief by straightedge: it lies across the margins, which the three datums stand for, and every place is told by how far
 * along it lies, how far across, and how deep below it.
 */

import { cross, dot, sub, unit, type Vec3 } from "../vector.ts";
import type { Triangle } from "./seatError.ts";

/** mm: from A towards B, square to that towards C's side, and below the plane of the datums (negative over it). */
export interface UnderEdge {
	readonly along: number;
	readonly across: number;
	readonly below: number;
}

/**
 * `out`: any direction that points out of the relief, to the side on which the straightedge lies; same frame as the datums.
 */
export function underEdge(datums: Triangle, out: Vec3, at: Vec3): UnderEdge {
	const [a, b, c] = datums;
	const ex = unit(sub(b, a));
	const normal = unit(cross(sub(b, a), sub(c, a)));
	const ey = cross(normal, ex);
	const d = sub(at, a);
	const height = dot(d, normal);
	return { along: dot(d, ex), across: dot(d, ey), below: dot(normal, out) >= 0 ? 0 - height : height };
}
