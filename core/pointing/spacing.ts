/** How far apart points may stand so that a flat join between them keeps its cover (handbook 6). */

import { type Job, within } from "../job.ts";
import type { Coarse } from "./coarse.ts";
import { spendOf, spendOverHollow } from "./cover.ts";
import type { FormScale } from "./formScales.ts";
import { Front } from "./front.ts";
import type { RoundRequest } from "./ground.ts";

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

/**
 * A spread is never the perfect pattern of the rule: points are spread closer by this factor, because one point added later
 * for every facet that just fails costs more.
 */
const TIGHTER = 0.87;
/**
 * A ridge or a small form asks for its close spacing where it is, not all around it. So points are spread at the spacing
 * that the gentlest ground nearby allows, losing this much of it for each millimetre on the way, and ridges get theirs where
 * the measured join falls short. On even ground this is the rule itself.
 */
const LOOSENING = 1;

/** Greatest spacing, mm, for a figure of that height. */
export const mostSpacing = (height: number): number => (height <= LARGE_HEIGHT ? MOST_SPACING : MOST_SPACING_LARGE);

export interface Spacing {
	/** h of every patch, mm; clamped, graded and brushed. */
	readonly spacing: Float32Array;
	/** Spacing to spread at, mm: the widest that the rule allows nearby; what it leaves open is asked for by the check. */
	readonly aim: Float32Array;
	/** mm that points which the check adds keep from others. */
	readonly gap: Float32Array;
	/** 1 where the least spacing, or the carver's brush, wins over the cover limit. */
	readonly clamped: Uint8Array;
	/** ∫ 2 / (√3 h²) dA over the ground that carries points. */
	readonly foreseen: number;
	/** mm that points which the check adds at the bottom of a hollow keep from others; Infinity where the hollow is too narrow. */
	readonly hollowGap: Float32Array;
	/** Greatest spacing, mm. */
	readonly most: number;
}

/** The sizing field of a round over the patches. `brushed`: factor of each patch, or null. */
export function* sizingField(
	coarse: Coarse,
	scales: readonly FormScale[],
	height: number,
	brushed: Float32Array | null,
	request: RoundRequest,
): Job<Spacing> {
	const stage = "working out the spacing";
	const { carries, mesh, adjacency } = coarse.surface;
	const patches = carries.length;
	const least = Math.max(LEAST_SPACING, 2 * request.drill);
	const leastBrushed = Math.max(LEAST_SPACING_BRUSHED, 2 * request.drill);
	const most = Math.max(mostSpacing(height), least);
	const j = request.join;
	const spend = spendOf(request);
	const spendHollow = spendOverHollow(request);
	const bulging = ruledSpacing(scales, (scale, c) => {
		const k = scale.k1[c];
		return k > 0 ? Math.sqrt((6 * spend) / (k * (1 + j * k))) : Number.POSITIVE_INFINITY;
	});
	const hollow = ruledSpacing(scales, (scale, c) => {
		const k = -scale.k2[c];
		return k > 0 ? Math.sqrt((6 * spendHollow) / k) : Number.POSITIVE_INFINITY;
	});

	const clamped = new Uint8Array(patches);
	const start = new Float64Array(patches).fill(Number.POSITIVE_INFINITY);
	const hollowGap = new Float32Array(patches);
	/** By how much the rule falls short of the greatest spacing. */
	const tight = new Float64Array(patches).fill(Number.POSITIVE_INFINITY);
	for (let c = 0; c < patches; c++) {
		if (!carries[c]) continue;
		const factor = brushed ? brushed[c] : 1;
		const low = factor < 1 ? leastBrushed : least;
		const limit = bulging(c);
		// Ground that the carver has brushed wider is read from the model, whatever the limit says.
		if (limit < low || factor > 1) clamped[c] = 1;
		const deep = hollow(c);
		hollowGap[c] = deep < low || factor > 1 ? Number.POSITIVE_INFINITY : deep;
		start[c] = Math.max(low, Math.min(most, limit, deep));
		tight[c] = most - Math.max(low, Math.min(most, TIGHTER * limit, deep));
	}
	yield { stage, share: 0.3 };

	// Grading is a front that starts everywhere at the clamped spacing and rises by 30 % of the way it goes.
	const graded = new Front(mesh, adjacency, GRADING);
	graded.label.fill(0);
	graded.cost.set(start);
	for (let c = 0; c < patches; c++) if (start[c] < most) graded.start(c);
	yield* within(graded.spread(stage, 0.5), 0.3, 0.6);
	const loosened = new Front(mesh, adjacency, LOOSENING, graded);
	loosened.label.fill(0);
	loosened.cost.set(tight);
	for (let c = 0; c < patches; c++) if (tight[c] < most - least) loosened.start(c);
	yield* within(loosened.spread(stage, 0.5), 0.6, 0.9);

	const spacing = new Float32Array(patches);
	const aim = new Float32Array(patches);
	const gap = new Float32Array(patches);
	let foreseen = 0;
	const density = 2 / Math.sqrt(3);
	for (let c = 0; c < patches; c++) {
		if (!carries[c]) continue;
		const factor = brushed ? brushed[c] : 1;
		const low = factor < 1 ? leastBrushed : least;
		const h = Math.min(2 * most, Math.max(low, graded.cost[c] * factor));
		spacing[c] = h;
		if (hollowGap[c] < Number.POSITIVE_INFINITY) hollowGap[c] = Math.max(h, Math.min(most, hollowGap[c]));
		aim[c] = factor < 1 ? h : (most - loosened.cost[c]) * factor;
		// Where the clamp has won points come as close as it allows, where the carver wants fewer no closer than asked.
		gap[c] = factor > 1 ? h : clamped[c] ? low : low / 2;
		foreseen += (density * coarse.areas[c]) / (h * h);
	}
	yield { stage, share: 1 };
	return { spacing, aim, gap, hollowGap, clamped, most, foreseen };
}

/**
 * The least spacing that agrees with itself: what the rule gives for the curvature that facets of just that spacing see.
 * `rule` gives the spacing for one scale and patch; wider scales see gentler ground and give wider spacings.
 */
function ruledSpacing(
	scales: readonly FormScale[],
	rule: (scale: FormScale, patch: number) => number,
): (patch: number) => number {
	return (patch) => {
		let seen = 0;
		for (const scale of scales) {
			const h = rule(scale, patch);
			// Between two scales the spacing lies between theirs.
			if (h <= scale.spacing) return Math.max(h, seen);
			seen = scale.spacing;
		}
		return Math.max(seen, rule(scales[scales.length - 1], patch));
	};
}
