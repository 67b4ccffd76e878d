/**
 * Points in rounds (handbook 6): each round keeps the points of the rounds before, spreads new ones at its own spacing,
 * and is then checked on the scan itself, with points added until its join keeps the planned cover.
 */

import { type Job, within } from "../job.ts";
import { Refusal } from "../refusal.ts";
import { buildAdjacency } from "../surface/adjacency.ts";
import type { Vec3 } from "../vector.ts";
import { checkJoin, type JoinCheck } from "./checkJoin.ts";
import type { Ground, Pick, PointKind, Reach, RoundRequest, Surface, SurfacePoint } from "./ground.ts";
import { findHighPoints } from "./highPoints.ts";
import { nearestVertices } from "./nearestVertices.ts";
import { plannedCover, type Spacing, sizingField } from "./spacing.ts";
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
const EVENINGS = 5;
/** An undercut point is tried at this many other places of its cell before it is listed. */
const OTHER_PLACES = 6;

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
	const enter = (v: number, round: number, kind: PointKind, byEye: boolean, reachable: boolean, at?: Vec3): void => {
		const p = ground.mesh.positions;
		const n = ground.field.normals;
		points.push({
			vertex: v,
			position: at ?? [p[3 * v], p[3 * v + 1], p[3 * v + 2]],
			normal: [n[3 * v], n[3 * v + 1], n[3 * v + 2]],
			round,
			kind,
			reachable,
			byEye,
			reason: reachable ? (byEye ? "by eye" : "") : "undercut",
		});
	};

	const first = requests[0].round;
	nearestVertices(ground, surface, picks).forEach((v, i) => {
		if (v < 0) throw new Refusal("pointing.pickOffGround", { pick: i + 1, at: picks[i].position });
		const at = picks[i].position;
		const n = ground.field.normals;
		enter(v, first, "picked", false, reach(at[0], at[1], at[2], n[3 * v], n[3 * v + 1], n[3 * v + 2], first), at);
	});

	const rounds: RoundReport[] = [];
	for (let i = 0; i < requests.length; i++) {
		const request = requests[i];
		const from = i / requests.length;
		const step = 1 / requests.length;
		const sizing = yield* within(sizingField(ground, surface, request), from, from + 0.1 * step);
		// An undercut of an earlier round may lie within reach of this round's drill: then it is this round's point.
		for (let k = 0; k < points.length; k++) {
			const point = points[k];
			if (point.reachable || point.round === request.round || !canReach(point.vertex, request.round)) continue;
			points[k] = { ...point, round: request.round, reachable: true, reason: point.byEye ? "by eye" : "" };
		}
		const earlier = points.length;
		if (request.kind === "high points") {
			const usable = (v: number): boolean => canReach(v, request.round);
			const taken = points.map((p) => p.vertex);
			const high = yield* within(
				findHighPoints(ground, surface, sizing.spacing, taken, usable),
				from + 0.1 * step,
				from + step,
			);
			for (const v of high.slice(0, request.count ?? high.length)) enter(v, request.round, "high point", false, true);
			rounds.push(reportHighPoints(surface, sizing, points.length - earlier));
			continue;
		}
		const spread = yield* within(
			spreadPoints(
				surface,
				ground.areas,
				sizing.spacing,
				points.map((p) => p.vertex),
				{ gap: SPREAD_GAP, most: request.count ?? Number.POSITIVE_INFINITY, evenings: EVENINGS },
			),
			from + 0.1 * step,
			from + 0.5 * step,
		);
		for (const v of spread) {
			const other = canReach(v, request.round) ? v : otherPlace(ground, surface, sizing, v, request.round, canReach);
			enter(other < 0 ? v : other, request.round, "net", sizing.byEye[v] === 1, other >= 0);
		}
		const check = yield* within(
			checkJoin(ground, surface, request, sizing, points, earlier, canReach),
			from + 0.5 * step,
			from + step,
		);
		for (const v of check.added) enter(v, request.round, "added", sizing.byEye[v] === 1, true);
		rounds.push(reportNet(ground, surface, request, sizing, check, earlier, points.length - earlier));
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

/** Another vertex within a third of a spacing of v that can be reached, or -1: a few, spread over the ground around it. */
function otherPlace(
	ground: Ground,
	surface: Surface,
	sizing: Spacing,
	v: number,
	round: number,
	canReach: (v: number, round: number) => boolean,
): number {
	const { neighbourStart, neighbourList } = surface.adjacency;
	const p = ground.mesh.positions;
	const radius = sizing.spacing[v] / 3;
	const seen = new Set([v]);
	const patch = [v];
	for (let next = 0; next < patch.length; next++) {
		const u = patch[next];
		for (let i = neighbourStart[u]; i < neighbourStart[u + 1]; i++) {
			const w = neighbourList[i];
			if (seen.has(w)) continue;
			seen.add(w);
			const dx = p[3 * w] - p[3 * v];
			const dy = p[3 * w + 1] - p[3 * v + 1];
			const dz = p[3 * w + 2] - p[3 * v + 2];
			if (dx * dx + dy * dy + dz * dz <= radius * radius && surface.carries[w]) patch.push(w);
		}
	}
	// The patch lists vertices outwards; its outer half in even steps samples all directions.
	const half = patch.length >> 1;
	for (let i = 1; i <= OTHER_PLACES; i++) {
		const w = patch[half + Math.floor(((patch.length - 1 - half) * i) / OTHER_PLACES)];
		if (w !== v && canReach(w, round)) return w;
	}
	return -1;
}

function reportHighPoints(surface: Surface, sizing: Spacing, placed: number): RoundReport {
	const vertices = surface.carries.length;
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
	sizing: Spacing,
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
		foreseen: sizing.foreseen,
		earlier,
		placed,
		added: check.added.length,
		spacing: sizing.spacing,
		cover: check.cover,
		claimed,
		byEye: sizing.byEye,
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
