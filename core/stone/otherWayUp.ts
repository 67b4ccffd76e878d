/** A sawn block that is too small as it stands may be large enough with another side up. */

import type { Job } from "../job.ts";
import { Refusal } from "../refusal.ts";
import type { Vec3 } from "../vector.ts";
import { type FitOptions, fitBlock } from "./fitBlock.ts";
import type { Hull } from "./hull.ts";

export interface WayUp {
	/** Length, width, height as the block would stand, mm. */
	readonly sides: Vec3;
	/** Over the margins, mm. */
	readonly spare: number;
}

/** The way with the most to spare among those in which another side of the block is up and the figure fits; else null. */
export function* otherWayUp(hull: Hull, [a, b, c]: Vec3, options: FitOptions): Job<WayUp | null> {
	let best: WayUp | null = null;
	// Length and width change places too: a figure that may not be turned lies along one of them.
	for (const sides of [
		[a, c, b],
		[c, a, b],
		[b, c, a],
		[c, b, a],
	] as const) {
		if (sides[2] === c) continue;
		try {
			const { fits, spare } = yield* fitBlock(hull, sides, options);
			if (fits && (best === null || spare > best.spare)) best = { sides, spare };
		} catch (error) {
			// Margins that leave nothing of such a block.
			if (!(error instanceof Refusal)) throw error;
		}
	}
	return best;
}
