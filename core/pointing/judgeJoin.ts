/** What of a measured join may be claimed, and why the rest may not (handbook 6). */

import { type Job, within } from "../job.ts";
import { doubtFloor, plannedCover } from "./cover.ts";
import type { RoundRequest, Surface, SurfacePoint } from "./ground.ts";
import type { Join } from "./join.ts";
import { DOUBTFUL, PAST_BORDER } from "./measureCover.ts";
import { BY_EYE, DOUBTFUL_JOIN, LEFT_ROUGH, type Measured, NO_ROOM, RIM, UNDERCUT } from "./report.ts";

/** mm under the planned cover that still counts as kept: rounding of the covers' 32 bits. */
export const COVER_SLACK = 1e-4;

/** What the sizing field says of every vertex of the mesh. */
export interface VertexSpacing {
	/** mm */
	readonly spacing: Float32Array;
	/** 1 where the least spacing, or the carver's brush, wins over the cover limit. */
	readonly clamped: Uint8Array;
	/** mm that added points keep from others. */
	readonly gap: Float32Array;
	/** mm that points added at the bottom of a hollow keep from others; Infinity where the hollow is too narrow for them. */
	readonly hollowGap: Float32Array;
}

/** A join over the points that are drilled, measured, with what was asked of it. */
export interface MeasuredJoin {
	readonly request: RoundRequest;
	readonly sizing: VertexSpacing;
	readonly join: Join;
	/** 1 around places that were to get a point and that no drill reaches. */
	readonly noReach: Uint8Array;
}

/** Judges a join, which is left as it is; `undercuts` are the points that it does not rest on because no drill reaches them. */
export function* judgeJoin(
	surface: Surface,
	{ request, sizing, join, noReach }: MeasuredJoin,
	undercuts: readonly SurfacePoint[],
): Job<Measured> {
	const planned = plannedCover(request);
	const cover = join.cover.cover.slice();
	const drilled = join.seeds;
	// A claim must stand whether or not an undercut is opened after all, so the join is measured with them too. The ground
	// of an undercut is what lies nearer to it than to any point that is drilled.
	const all = undercuts.length > 0 ? join.copy() : join;
	for (const { vertex, position, normal } of undercuts) all.enter(vertex, position, normal);
	yield* within(all.spread(), 0, 0.3);
	yield* within(all.measure(), 0.3, 1);
	const { label } = all.front;
	const unreached = new Uint8Array(cover.length);
	for (let v = 0; v < unreached.length; v++) {
		const s = label[v];
		const kept = cover[v] >= planned - COVER_SLACK;
		const broken = all.cover.state[v] === DOUBTFUL || all.cover.cover[v] < doubtFloor(request);
		if (s < 0 || s >= drilled || (kept ? broken : noReach[v])) unreached[v] = surface.carries[v];
	}
	return { cover, unreached, ...reasons(surface, sizing, cover, join.cover.state, unreached, planned) };
}

/** Why each vertex is not claimed, and where that is because the clamp wins. */
function reasons(
	surface: Surface,
	sizing: VertexSpacing,
	cover: Float32Array,
	state: Uint8Array,
	unreached: Uint8Array,
	planned: number,
): { reason: Uint8Array; byEye: Uint8Array } {
	const reason = new Uint8Array(cover.length);
	const byEye = new Uint8Array(cover.length);
	for (let v = 0; v < cover.length; v++) {
		if (!surface.carries[v]) {
			reason[v] = LEFT_ROUGH;
			continue;
		}
		const short = !(cover[v] >= planned - COVER_SLACK);
		// The clamp has won only where the limit is broken for it: a low form may keep its cover at the least spacing.
		if (sizing.clamped[v] && short) byEye[v] = 1;
		if (byEye[v]) reason[v] = BY_EYE;
		else if (unreached[v]) reason[v] = UNDERCUT;
		else if (state[v] === PAST_BORDER) reason[v] = RIM;
		else if (state[v] === DOUBTFUL) reason[v] = DOUBTFUL_JOIN;
		else if (short) reason[v] = NO_ROOM;
	}
	return { reason, byEye };
}
