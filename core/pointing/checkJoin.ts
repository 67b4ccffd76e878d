/** The check of a round on the scan itself: facets, cover, and points added at the worst places (handbook 6). */

import { type Job, within } from "../job.ts";
import type { Vec3 } from "../vector.ts";
import { plannedCover } from "./cover.ts";
import { HELD, ON_UNDERCUT, PAST_BORDER } from "./facets.ts";
import type { Ground, RoundRequest, Surface, SurfacePoint } from "./ground.ts";
import { Join } from "./join.ts";
import { Neighbourhood } from "./patch.ts";
import { BY_EYE, LEFT_ROUGH, type Measured, NO_ROOM, RIM, UNDERCUT } from "./report.ts";

const STAGE = "checking the cover of the join";
/** mm under the planned cover that still counts as kept: rounding of the covers' 32 bits. */
const COVER_SLACK = 1e-4;
/** Every pass adds at least one point, or gives up at least one place, so this is never the reason to stop on real ground. */
const MOST_PASSES = 400;

/** What the sizing field says of every vertex of the mesh. */
export interface VertexSpacing {
	/** mm */
	readonly spacing: Float32Array;
	/** 1 where the least spacing, or the carver's brush, wins over the cover limit. */
	readonly clamped: Uint8Array;
	/** mm that added points keep from others. */
	readonly leastGap: number;
}

export interface JoinCheck extends Measured {
	/** Vertices of the points added. */
	readonly added: readonly number[];
}

/**
 * Joins `points`, raised by j, and adds points until every vertex keeps the planned cover that is not by eye and can be
 * reached; with `count`, adds at the worst place until the round has that many.
 */
export function* checkJoin(
	ground: Ground,
	surface: Surface,
	request: RoundRequest,
	sizing: VertexSpacing,
	points: readonly SurfacePoint[],
	earlier: number,
	canReach: (v: number) => boolean,
): Job<JoinCheck> {
	const { positions } = ground.mesh;
	const { normals } = ground.field;
	const join = new Join(surface, normals, request.join);
	for (const { vertex, position, normal, reachable } of points) join.enter(vertex, position, normal, reachable);
	yield* within(join.spread(), 0, 0.2);
	const planned = plannedCover(request);
	const added: number[] = [];
	const around = new Neighbourhood(surface);
	const noReach = new Uint8Array(join.front.label.length);
	const room = request.count === null ? Number.POSITIVE_INFINITY : request.count - (points.length - earlier);
	let share = 0.2;
	for (let pass = 0; pass < MOST_PASSES; pass++) {
		share += (0.95 - share) * 0.2;
		yield* within(join.measure(), share, share);
		if (added.length >= room) break;
		const worst = worstPlaces(surface, request, sizing, join, planned, noReach);
		let changed = false;
		const busy = new Uint8Array(join.seeds);
		for (const { vertex, seed } of worst) {
			if (added.length >= room) break;
			if (busy[seed]) continue;
			changed = true;
			if (!canReach(vertex)) {
				around.gather(vertex, sizing.leastGap);
				for (let i = 0; i < around.count; i++) noReach[around.found[i]] = 1;
				continue;
			}
			// Ground that this pass has already changed is measured again before another point is spent on it.
			busy[seed] = 1;
			for (const n of join.facets.neighbours[seed]) busy[n] = 1;
			join.enter(vertex, vec3At(positions, vertex), vec3At(normals, vertex), true);
			join.spreadAtOnce();
			added.push(vertex);
		}
		if (!changed) break;
		yield { stage: STAGE, share };
	}
	const { reason, unreached, byEye } = reasons(surface, sizing, join, planned, noReach);
	return { added, cover: join.cover.cover, byEye, unreached, reason };
}

/** The worst place with room in each cell that still falls short, from the worst of all down; ties by vertex. */
function worstPlaces(
	surface: Surface,
	request: RoundRequest,
	sizing: VertexSpacing,
	join: Join,
	planned: number,
	noReach: Uint8Array,
): { vertex: number; seed: number }[] {
	const { label, cost } = join.front;
	const { cover, state } = join.cover;
	const worst = new Float64Array(join.seeds);
	const at = new Int32Array(join.seeds).fill(-1);
	for (let v = 0; v < label.length; v++) {
		const s = label[v];
		if (s < 0 || !surface.carries[v] || sizing.clamped[v] || noReach[v] || cost[v] < sizing.leastGap) continue;
		let short = planned - COVER_SLACK - cover[v];
		// With a number to spend there is no limit: any sag may be the worst one left.
		if (request.count !== null) short = request.join - cover[v];
		if (state[v] === PAST_BORDER) short = cost[v] > sizing.spacing[v] ? cost[v] : 0;
		if (short > worst[s]) {
			worst[s] = short;
			at[s] = v;
		}
	}
	const list: { vertex: number; seed: number }[] = [];
	for (let s = 0; s < join.seeds; s++) if (at[s] >= 0) list.push({ vertex: at[s], seed: s });
	return list.sort((a, b) => worst[b.seed] - worst[a.seed] || a.vertex - b.vertex);
}

function reasons(
	surface: Surface,
	sizing: VertexSpacing,
	join: Join,
	planned: number,
	noReach: Uint8Array,
): { reason: Uint8Array; unreached: Uint8Array; byEye: Uint8Array } {
	const { label } = join.front;
	const { cover, state } = join.cover;
	const reason = new Uint8Array(label.length);
	const unreached = new Uint8Array(label.length);
	const byEye = new Uint8Array(label.length);
	for (let v = 0; v < label.length; v++) {
		const s = label[v];
		if (!surface.carries[v] || s < 0) {
			reason[v] = LEFT_ROUGH;
			continue;
		}
		const short = !(cover[v] >= planned - COVER_SLACK);
		if (!join.reachable[s] || state[v] === ON_UNDERCUT || (noReach[v] && short)) unreached[v] = 1;
		// The clamp has won only where the limit is broken for it: a low form may keep its cover at the least spacing.
		if (sizing.clamped[v] && short) byEye[v] = 1;
		if (byEye[v]) reason[v] = BY_EYE;
		else if (unreached[v]) reason[v] = UNDERCUT;
		else if (state[v] !== HELD) reason[v] = RIM;
		else if (short) reason[v] = NO_ROOM;
	}
	return { reason, unreached, byEye };
}

const vec3At = (list: Float64Array, i: number): Vec3 => [list[3 * i], list[3 * i + 1], list[3 * i + 2]];
