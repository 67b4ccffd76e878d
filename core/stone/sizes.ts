/** Questions that turn the fit round: the smallest block for the figure, and the largest figure for the block. */
import type { Job } from "../job.ts";
import { Refusal } from "../refusal.ts";
import type { Placement, Vec3 } from "../vector.ts";
import { searchBox, widthsAt } from "./boxJudge.ts";
import { checkSides, type FitOptions, marginSums, NO_MARGINS, placeInBlock } from "./fitBlock.ts";
import type { Hull } from "./hull.ts";
import { bodyOf } from "./support.ts";

/** The tolerance of these two is a share: of the volume, default 0.1 %, or of the scale, default 0.01 %. */
export type SizeOptions = Omit<FitOptions, "tolerance"> & { readonly tolerance?: number };

export interface SmallestBlock {
	/** Sides of the block of least volume with the margins in, mm, along the stone's x, y, z. */
	readonly sides: Vec3;
	/** mm³ */
	readonly volume: number;
	/** Proved: no allowed turn needs less than this, mm³. */
	readonly bound: number;
	/** volume ÷ bound − 1 is within the tolerance. */
	readonly certified: boolean;
	/** Sides to order: rounded up to what a yard saws, mm. */
	readonly sawn: Vec3;
	/** Model frame → stone frame in the block with `sides`. */
	readonly placement: Placement;
	readonly cells: number;
}

/** Volumes count as proved when this near, and blocks are sawn to this; common practice. */
const VOLUME_TOLERANCE = 1e-3;
const SAWN_TO = 10;
/** A side this little over a saw size is that size: sides carry rounding errors of some 1e-12. */
const SAW_SLACK = 1e-6;

/** Up to the next saw size, mm. */
const roundUpToSaw = (side: number, sawnTo = SAWN_TO): number =>
	Math.max(sawnTo, Math.ceil((side - SAW_SLACK) / sawnTo) * sawnTo);

/** The block of least volume that holds the figure with its margins, with a proved lower bound of that volume. */
export function* smallestBlock(hull: Hull, options: SizeOptions = {}): Job<SmallestBlock> {
	const margins = options.margins ?? NO_MARGINS;
	const tolerance = options.tolerance ?? VOLUME_TOLERANCE;
	checkSides(null, options, tolerance);
	const extra = marginSums(margins);
	const body = bodyOf(hull);
	const found = yield* searchBox(
		body,
		options.turning ?? { kind: "free" },
		{ kind: "volume", extra },
		{
			tolerance: 0,
			relativeTolerance: tolerance / (1 + tolerance),
			maxCells: options.maxCells,
			enough: options.enough,
		},
	);
	const widths = widthsAt(body, found.rotation);
	const sides: Vec3 = [widths[0] + extra[0], widths[1] + extra[1], widths[2] + extra[2]];
	const volume = sides[0] * sides[1] * sides[2];
	const bound = Math.min(volume, -found.bound);
	return {
		sides,
		volume,
		bound,
		certified: volume <= bound * (1 + tolerance),
		sawn: [roundUpToSaw(sides[0]), roundUpToSaw(sides[1]), roundUpToSaw(sides[2])],
		placement: placeInBlock(body, found.rotation, sides, margins).placement,
		cells: found.cells,
	};
}

export interface LargestScale {
	/** The figure times this fits with its margins. */
	readonly scale: number;
	/** Proved: the figure times more than this does not fit in any allowed turn. */
	readonly bound: number;
	/** bound ÷ scale − 1 is within the tolerance. */
	readonly certified: boolean;
	/** Model frame → stone frame once the model is scaled about its origin. */
	readonly placement: Placement;
	readonly cells: number;
}

export const SCALE_TOLERANCE = 1e-4;

/**
 * How large the figure can be made in a block with sides `sides` (mm): the factor on its present size, margins unchanged.
 * Refuses a block that the margins alone use up.
 */
export function* largestScale(hull: Hull, sides: Vec3, options: SizeOptions = {}): Job<LargestScale> {
	const margins = options.margins ?? NO_MARGINS;
	const tolerance = options.tolerance ?? SCALE_TOLERANCE;
	checkSides(sides, options, tolerance);
	const taken = marginSums(margins);
	const room: Vec3 = [sides[0] - taken[0], sides[1] - taken[1], sides[2] - taken[2]];
	for (let i = 0; i < 3; i++) {
		if (room[i] <= 0) throw new Refusal("stone.marginsUseUp", { side: sides[i], margins: taken[i] });
	}
	const body = bodyOf(hull);
	const found = yield* searchBox(
		body,
		options.turning ?? { kind: "free" },
		{ kind: "scale", room },
		{
			tolerance: 0,
			relativeTolerance: tolerance / (1 + tolerance),
			maxCells: options.maxCells,
			enough: options.enough,
		},
	);
	const scale = found.value;
	const scaled = {
		...body,
		corners: body.corners.map((x) => x * scale),
		middle: [body.middle[0] * scale, body.middle[1] * scale, body.middle[2] * scale] as const,
	};
	return {
		scale,
		bound: Math.max(scale, found.bound),
		certified: found.bound <= scale * (1 + tolerance),
		placement: placeInBlock(scaled, found.rotation, sides, margins).placement,
		cells: found.cells,
	};
}
