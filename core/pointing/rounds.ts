/**
 * Points in rounds (handbook 6): each round keeps the points of the rounds before, spreads new ones at its own spacing,
 * leaves out those that the join can spare, and is then checked on the scan itself, with points added until its join keeps
 * the planned cover.
 */

import { type Job, within } from "../job.ts";
import { Refusal } from "../refusal.ts";
import { distance } from "../vector.ts";
import { checkJoin } from "./checkJoin.ts";
import { doubtFloor, plannedCover, spendOf, spendOverHollow } from "./cover.ts";
import type { DrilledHole, Ground, Pick, Reach, RoundRequest, Surface, SurfacePoint } from "./ground.ts";
import { findHighPoints } from "./highPoints.ts";
import type { MeasuredJoin, VertexSpacing } from "./judgeJoin.ts";
import { nearestVertices } from "./nearestVertices.ts";
import { PointList } from "./points.ts";
import { type PreparedGround, prepareGround } from "./prepare.ts";
import { type Counts, type RoundReport, reportHighPoints, reportNet } from "./report.ts";
import { Settler } from "./settle.ts";
import { type Spacing, sizingField } from "./spacing.ts";
import { sparePoints } from "./sparing.ts";
import { spreadPoints } from "./spread.ts";

export type { RoundReport } from "./report.ts";

export interface PointedGround {
	readonly points: readonly SurfacePoint[];
	/** In the order of the requests. */
	readonly rounds: readonly RoundReport[];
	/** The joins of the nets, so that a net can be judged again when not every point is drilled; null for high points. */
	readonly joins: readonly (PlacedJoin | null)[];
	readonly ground: Ground;
	readonly surface: Surface;
}

/** The join of one net as it was placed. */
export interface PlacedJoin {
	readonly measured: MeasuredJoin;
	readonly counts: Counts;
	/** So many of the points, from the first on, had been placed when it was measured. */
	readonly placed: number;
}

/** Covering distance of the spread, in spacings, at which as many points stand as are foreseen. */
const SPREAD_GAP = 0.75;
/** mm; a pick so near to a drilled point is that point. */
const SAME_PLACE = 1;
/** How often the spread is evened out; more changes little. */
const EVENINGS = 10;
/**
 * A high point stands prouder of the mean of its neighbourhood than even ground does at the rule's own spacing h: on a
 * sphere that is h² k/16, with h² k = 6 × what the join may lose.
 */
const PROUD_SHARE = 6 / 16;
/** Of a given number of points this share is spread; the rest goes where the measured sag is worst. */
const COUNT_SPREAD = 0.6;

/**
 * Chooses the points of every round in turn. `requests` in order of work; `picks` belong to the first. `reach` is asked
 * once per place and round, and only for places that are to carry a point. `drilled` points stay where they are, in their
 * round, with their numbers; the rest is spread between them.
 */
export function* placeRounds(
	ground: Ground,
	requests: readonly RoundRequest[],
	picks: readonly Pick[],
	reach: Reach,
	drilled: readonly DrilledHole[] = [],
): Job<PointedGround> {
	checkRequests(requests);
	const prepared = yield* within(prepareGround(ground), 0, 0.1);
	const list = new PointList(ground, reach);
	const wanted = picks.filter((pick) => !drilled.some((hole) => distance(hole.position, pick.position) < SAME_PLACE));
	for (const [i, v] of nearestVertices(ground, prepared.surface, wanted).entries())
		list.enterPicked(v, wanted[i].position, requests[0].round);
	const holes = nearestVertices(ground, prepared.surface, drilled, "pointing.drilledOffGround");
	const settler = new Settler(ground, prepared.surface, prepared.coarse);
	const rounds: RoundReport[] = [];
	const joins: (PlacedJoin | null)[] = [];
	for (const [i, request] of requests.entries()) {
		const place = request.kind === "high points" ? placeHighPoints : placeNet;
		const from = 0.1 + (0.9 * i) / requests.length;
		const before = list.points.length;
		// What is drilled for a round that was since left out counts with the last one.
		for (const [k, v] of holes.entries())
			if (Math.min(drilled[k].round, requests.length - 1) === i)
				list.enterDrilled(v, { ...drilled[k], round: request.round });
		const already = list.points.length - before;
		const placed = yield* within(place(prepared, request, list, settler, already), from, from + 0.9 / requests.length);
		rounds.push(placed.report);
		joins.push(placed.join);
	}
	return { points: list.points, rounds, joins, ground, surface: prepared.surface };
}

function checkRequests(requests: readonly RoundRequest[]): void {
	if (requests.length === 0) throw new Refusal("pointing.noRounds");
	for (const request of requests) {
		// Refuses a join that the reserve uses up before any work is done.
		spendOf(request);
		const { count, round } = request;
		if (count !== null && !(count >= 1 && Number.isInteger(count)))
			throw new Refusal("pointing.count", { round: round + 1, count });
	}
}

interface PlacedRound {
	readonly report: RoundReport;
	readonly join: PlacedJoin | null;
}

function* placeHighPoints(
	prepared: PreparedGround,
	request: RoundRequest,
	list: PointList,
	settler: Settler,
	already: number,
): Job<PlacedRound> {
	const { ground, coarse, normals, scales, brushed } = prepared;
	const { round, count } = request;
	// High points are those of the great forms: what facets of the greatest spacing see.
	const great = scales.slice(-1);
	const sized = yield* within(sizingField(coarse, great, ground.height, brushed, request), 0, 0.4);
	const taken = list.points.map((p) => coarse.patch[p.vertex]);
	const summit = (c: number): { vertex: number; reachable: boolean } =>
		settler.summit(c, sized.aim[c], (v) => list.canReach(v, round));
	const found = yield* within(
		findHighPoints(coarse, normals, sized.aim, taken, PROUD_SHARE * spendOf(request), (c) => summit(c).reachable),
		0.4,
		1,
	);
	const chosen = Math.min(found.length, count === null ? found.length : Math.max(0, count - already));
	const placed = already + chosen;
	for (const c of found.slice(0, chosen)) list.enter(summit(c).vertex, round, "high point", true);
	const counts = { foreseen: placed, earlier: taken.length - already, placed, added: 0, spared: 0 };
	return { report: reportHighPoints(counts, toVertices(prepared, sized).spacing), join: null };
}

function* placeNet(
	prepared: PreparedGround,
	request: RoundRequest,
	list: PointList,
	settler: Settler,
	already: number,
): Job<PlacedRound> {
	const { ground, surface, coarse, normals, scales, brushed } = prepared;
	const { round, count } = request;
	const canReach = (v: number): boolean => list.canReach(v, round);
	const sized = yield* within(sizingField(coarse, scales, ground.height, brushed, request), 0, 0.1);
	list.takeOver(round);
	const held = list.points.length;
	const earlier = held - already;

	const spread = yield* within(
		spreadPoints(
			coarse,
			normals,
			sized.aim,
			list.points.map((p) => coarse.patch[p.vertex]),
			Float64Array.from(list.points.flatMap((p) => p.position)),
			{
				gap: SPREAD_GAP,
				most: count === null ? Number.POSITIVE_INFINITY : Math.max(0, Math.ceil(COUNT_SPREAD * count) - already),
				evenings: EVENINGS,
			},
		),
		0.1,
		0.35,
	);
	const spend = spendOf(request);
	for (const [k, c] of spread.patches.entries()) {
		const at = spread.places.subarray(3 * k, 3 * k + 3);
		const { vertex, reachable } = settler.settle(c, at, sized.spacing[c], spend, canReach);
		list.enter(vertex, round, "net", reachable);
		if (k % 8 === 7) yield { stage: "settling the points", share: 0.35 + (0.15 * k) / spread.patches.length };
	}
	let spared = 0;
	if (count === null) {
		const limits = {
			allowance: request.join,
			least: plannedCover(request),
			floor: doubtFloor(request),
			most: request.join + spendOverHollow(request),
			spacing: sized.most,
		};
		spared = list.drop(yield* within(sparePoints(coarse, normals, list.points, held, limits), 0.5, 0.65));
	}

	const sizing = toVertices(prepared, sized);
	const check = yield* within(checkJoin(ground, surface, request, sizing, list.points, earlier, canReach), 0.65, 1);
	for (const v of check.added) list.enter(v, round, "added", true);
	list.markByEye(earlier, check.byEye);
	const placed = list.points.length - earlier;
	const counts = { foreseen: sized.foreseen, earlier, placed, added: check.added.length, spared };
	const join = { measured: check.measured, counts, placed: list.points.length };
	return { report: reportNet(ground, surface, request, counts, sizing.spacing, check), join };
}

/** The sizing field of the patches handed on to their vertices. */
function toVertices({ surface, coarse }: PreparedGround, sizing: Spacing): VertexSpacing {
	const vertices = surface.carries.length;
	const spacing = new Float32Array(vertices);
	const gap = new Float32Array(vertices);
	const hollowGap = new Float32Array(vertices);
	const clamped = new Uint8Array(vertices);
	for (let v = 0; v < vertices; v++) {
		if (!surface.carries[v]) continue;
		spacing[v] = sizing.spacing[coarse.patch[v]];
		gap[v] = sizing.gap[coarse.patch[v]];
		hollowGap[v] = sizing.hollowGap[coarse.patch[v]];
		clamped[v] = sizing.clamped[coarse.patch[v]];
	}
	return { spacing, gap, hollowGap, clamped };
}
