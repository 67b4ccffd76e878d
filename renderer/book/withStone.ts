import type { Commission } from "../../core/plan/commission.ts";
import { stoneWith } from "../../core/plan/marginsUsed.ts";

/** The commission with that changed of its stone. */
export const withStone = (c: Commission, stone: Partial<Commission["stone"]>): Commission => ({
	...c,
	stone: stoneWith(c.stone, stone),
});
