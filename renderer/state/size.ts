/** The size of the stone, with every place on the model, which is kept in the model frame and grows about its foot. */

import type { Commission } from "../../core/plan/commission.ts";
import type { Vec3 } from "../../core/vector.ts";
import { tidyPosition } from "./datums.ts";
import { carriedAlong } from "./onModel.ts";

/** Ten digits: more is noise of the division. */
export const roundScale = (scale: number): number => Number(scale.toPrecision(10));

/** The commission at another stone ÷ scan; whatever was picked stays where it is on the model. */
export function resized(c: Commission, scale: number): Commission {
	const by = scale / c.model.scale;
	const grown = (at: Vec3) => tidyPosition([at[0] * by, at[1] * by, at[2] * by]);
	const moved = carriedAlong(c, grown, (normal) => normal);
	return { ...moved, model: { ...moved.model, scale } };
}
