/**
 * Points in rounds (handbook 6): each round keeps the points of the rounds before, spreads new ones at its own spacing,
 * and is then checked on the scan itself, with points added until its join keeps the planned cover.
 */

import { FIELD_WIDTH } from "../curvature/principalCurvatures.ts";
import { type Job, within } from "../job.ts";
import { Refusal } from "../refusal.ts";
import { buildAdjacency } from "../surface/adjacency.ts";
import type { Vec3 } from "../vector.ts";
import { checkJoin, type JoinCheck, type VertexSpacing } from "./checkJoin.ts";
import { type Coarse, gatherPatches, patchNormals } from "./coarse.ts";
import { formScales } from "./formScales.ts";
import type { Ground, Pick, PointKind, Reach, RoundRequest, Surface, SurfacePoint } from "./ground.ts";
import { findHighPoints } from "./highPoints.ts";
import { nearestVertices } from "./nearestVertices.ts";
import { Settler } from "./settle.ts";
import { mostSpacing, plannedCover, type Spacing, sizingField } from "./spacing.ts";
import { spreadPoints } from "./spread.ts";

/** Why a vertex is not claimed; `CLAIMED` where it is. Index into `WHY_NOT`. */
export const CLAIMED = 0;
export const WHY_NOT = ["", "by eye", "undercut", "no room", "rim", "left rough"] as const;

/** What a round comes to. Arrays have one entry per vertex of the mesh. */
export interface RoundReport {
	readonly kind: "high points" | "net";
	/** ∫ 2 / (√3 h²) dA: the points that this round's spacing asks for, those of earlier rounds among them. */
	readonly foreseen: number;
	/** Points of earlier rounds that stay and count for this one. */
	readonly earlier: number;
	/** New points of this round, undercuts among them. */
	readonly placed: number;
	/** Of those, points that the check added. */
	readonly added: number;
	/** h, mm; 0 on ground that carries no points. */
	readonly spacing: Float32Array;
	/** Stone that the flat join leaves over the finished surface, signed mm; NaN where not measured. */
	readonly cover: Float32Array;
	/** 1 where the planned cover is promised: measured, reachable, not by eye. */
	readonly claimed: Uint8Array;
	/** 1 where the least spacing wins over the cover limit. */
	readonly byEye: Uint8Array;
	/** 1 on the ground of undercut points. */
	readonly unreached: Uint8Array;
	/** Index into `WHY_NOT` of every vertex. */
	readonly reason: Uint8Array;
	/** mm² by reason, in the order of `WHY_NOT`; the first is the claimed area. */
	readonly areaByReason: readonly number[];
	/** mm; null for high points, which carry no limit, and where nothing is claimed. */
	readonly plannedCover: number | null;
	readonly leastCover: number | null;
	readonly leastCoverVertex: number | null;
	readonly greatestCover: number | null;
	/** Share of the ground's area. */
	readonly claimedShare: number | null;
}

export interface PointedGround {
	readonly points: readonly SurfacePoint[];
	readonly rounds: readonly RoundReport[];
}

/** Covering distance of the spread, in spacings, at which as many points stand as are foreseen. */
const SPREAD_GAP = 0.75;
const EVENINGS = 10;
/** mm; size of the patches in which the ground is shared out. */
const PATCH = 3;

/** Chooses the points of every round in turn. `requests` in order of work; `picks` belong to the first. */
export function* placeRounds(
	ground: Ground,
	requests: readonly RoundRequest[],
	picks: readonly Pick[],
	reach: Reach,
): Job<PointedGround> {
	if (requests.length === 0) throw new Refusal("pointing.noRounds");
	for (const request of requests) {
		plannedCover(request);
		if (request.count !== null && !(request.count >= 1 && Number.isInteger(request.count)))
			throw new Refusal("pointing.count", { round: request.round + 1, count: request.count });
	}
	const surface = pointingSurface(ground);
	const points: SurfacePoint[] = [];
	const canReach = (v: number, round: number): boolean => {
		const p = ground.mesh.positions;
		const n = ground.field.normals;
		return reach(p[3 * v], p[3 * v + 1], p[3 * v + 2], n[3 * v], n[3 * v + 1], n[3 * v + 2], round);
	};
	const enter = (v: number, round: number, kind: PointKind, reachable: boolean, at?: Vec3): void => {
		const p = ground.mesh.positions;
		const n = ground.field.normals;
		points.push({
			vertex: v,
			position: at ?? [p[3 * v], p[3 * v + 1], p[3 * v + 2]],
			normal: [n[3 * v], n[3 * v + 1], n[3 * v + 2]],
			round,
			kind,
			reachable,
			byEye: false,
			reason: reachable ? "" : "undercut",
		});
	};

	const first = requests[0].round;
	nearestVertices(ground, surface, picks).forEach((v, i) => {
		if (v < 0) throw new Refusal("pointing.pickOffGround", { pick: i + 1, at: picks[i].position });
		const at = picks[i].position;
		const n = ground.field.normals;
		enter(v, first, "picked", reach(at[0], at[1], at[2], n[3 * v], n[3 * v + 1], n[3 * v + 2], first), at);
	});

	const coarse = gatherPatches(surface, ground.areas, PATCH);
	yield { stage: "gathering the ground", share: 0.02 };
	const brushed = brushedPatches(ground, surface, coarse);
	const fieldWidth = FIELD_WIDTH * ground.smallestForm;
	const scales = yield* within(
		formScales(coarse, PATCH, ground.areas, ground.field, fieldWidth, mostSpacing(ground.height)),
		0.02,
		0.1,
	);
	const normals = patchNormals(coarse, ground.areas, ground.field.normals);
	const settler = new Settler(ground, surface, coarse);
	const rounds: RoundReport[] = [];
	for (let i = 0; i < requests.length; i++) {
		const request = requests[i];
		const { round } = request;
		// High points are those of the great forms: what facets of the greatest spacing see.
		const high = request.kind === "high points";
		const from = 0.1 + (0.9 * i) / requests.length;
		const step = 0.9 / requests.length;
		const sized = yield* within(
			sizingField(coarse, high ? scales.slice(-1) : scales, ground.height, brushed, request),
			from,
			from + 0.1 * step,
		);
		const sizing = toVertices(surface, coarse, sized);
		const reachHere = (v: number): boolean => canReach(v, round);
		// An undercut of an earlier round may lie within reach of this round's drill: then it is this round's point.
		for (let k = 0; k < points.length; k++) {
			const point = points[k];
			if (point.reachable || point.round === round || !reachHere(point.vertex)) continue;
			points[k] = { ...point, round, reachable: true, reason: "" };
		}
		const earlier = points.length;
		const fixed = points.map((p) => coarse.patch[p.vertex]);
		const spend = request.join - plannedCover(request);
		const settle = (c: number, at: Float64Array): { vertex: number; reachable: boolean } =>
			settler.settle(c, at, sized.spacing[c], spend, reachHere);
		if (high) {
			const summit = (c: number): { vertex: number; reachable: boolean } =>
				settler.summit(c, sized.spacing[c], reachHere);
			const found = yield* within(
				findHighPoints(coarse, normals, sized.spacing, fixed, (c) => summit(c).reachable),
				from + 0.1 * step,
				from + step,
			);
			for (const c of found.slice(0, request.count ?? found.length)) enter(summit(c).vertex, round, "high point", true);
			rounds.push(reportHighPoints(sizing, points.length - earlier));
			continue;
		}
		const spread = yield* within(
			spreadPoints(coarse, normals, sized.aim, fixed, Float64Array.from(points.flatMap((p) => p.position)), {
				gap: SPREAD_GAP,
				most: request.count ?? Number.POSITIVE_INFINITY,
				evenings: EVENINGS,
			}),
			from + 0.1 * step,
			from + 0.4 * step,
		);
		for (let k = 0; k < spread.patches.length; k++) {
			const { vertex, reachable } = settle(spread.patches[k], spread.places.subarray(3 * k, 3 * k + 3));
			enter(vertex, round, "net", reachable);
		}
		const check = yield* within(
			checkJoin(ground, surface, request, sizing, points, earlier, canReach),
			from + 0.4 * step,
			from + step,
		);
		for (const v of check.added) enter(v, round, "added", true);
		for (let k = earlier; k < points.length; k++) {
			if (!check.byEye[points[k].vertex]) continue;
			points[k] = { ...points[k], byEye: true, reason: points[k].reason || "by eye" };
		}
		rounds.push(reportNet(ground, surface, request, sizing, sized.foreseen, check, earlier, points.length - earlier));
	}
	return { points, rounds };
}

/** The ground without the backing; a vertex carries points when a triangle of the scan with area touches it. */
function pointingSurface(ground: Ground): Surface {
	const { mesh, firstAddedTriangle, areas, brushed } = ground;
	const whole = firstAddedTriangle === undefined || 3 * firstAddedTriangle >= mesh.triangles.length;
	const own = whole
		? mesh
		: { positions: mesh.positions, triangles: mesh.triangles.subarray(0, 3 * (firstAddedTriangle as number)) };
	const adjacency = whole ? ground.adjacency : buildAdjacency(own);
	const carries = new Uint8Array(areas.length);
	let any = false;
	for (let v = 0; v < carries.length; v++) {
		if (adjacency.triangleStart[v + 1] === adjacency.triangleStart[v]) continue;
		if (!(areas[v] > 0) || (brushed && !(brushed[v] > 0))) continue;
		carries[v] = 1;
		any = true;
	}
	if (!any) throw new Refusal("pointing.noGround", { triangles: own.triangles.length / 3 });
	return { mesh: own, adjacency, carries };
}

/** Mean brushed factor of the ground of each patch that carries points; null without a brush. */
function brushedPatches(ground: Ground, surface: Surface, coarse: Coarse): Float32Array | null {
	const { brushed, areas } = ground;
	if (!brushed) return null;
	const factor = new Float32Array(coarse.areas.length).fill(1);
	for (let c = 0; c < factor.length; c++) {
		let sum = 0;
		let weight = 0;
		for (let i = coarse.memberStart[c]; i < coarse.memberStart[c + 1]; i++) {
			const v = coarse.memberList[i];
			if (!surface.carries[v]) continue;
			sum += areas[v] * brushed[v];
			weight += areas[v];
		}
		if (weight > 0) factor[c] = sum / weight;
	}
	return factor;
}

/** The sizing field of the patches handed on to their vertices. */
function toVertices(surface: Surface, coarse: Coarse, sizing: Spacing): VertexSpacing {
	const vertices = surface.carries.length;
	const spacing = new Float32Array(vertices);
	const clamped = new Uint8Array(vertices);
	for (let v = 0; v < vertices; v++) {
		if (!surface.carries[v]) continue;
		spacing[v] = sizing.spacing[coarse.patch[v]];
		clamped[v] = sizing.clamped[coarse.patch[v]];
	}
	return { spacing, clamped, leastGap: sizing.leastGap };
}

function reportHighPoints(sizing: VertexSpacing, placed: number): RoundReport {
	const vertices = sizing.spacing.length;
	return {
		kind: "high points",
		foreseen: placed,
		earlier: 0,
		placed,
		added: 0,
		spacing: sizing.spacing,
		cover: new Float32Array(vertices).fill(Number.NaN),
		claimed: new Uint8Array(vertices),
		byEye: new Uint8Array(vertices),
		unreached: new Uint8Array(vertices),
		reason: new Uint8Array(vertices),
		areaByReason: [],
		plannedCover: null,
		leastCover: null,
		leastCoverVertex: null,
		greatestCover: null,
		claimedShare: null,
	};
}

function reportNet(
	ground: Ground,
	surface: Surface,
	request: RoundRequest,
	sizing: VertexSpacing,
	foreseen: number,
	check: JoinCheck,
	earlier: number,
	placed: number,
): RoundReport {
	const { areas } = ground;
	const claimed = new Uint8Array(areas.length);
	const areaByReason = new Array<number>(WHY_NOT.length).fill(0);
	let least = Number.POSITIVE_INFINITY;
	let leastVertex = -1;
	let greatest = Number.NEGATIVE_INFINITY;
	let total = 0;
	for (let v = 0; v < areas.length; v++) {
		if (surface.adjacency.triangleStart[v + 1] === surface.adjacency.triangleStart[v]) continue;
		total += areas[v];
		areaByReason[check.reason[v]] += areas[v];
		if (check.reason[v] !== CLAIMED) continue;
		claimed[v] = 1;
		if (check.cover[v] < least) {
			least = check.cover[v];
			leastVertex = v;
		}
		if (check.cover[v] > greatest) greatest = check.cover[v];
	}
	const any = leastVertex >= 0;
	return {
		kind: "net",
		foreseen,
		earlier,
		placed,
		added: check.added.length,
		spacing: sizing.spacing,
		cover: check.cover,
		claimed,
		byEye: check.byEye,
		unreached: check.unreached,
		reason: check.reason,
		areaByReason,
		plannedCover: plannedCover(request),
		leastCover: any ? least : null,
		leastCoverVertex: any ? leastVertex : null,
		greatestCover: any ? greatest : null,
		claimedShare: total > 0 ? areaByReason[CLAIMED] / total : 0,
	};
}
