/** What a round comes to, for the sheet and the window. */

import { plannedCover } from "./cover.ts";
import type { Ground, RoundRequest, Surface } from "./ground.ts";

/** Why a vertex is not claimed, as an index into `WHY_NOT`. */
export const CLAIMED = 0;
export const BY_EYE = 1;
export const UNDERCUT = 2;
export const NO_ROOM = 3;
export const RIM = 4;
export const LEFT_ROUGH = 5;
export const DOUBTFUL_JOIN = 6;
export const WHY_NOT = ["", "by eye", "undercut", "no room", "rim", "left rough", "doubtful join"] as const;

/** Arrays have one entry per vertex of the mesh. */
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
	/** Points of the spread that were left out because the join keeps its cover without them. */
	readonly spared: number;
	/** h, mm; 0 on ground that carries no points. */
	readonly spacing: Float32Array;
	/** Stone that the flat join leaves over the finished surface, signed mm; NaN where not measured. */
	readonly cover: Float32Array;
	/** 1 where the planned cover is promised: measured, kept, reachable, not by eye. */
	readonly claimed: Uint8Array;
	/** 1 where the planned cover is not kept because the least spacing, or the carver's brush, wins over it. */
	readonly byEye: Uint8Array;
	/** 1 on the ground of undercut points. */
	readonly unreached: Uint8Array;
	/** Index into `WHY_NOT` of every vertex. */
	readonly reason: Uint8Array;
	/** mm² by reason, in the order of `WHY_NOT`, the claimed area first; empty for high points. */
	readonly areaByReason: readonly number[];
	/** mm; null for high points, which carry no limit. The three after it are null also where nothing is claimed. */
	readonly plannedCover: number | null;
	readonly leastCover: number | null;
	readonly leastCoverVertex: number | null;
	readonly greatestCover: number | null;
	/** Share of the ground's area; null for high points. */
	readonly claimedShare: number | null;
}

/** How many points a round took, and how. */
export interface Counts {
	readonly foreseen: number;
	readonly earlier: number;
	readonly placed: number;
	readonly added: number;
	readonly spared: number;
}

/** What the check of a net found, one entry per vertex. */
export interface Measured {
	readonly cover: Float32Array;
	readonly byEye: Uint8Array;
	readonly unreached: Uint8Array;
	readonly reason: Uint8Array;
}

/** `counts.foreseen` of high points is what was found: no spacing foresees them. */
export function reportHighPoints(counts: Counts, spacing: Float32Array): RoundReport {
	const vertices = spacing.length;
	return {
		kind: "high points",
		...counts,
		spacing,
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

export function reportNet(
	ground: Ground,
	surface: Surface,
	request: RoundRequest,
	counts: Counts,
	spacing: Float32Array,
	{ cover, byEye, unreached, reason }: Measured,
): RoundReport {
	const { areas } = ground;
	const { triangleStart } = surface.adjacency;
	const claimed = new Uint8Array(areas.length);
	const areaByReason = new Array<number>(WHY_NOT.length).fill(0);
	let least = Number.POSITIVE_INFINITY;
	let leastVertex = -1;
	let greatest = Number.NEGATIVE_INFINITY;
	let total = 0;
	for (let v = 0; v < areas.length; v++) {
		if (triangleStart[v + 1] === triangleStart[v]) continue;
		total += areas[v];
		areaByReason[reason[v]] += areas[v];
		if (reason[v] !== CLAIMED) continue;
		claimed[v] = 1;
		if (cover[v] < least) {
			least = cover[v];
			leastVertex = v;
		}
		if (cover[v] > greatest) greatest = cover[v];
	}
	const any = leastVertex >= 0;
	return {
		kind: "net",
		...counts,
		spacing,
		cover,
		claimed,
		byEye,
		unreached,
		reason,
		areaByReason,
		plannedCover: plannedCover(request),
		leastCover: any ? least : null,
		leastCoverVertex: any ? leastVertex : null,
		greatestCover: any ? greatest : null,
		claimedShare: total > 0 ? areaByReason[CLAIMED] / total : 0,
	};
}
