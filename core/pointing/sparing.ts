/**
 * Points that the join can spare. The rule of the spacing reads the greater curvature, in every direction and over the
 * whole of a facet, and grading carries the closest spacing outwards; so on ridges, on tubes and around small forms a spread
 * holds more points than its cover calls for. Here each new point is left out on trial, the join is measured again around it,
 * and the point stays out when nothing is lost by it. Every one is a hole that nobody has to drill.
 */

import { type Job, within } from "../job.ts";
import type { Coarse } from "./coarse.ts";
import type { SurfacePoint } from "./ground.ts";
import { Join } from "./join.ts";
import { HELD } from "./measureCover.ts";

const STAGE = "sparing points";
/** Share of what the join may lose that is kept back here, because the patches are coarser than the scan. */
const KEPT_BACK = 0.1;
/** Ground that falls short already may fall shorter by this share of what the join may lose, not more. */
const WORSE = 0.05;
/** A place is never farther from its nearest point than in an even pattern at the greatest spacing: h / √3. */
const FARTHEST = 1 / Math.sqrt(3);

/** A batch of less than one in this many of the points is not worth its measurement. */
const SMALLEST_BATCH = 60;

/** What a join may come to over ground that can carry it, mm. */
export interface Limits {
	readonly allowance: number;
	/** Planned cover: the least. */
	readonly least: number;
	/** Cover below which another way of joining puts the ground in doubt. */
	readonly floor: number;
	/** What a hollow may keep: the most. */
	readonly most: number;
	/** Greatest spacing. */
	readonly spacing: number;
}

/**
 * Which of the points from `firstNew` on can be spared (1). Measured on the patches; `normals` of the patches, unit.
 * Points that cannot be reached are never spared: they are the list of undercuts.
 */
export function* sparePoints(
	coarse: Coarse,
	normals: Float64Array,
	points: readonly SurfacePoint[],
	firstNew: number,
	limits: Limits,
): Job<Uint8Array> {
	const { surface } = coarse;
	const join = new Join(surface, normals, limits.allowance, limits.floor);
	// Undercuts get no hole, so the join does not rest on them. Seeds are numbered by `held`.
	const held = points.flatMap(({ reachable }, i) => (reachable ? [i] : []));
	for (const i of held) join.enter(coarse.patch[points[i].vertex], points[i].position, points[i].normal);
	yield* within(join.spread(), 0, 0.1);
	yield* within(join.measure(), 0.1, 0.2);

	const spared = new Uint8Array(points.length);
	const candidates = byNeed(coarse, join, limits).filter((s) => held[s] >= firstNew);
	const tried = new Uint8Array(held.length);
	let unsettled: number[] = [];
	let left = candidates.length;
	while (left > 0) {
		const { neighbours } = join.facets;
		const busy = new Uint8Array(held.length);
		const occupy = (s: number): void => {
			busy[s] = 1;
			for (const n of neighbours[s]) {
				busy[n] = 1;
				for (const m of neighbours[n]) busy[m] = 1;
			}
		};
		// Where a point has just been put back the cover is measured again together with this batch, not before it.
		for (const s of unsettled) occupy(s);
		const batch: number[] = [];
		for (const s of candidates) {
			// Far enough from the others of the batch that no facet changes for two reasons.
			if (tried[s] || busy[s] || neighbours[s].some((n) => busy[n])) continue;
			tried[s] = 1;
			batch.push(s);
			occupy(s);
		}
		left -= batch.length;
		// The stragglers of crowded ground would take a measurement each; the few that could be spared there stay.
		if (unsettled.length === 0 && batch.length * SMALLEST_BATCH < candidates.length) break;
		unsettled = yield* within(trial(coarse, join, batch, limits), 0.2, 0.2);
		for (const s of batch) spared[held[s]] = 1;
		for (const s of unsettled) spared[held[s]] = 0;
		yield { stage: STAGE, share: 1 - (0.8 * left) / candidates.length };
	}
	return spared;
}

/** Seeds in the order in which they are tried: those whose ground spends least of the allowance first; ties by index. */
function byNeed(coarse: Coarse, join: Join, limits: Limits): number[] {
	const { label } = join.front;
	const { cover, state } = join.cover;
	const spent = new Float64Array(join.seeds);
	const weight = new Float64Array(join.seeds);
	for (let v = 0; v < label.length; v++) {
		const s = label[v];
		if (s < 0 || state[v] !== HELD) continue;
		const lost = limits.allowance - cover[v];
		const share = lost > 0 ? lost / (limits.allowance - limits.least) : lost / (limits.allowance - limits.most);
		spent[s] += coarse.areas[v] * share * share;
		weight[s] += coarse.areas[v];
	}
	const list: number[] = [];
	for (let s = 0; s < join.seeds; s++) {
		if (!(weight[s] > 0)) continue;
		spent[s] /= weight[s];
		list.push(s);
	}
	return list.sort((a, b) => spent[a] - spent[b] || a - b);
}

/** Leaves the batch out, measures, puts back whatever is missed (still to be measured) and returns it. */
function* trial(coarse: Coarse, join: Join, batch: readonly number[], limits: Limits): Job<number[]> {
	const { label, cost } = join.front;
	const { cover, state } = join.cover;
	const spend = limits.allowance - limits.least;
	const least = limits.least + KEPT_BACK * spend;
	const most = limits.most - KEPT_BACK * (limits.most - limits.allowance);
	// Whom a vertex speaks for: the point of the batch in whose neighbourhood it lies.
	const speaksFor = new Int32Array(join.seeds).fill(-1);
	for (const s of batch) {
		speaksFor[s] = s;
		for (const n of join.facets.neighbours[s]) speaksFor[n] = s;
	}
	const judge = new Int32Array(label.length).fill(-1);
	const before = cover.slice();
	const held = state.slice();
	for (let v = 0; v < label.length; v++) if (label[v] >= 0) judge[v] = speaksFor[label[v]];
	join.leaveOut(batch);
	yield* join.measure();
	const missed = new Uint8Array(join.seeds);
	for (let v = 0; v < label.length; v++) {
		const s = judge[v];
		if (s < 0 || missed[s] || !coarse.surface.carries[v]) continue;
		if (cost[v] > FARTHEST * limits.spacing) missed[s] = 1;
		else if (held[v] !== HELD) continue;
		else if (state[v] !== HELD) missed[s] = 1;
		else if (cover[v] < least && cover[v] < before[v] - WORSE * spend) missed[s] = 1;
		else if (cover[v] > most && cover[v] > before[v] + WORSE * spend) missed[s] = 1;
	}
	const back = batch.filter((s) => missed[s]);
	for (const s of back) join.putBack(s);
	join.spreadAtOnce();
	return back;
}
