/** The size of the stone, with every place on the model, which is kept in the model frame and grows about its foot. */

import type { Commission } from "../../core/plan/commission.ts";
import type { Vec3 } from "../../core/vector.ts";
import { tidyPosition } from "./datums.ts";

/** Ten digits: more is noise of the division. */
export const roundScale = (scale: number): number => Number(scale.toPrecision(10));

/** The commission at another stone ÷ scan; datums, picks and calliper pairs stay where they are on the model. */
export function resized(c: Commission, scale: number): Commission {
	const by = scale / c.model.scale;
	const grown = (at: Vec3) => tidyPosition([at[0] * by, at[1] * by, at[2] * by]);
	const moved = <T extends { position_mm: [number, number, number] }>(place: T): T => ({
		...place,
		position_mm: grown(place.position_mm),
	});
	return {
		...c,
		model: {
			...c.model,
			scale,
			castPairs: c.model.castPairs.map((pair) => ({ ...pair, a_mm: grown(pair.a_mm), b_mm: grown(pair.b_mm) })),
		},
		datumSets: c.datumSets.map((set) => ({
			...set,
			datums: [moved(set.datums[0]), moved(set.datums[1]), moved(set.datums[2])],
		})),
		picks: c.picks.map(moved),
	};
}
