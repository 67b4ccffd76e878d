/** Cautions about datums, seats and links: what their errors cost, what the arm does not reach, what was measured. */

import { armReaches } from "../../datum/reach.ts";
import { stopAllowances } from "../../drilling/drill.ts";
import { lengthText } from "../../text/format.ts";
import { distance } from "../../vector.ts";
import type { PlanParts } from "../assemblePlan.ts";
import type { PlanPoint } from "../planFile.ts";
import { armOf, transferOf } from "../transfer.ts";
import { numbers } from "./numbers.ts";

/** What a margin may lack unsaid, mm. */
const MARGIN_WITHIN = 0.5;
/** AB, BC and CA are to be checked to this, mm (handbook 9). */
const SIDE_WITHIN = 0.2;

export function datumCautions(
	{ datumSets: sets, commission, stone: { fit } }: PlanParts,
	points: readonly PlanPoint[],
): string[] {
	const cautions: string[] = [];
	const transfer = transferOf(commission);
	const units = commission.sheet.units;
	const arm = armOf(commission);
	const last = stopAllowances(commission.rounds, commission.holes).at(-1) ?? 0;
	// Drilled from the faces, no hole depends on a seat.
	const off = transfer === "faces" ? [] : points.filter((p) => p.error_mm > last / 2);
	if (off.length > 0)
		cautions.push(
			`At ${off.length} points a seat's error costs over half the last allowance of ${lengthText(last, units)} (${numbers(off)}): set the seats more finely, choose datums farther apart or nearer to these points, or leave more stone there.`,
		);
	const lost = points.filter((p) => !armReaches(sets[p.set], p.model_mm, arm));
	if (lost.length > 0)
		cautions.push(
			`${lost.length} points lie farther than ${lengthText(arm, units, 0)} from the middle of every cross (${numbers(lost)}): add a linked set of datums near them, or give a longer arm.`,
		);
	if (transfer === "callipers") {
		const doubtful = points.filter((p) => p.calliperUnreliable);
		if (doubtful.length > 0)
			cautions.push(
				`${doubtful.length} targets lie so near the plane of their datums that three lengths hardly hold their height (${numbers(doubtful)}): drill them by face, lean and depth.`,
			);
	}
	for (const { name, link } of sets)
		if (link)
			cautions.push(
				`Sink and read the ${link.points.length} points that link set ${name} to set ${sets[link.to].name} before the seats of ${sets[link.to].name} are cut away.`,
			);
	if (sets.some((set) => set.measured)) {
		const short = fit.gaps.filter((gap) => gap.gap < gap.margin - MARGIN_WITHIN);
		if (short.length > 0)
			cautions.push(
				`By its measured seats the figure comes nearer to a face than its margin: ${short.map((gap) => `${gap.face} ${lengthText(gap.gap, units)} instead of ${lengthText(gap.margin, units)}`).join(", ")}.`,
			);
		cautions.push(
			"The figure lies where its seats were measured, not where the fit put it: every depth is worked out from there.",
		);
	}
	for (const set of sets)
		if (set.measured) {
			const [a, b, c] = set.seats.map((seat) => seat.inStone);
			[distance(a, b), distance(b, c), distance(c, a)].forEach((side, i) => {
				if (Math.abs(side - set.sides[i]) > SIDE_WITHIN)
					cautions.push(
						`${["AB", "BC", "CA"][i]} of set ${set.name} measures ${lengthText(side, units)} between the seats in the stone and ${lengthText(set.sides[i], units)} between the datums on the model: read the seats again, or set them so that the two agree to ${lengthText(SIDE_WITHIN, units)}.`,
					);
			});
		}
	return cautions;
}
