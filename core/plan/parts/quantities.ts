/** How much there is to do, counted from the plan: what the quote's rates are multiplied by. */

import type { FinishedGround } from "../../finish/detail.ts";
import type { Figure, FixingAnswer } from "../../finish/fixing.ts";
import type { Quantities } from "../../finish/quote.ts";
import type { GildedArea, StoneAnswer } from "../answers.ts";
import type { Commission } from "../commission.ts";
import type { Plan } from "../planFile.ts";

const MM2_PER_DM2 = 1e4;
const MM3_PER_DM3 = 1e6;
const MM_PER_M = 1000;

export interface QuantityParts {
	readonly stone: StoneAnswer;
	readonly plan: Plan;
	readonly ground: FinishedGround;
	/** null: an open shell that cannot be backed. */
	readonly figure: Figure | null;
	/** How many there are. */
	readonly grades: number;
	readonly gilded: readonly GildedArea[];
	readonly fixing: FixingAnswer | null;
	readonly commission: Commission;
}

export function quantitiesOf({
	stone,
	plan,
	ground,
	figure,
	grades,
	gilded,
	fixing,
	commission,
}: QuantityParts): Quantities {
	const block = stone.stone.volume;
	const area = ground.open + ground.detail;
	const joins = commission.rounds.filter(({ kind }) => kind === "net").map(({ join_mm }) => join_mm);
	// What stands over the first join is roughed out; the rest is taken between the points.
	const skin = area * Math.max(0, ...joins);
	const hull = figure?.hull.volume ?? stone.hull.volume;
	const solid = figure?.volume ?? hull;
	const drilled = plan.points.filter(({ depth_mm }) => depth_mm !== null);
	const base = commission.fixing.base?.size_mm;
	const pinned = fixing?.pin?.holds === true;
	const sent = fixing?.whole?.mass ?? figure?.mass ?? [0, 0];
	return {
		block_dm3: block / MM3_PER_DM3,
		block_kg: stone.stoneMass,
		sawn_dm3: Math.max(0, block - hull) / MM3_PER_DM3,
		hollow_dm3: Math.max(0, hull - solid - skin) / MM3_PER_DM3,
		points: drilled.length,
		drilled_m: drilled.reduce((sum, { depth_mm }) => sum + (depth_mm ?? 0), 0) / MM_PER_M,
		joined_dm2: (area * joins.length) / MM2_PER_DM2,
		graded_dm2: (ground.open * grades) / MM2_PER_DM2,
		detailed_dm2: (ground.detail * grades) / MM2_PER_DM2,
		gilded_dm2: gilded.reduce((sum, { region }) => sum + region.area, 0) / MM2_PER_DM2,
		leaves: gilded.reduce((sum, { leaf }) => sum + leaf.leaves, 0),
		fixed: pinned ? 1 : 0,
		bar_m: pinned ? (fixing.barLength ?? 0) / MM_PER_M : 0,
		resin_l: pinned ? (fixing.resin ?? 0) / MM3_PER_DM3 : 0,
		base_dm3: base ? (base[0] * base[1] * base[2]) / MM3_PER_DM3 : 0,
		sent_kg: sent,
	};
}
