/** How far apart points may stand so that a flat join between them keeps its cover (handbook 6). */

import { type Job, within } from "../job.ts";
import { Refusal } from "../refusal.ts";
import { Front } from "./front.ts";
import type { Ground, RoundRequest, Surface } from "./ground.ts";

/** mm kept out of the join allowance for everything that the rule does not see; never under j / 4. */
const LEAST_RESERVE = 0.5;
/** mm; below this points crowd each other on any figure (common practice, no source). */
const LEAST_SPACING = 10;
/** mm; the same where the carver has brushed for detail. */
const LEAST_SPACING_BRUSHED = 5;
/** mm, figures up to half a metre and above (common practice, no source). */
const MOST_SPACING = 60;
const MOST_SPACING_LARGE = 120;
const LARGE_HEIGHT = 500;
/** Neighbouring spacings differ by no more than this share of their distance. */
const GRADING = 0.3;

/** Stone kept in reserve at join allowance j, mm. Refused when nothing is left to spend. */
export function reserveAt(join: number, round: number): number {
	const reserve = Math.max(LEAST_RESERVE, join / 4);
	if (!(join > reserve)) throw new Refusal("pointing.joinTooSmall", { round: round + 1, join, least: LEAST_RESERVE });
	return reserve;
}

/** Cover that a join is planned with, mm: j − f (j − reserve); below zero only at an eye factor over 1. */
export function plannedCover(request: RoundRequest): number {
	return request.join - request.eyeFactor * (request.join - reserveAt(request.join, request.round));
}

/** Spacing at which a flat join over a bulge of curvature k1 > 0 spends `spend` mm of its allowance j, mm. */
const bulgingSpacing = (k1: number, join: number, spend: number): number =>
	Math.sqrt((6 * spend) / (k1 * (1 + join * k1)));
/** Spacing at which a flat join over a hollow of curvature k2 < 0 leaves `spend` mm of stone over its allowance, mm. */
const hollowSpacing = (k2: number, spend: number): number => Math.sqrt((6 * spend) / -k2);

/** Least spacing in ground that is not brushed, mm. */
export const leastSpacing = (drill: number): number => Math.max(LEAST_SPACING, 2 * drill);
/** Greatest spacing, mm, for a figure of that height. */
export const mostSpacing = (height: number): number => (height <= LARGE_HEIGHT ? MOST_SPACING : MOST_SPACING_LARGE);

export interface Spacing {
	/** h at every vertex, mm; clamped, graded and brushed. */
	readonly spacing: Float32Array;
	/** 1 where the least spacing, or the carver's brush, wins over the cover limit. */
	readonly byEye: Uint8Array;
	/** ∫ 2 / (√3 h²) dA over the ground that carries points. */
	readonly foreseen: number;
	/** Half of the least spacing of this round, mm: added points come no nearer to another. */
	readonly leastGap: number;
}

/** The sizing field of a round. */
export function* sizingField(ground: Ground, surface: Surface, request: RoundRequest): Job<Spacing> {
	const stage = "working out the spacing";
	const { field, brushed } = ground;
	const vertices = field.k1.length;
	const least = leastSpacing(request.drill);
	const leastBrushed = Math.max(LEAST_SPACING_BRUSHED, 2 * request.drill);
	const most = Math.max(mostSpacing(ground.height), least);
	const { join: j, eyeFactor: f } = request;
	const spend = f * (j - reserveAt(j, request.round));
	const spendHollow = Math.max(2 * j, spend);

	const byEye = new Uint8Array(vertices);
	const clamped = new Float64Array(vertices).fill(Number.POSITIVE_INFINITY);
	let finest = least;
	for (let v = 0; v < vertices; v++) {
		if (!surface.carries[v]) continue;
		const k1 = field.k1[v];
		const k2 = field.k2[v];
		const factor = brushed ? brushed[v] : 1;
		const low = factor < 1 ? leastBrushed : least;
		if (low < finest) finest = low;
		let h = most;
		if (k1 > 0) {
			const bulging = bulgingSpacing(k1, j, spend);
			// Ground that the carver has brushed wider is read from the model, whatever the limit says.
			if (bulging < low || factor > 1) byEye[v] = 1;
			if (bulging < h) h = bulging;
		}
		if (k2 < 0) {
			const hollow = hollowSpacing(k2, spendHollow);
			if (hollow < h) h = hollow;
		}
		clamped[v] = Math.max(h, low);
	}
	yield { stage, share: 0.2 };

	// Grading is a front that starts everywhere at the clamped spacing and rises by 30 % of the way it goes.
	const front = new Front(surface.mesh, surface.adjacency, new Float32Array(vertices).fill(GRADING));
	const { neighbourStart, neighbourList } = surface.adjacency;
	const p = surface.mesh.positions;
	front.cost.set(clamped);
	front.label.fill(0);
	for (let v = 0; v < vertices; v++) {
		const h = clamped[v];
		if (!(h < most)) continue;
		// Only where it holds a neighbour down does a vertex have to start.
		for (let i = neighbourStart[v]; i < neighbourStart[v + 1]; i++) {
			const w = neighbourList[i];
			const dx = p[3 * w] - p[3 * v];
			const dy = p[3 * w + 1] - p[3 * v + 1];
			const dz = p[3 * w + 2] - p[3 * v + 2];
			if (clamped[w] > h + GRADING * Math.sqrt(dx * dx + dy * dy + dz * dz)) {
				front.start(v);
				break;
			}
		}
	}
	yield* within(front.spread(stage, 0.5), 0.2, 0.9);

	const spacing = new Float32Array(vertices);
	let foreseen = 0;
	const density = 2 / Math.sqrt(3);
	for (let v = 0; v < vertices; v++) {
		if (!surface.carries[v]) continue;
		const factor = brushed ? brushed[v] : 1;
		const low = factor < 1 ? leastBrushed : least;
		const h = Math.min(2 * most, Math.max(low, front.cost[v] * factor));
		spacing[v] = h;
		foreseen += (density * ground.areas[v]) / (h * h);
	}
	yield { stage, share: 1 };
	return { spacing, byEye, foreseen, leastGap: finest / 2 };
}
