/** The smallest of the sizes that the carver keeps which takes the figure. */
import { type Job, within } from "../job.ts";
import type { Vec3 } from "../vector.ts";
import { type FitOptions, fitBlock, type StoneFit } from "./fitBlock.ts";
import type { Hull } from "./hull.ts";

export interface StockAnswer {
	/** Sides as the block is to stand (length, width, height), mm. */
	readonly sides: Vec3;
	/** Which of the sizes given. */
	readonly index: number;
	readonly fit: StoneFit;
	/** Sizes smaller than this one, none of which takes the figure; proved where `allProved`. */
	readonly smaller: number;
	readonly allProved: boolean;
}

const volumeOf = (sides: Vec3): number => sides[0] * sides[1] * sides[2];

/** The ways to stand a block of these sides that differ for the turning allowed. */
function standings([a, b, c]: Vec3, turning: FitOptions["turning"]): Vec3[] {
	const kind = turning?.kind ?? "free";
	if (kind === "free" && !(turning?.kind === "free" && turning.limits?.length)) return [[a, b, c]];
	const ways: Vec3[] = [
		[a, b, c],
		[a, c, b],
		[b, c, a],
	];
	// Turned about the vertical, length and width change places by themselves.
	if (kind === "fixed" || (turning?.kind !== "fixed" && turning?.limits?.length))
		ways.push([b, a, c], [c, a, b], [c, b, a]);
	return ways.filter((way, i) => ways.findIndex((other) => other.every((side, k) => side === way[k])) === i);
}

/**
 * The smallest by volume of the sizes in stock that takes the figure with its margins, each stood on whichever face serves;
 * null when none does. No block under `leastVolume` (the proved bound of the smallest block, mm³) is tried.
 */
export function* smallestOfStock(
	hull: Hull,
	stock: readonly Vec3[],
	leastVolume: number,
	options: FitOptions,
): Job<StockAnswer | null> {
	const order = stock.map((_, i) => i).sort((i, j) => volumeOf(stock[i]) - volumeOf(stock[j]) || i - j);
	let allProved = true;
	for (const [smaller, index] of order.entries()) {
		if (volumeOf(stock[index]) < leastVolume) continue;
		for (const sides of standings(stock[index], options.turning)) {
			const from = smaller / order.length;
			const fit = yield* within(fitBlock(hull, sides, options), from, from + 1 / order.length);
			if (fit.fits) return { sides, index, fit, smaller, allProved };
			// A size that was given up on with a bound over 0 might still take it.
			if (fit.bound >= 0) allProved = false;
		}
	}
	return null;
}
