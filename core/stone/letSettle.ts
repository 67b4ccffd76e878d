/** "Let it settle": the best placement near the one in which the figure is held (moving by hand). */
import type { Placement } from "../vector.ts";
import type { Stone } from "./block.ts";
import type { FitOptions, StoneFit } from "./fitBlock.ts";
import { bestNear, placedByHand } from "./fitStone.ts";
import type { Hull } from "./hull.ts";
import { quaternionOf } from "./turning.ts";

/** What the held figure leaves once it has settled; `best` is the answer for the stone, whose bound holds here too. */
export function letSettle(
	hull: Hull,
	stone: Stone,
	held: Placement,
	options: FitOptions,
	best: StoneFit,
): { readonly fit: StoneFit; readonly quaternion: readonly [number, number, number, number] } {
	const rotation = bestNear(hull, stone, quaternionOf(held.rotation), options);
	const placement = rotation ?? held;
	return {
		fit: placedByHand(hull, stone, placement, options, best),
		quaternion: quaternionOf(placement.rotation),
	};
}
