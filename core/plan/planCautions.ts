/** Cautions that come from this plan's own numbers; the standing ones are printed on every cover. */

import { THIN_MM } from "../drilling/thinParts.ts";
import { TACKLE_KG } from "../finish/lifting.ts";
import { massRangeText, massText } from "../text/format.ts";
import type { PlanParts } from "./assemblePlan.ts";
import { crossingCautions } from "./parts/crossingCautions.ts";
import { datumCautions } from "./parts/datumCautions.ts";
import { numbers } from "./parts/numbers.ts";
import { stoneCautions } from "./parts/stoneCautions.ts";
import { unitCautions } from "./parts/unitCautions.ts";
import type { PlanCrossing, PlanPoint } from "./planFile.ts";

/** Depth in drill diameters past which a free-held bit wanders (common practice, no source). */
const SLENDER = 25;

export function planCautions(
	parts: PlanParts,
	points: readonly PlanPoint[],
	crossings: readonly PlanCrossing[],
): string[] {
	const {
		stone,
		nature,
		commission,
		datumSets,
		lies: { lies },
	} = parts;
	const cautions: string[] = [];
	if (stone.stoneMass[1] > TACKLE_KG)
		cautions.push(
			`The block weighs ${massRangeText(stone.stoneMass[0], stone.stoneMass[1])} dry: move and turn it with tackle, never by hand.`,
		);
	if (lies.length > 1)
		cautions.push(
			`The stone is turned ${lies.length - 1 === 1 ? "once" : `${lies.length - 1} times`} (${lies.map(({ name }) => name).join(", then ")}): one edge alone takes up to ${massText(stone.stoneMass[1] / 2)} to lift. Lever and pack a little at a time, soft under the arris, nobody on the side to which it tips.`,
		);
	if (stone.assumed)
		cautions.push(
			"No block was given: the smallest sawn block is assumed. Measure the stone at delivery and plan again.",
		);
	cautions.push(...stoneCautions(stone, nature, commission));
	if (!stone.fit.certified && commission.stone.byHand === null && !datumSets.some((set) => set.measured))
		cautions.push("The fit is a search and not yet a proof: the bound is wider than the tolerance.");
	const thin = points.filter((p) => p.thickness_mm !== null && p.thickness_mm < THIN_MM);
	if (thin.length > 0)
		cautions.push(
			`${thin.length} points stand over parts under ${THIN_MM} mm thick: no hammer action there (${numbers(thin)}).`,
		);
	const slender = points.filter(
		(p) => p.depth_mm !== null && p.depth_mm > SLENDER * commission.rounds[p.round].tool.drill_mm,
	);
	if (slender.length > 0)
		cautions.push(
			`${slender.length} holes are deeper than ${SLENDER} times their drill, where a bit wanders most (${numbers(slender)}): take stone away first, or start with a wider drill.`,
		);
	cautions.push(...crossingCautions(crossings, points, commission));
	cautions.push(...unitCautions(commission, points));
	cautions.push(...datumCautions(parts, points));
	if (commission.scan.back !== null)
		cautions.push("The back is no part of the scan: it was added flat, and no point stands on it.");
	if (commission.scan.mirrored) cautions.push("MIRRORED: the stone answers to the model as in a looking-glass.");
	return cautions;
}
