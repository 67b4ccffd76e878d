/** What a join may lose and gain, from the round's own numbers (handbook 6). */

import { Refusal } from "../refusal.ts";
import type { RoundRequest } from "./ground.ts";

/** mm kept out of the join allowance for everything that the rule does not see; never under j / 4. */
const LEAST_RESERVE = 0.5;
const DOUBT_SHARE = 0.25;

/** Stone that a join may lose over a bulge, f (j − reserve), mm. Refused when the reserve takes all of it. */
export function spendOf({ join, eyeFactor, round }: RoundRequest): number {
	const reserve = Math.max(LEAST_RESERVE, join / 4);
	if (!(join > reserve)) throw new Refusal("pointing.joinTooSmall", { round: round + 1, join, least: LEAST_RESERVE });
	return eyeFactor * (join - reserve);
}

/** Stone that a join may leave over its allowance in a hollow, which is safe: max(2j, f (j − reserve)), mm. */
export const spendOverHollow = (request: RoundRequest): number => Math.max(2 * request.join, spendOf(request));

/** Cover that a join is planned with, mm: j − f (j − reserve); below zero only at an eye factor over 1. */
export const plannedCover = (request: RoundRequest): number => request.join - spendOf(request);

/**
 * Cover below which another way of joining the same points puts a claim in doubt, mm: the finished surface, or, where the
 * round plans to cut in, a quarter of its spending deeper.
 */
export const doubtFloor = (request: RoundRequest): number =>
	Math.min(0, plannedCover(request) - DOUBT_SHARE * spendOf(request));
