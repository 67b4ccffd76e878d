/** The check of a round on the scan itself: facets, cover, and points added at the worst places (handbook 6). */

import { type Job, within } from "../job.ts";
import type { Vec3 } from "../vector.ts";
import { doubtFloor, plannedCover, spendOverHollow } from "./cover.ts";
import type { Ground, RoundRequest, Surface, SurfacePoint } from "./ground.ts";
import { Join } from "./join.ts";
import { COVER_SLACK, judgeJoin, type MeasuredJoin, type VertexSpacing } from "./judgeJoin.ts";
import { DOUBTFUL, PAST_BORDER } from "./measureCover.ts";
import { Neighbourhood } from "./patch.ts";
import type { Measured } from "./report.ts";

const STAGE = "checking the cover of the join";
/** Makes millimetres of stone left in a hollow into a rank below a shortfall that counts. */
const HOLLOW_RANK = 1e-3;
/** Makes millimetres from the nearest point into a rank below any shortfall that counts. */
const DOUBT_RANK = 1e-7;
/** Ground past the border of the join gets a point when it lies farther out than this share of the spacing. */
const PAST_SHARE = 0.15;
/** Vertices that are looked at first: on the dragon or an owl about one for every square of 3 mm. */
const SAMPLE = 40_000;
/** Every pass adds at least one point, or gives up at least one place, so this is never the reason to stop on real ground. */
const MOST_PASSES = 400;

export interface JoinCheck extends Measured {
	/** Vertices of the points added. */
	readonly added: readonly number[];
	/** The join itself, among the points that are drilled. */
	readonly measured: MeasuredJoin;
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
	const planned = plannedCover(request);
	const join = new Join(surface, normals, request.join, doubtFloor(request));
	// Undercuts get no hole, so the join does not rest on them.
	for (const { vertex, position, normal, reachable } of points) if (reachable) join.enter(vertex, position, normal);
	yield* within(join.spread(), 0, 0.2);
	join.sampled = sampleOf(join.front.label.length);
	const added: number[] = [];
	const around = new Neighbourhood(surface);
	const noReach = new Uint8Array(join.front.label.length);
	const room = request.count === null ? Number.POSITIVE_INFINITY : request.count - (points.length - earlier);
	let share = 0.2;
	for (let pass = 0; pass < MOST_PASSES; pass++) {
		share += (0.95 - share) * 0.2;
		yield* within(join.measure(), share, share);
		if (added.length >= room) {
			if (join.sampled === null) break;
			join.sampled = null;
			continue;
		}
		const worst = worstPlaces(surface, request, sizing, join, planned, noReach);
		let changed = false;
		const busy = new Uint8Array(join.seeds);
		for (const { vertex, seed } of worst) {
			if (added.length >= room) break;
			// Two cells that only meet at a corner are no neighbours, yet this pass may have put a point into that corner.
			if (busy[seed] || join.front.cost[vertex] < sizing.gap[vertex]) continue;
			changed = true;
			if (!canReach(vertex)) {
				around.gather(vertex, sizing.gap[vertex]);
				for (let i = 0; i < around.count; i++) noReach[around.found[i]] = 1;
				continue;
			}
			// Ground that this pass has already changed is measured again before another point is spent on it.
			busy[seed] = 1;
			for (const n of join.facets.neighbours[seed]) busy[n] = 1;
			join.enter(vertex, vec3At(positions, vertex), vec3At(normals, vertex));
			join.spreadAtOnce();
			added.push(vertex);
		}
		if (!changed) {
			// What the sample finds in order, every vertex is asked about.
			if (join.sampled === null) break;
			join.sampled = null;
		}
		yield { stage: STAGE, share };
	}
	const undercuts = points.filter((point) => !point.reachable);
	const measured: MeasuredJoin = { join, noReach, request, sizing };
	return { added, measured, ...(yield* within(judgeJoin(surface, measured, undercuts), 0.95, 1)) };
}

/**
 * Most points are found on a sample of a dense scan's vertices, a tenth of the work; null where all are few enough. The
 * check ends on every vertex all the same.
 */
function sampleOf(vertices: number): Uint8Array | null {
	const step = Math.floor(vertices / SAMPLE);
	if (step < 2) return null;
	const sample = new Uint8Array(vertices);
	for (let v = 0; v < vertices; v += step) sample[v] = 1;
	return sample;
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
	const { cover, state, past } = join.cover;
	const most = request.join + spendOverHollow(request);
	const worst = new Float64Array(join.seeds);
	const at = new Int32Array(join.seeds).fill(-1);
	for (let v = 0; v < label.length; v++) {
		if (join.sampled && !join.sampled[v]) continue;
		const s = label[v];
		if (s < 0 || !surface.carries[v] || noReach[v] || cost[v] < sizing.gap[v]) continue;
		let short = planned - COVER_SLACK - cover[v];
		// Stone left in a hollow is safe, so hollows come after every place that is cut.
		if (!(short > 0) && cover[v] > most && cost[v] >= sizing.hollowGap[v]) short = HOLLOW_RANK * (cover[v] - most);
		// With a number to spend there is no limit: any sag may be the worst one left.
		if (request.count !== null) short = request.join - cover[v];
		// Doubt comes after every shortfall, and where the points stand farthest first.
		if (state[v] === DOUBTFUL && !(short > 0)) short = DOUBT_RANK * cost[v];
		if (state[v] === PAST_BORDER) {
			// A corner of the scan that the join does not reach; a sliver between two points of the rim is left.
			const beyond = Math.sqrt(Math.max(0, past[v] * past[v] - request.join * request.join));
			short = beyond > PAST_SHARE * sizing.spacing[v] || cost[v] > sizing.spacing[v] ? beyond : 0;
		}
		if (short > worst[s]) {
			worst[s] = short;
			at[s] = v;
		}
	}
	const list: { vertex: number; seed: number }[] = [];
	for (let s = 0; s < join.seeds; s++) if (at[s] >= 0) list.push({ vertex: at[s], seed: s });
	return list.sort((a, b) => worst[b.seed] - worst[a.seed] || a.vertex - b.vertex);
}

const vec3At = (list: Float64Array, i: number): Vec3 => [list[3 * i], list[3 * i + 1], list[3 * i + 2]];
