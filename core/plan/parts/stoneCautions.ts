/** Cautions that come from the stone as it is: hollows, a reading that cannot be right, flaws, a placement by hand. */

import { BLOCK_READINGS } from "../../stone/measuredBlock.ts";
import { degreesFromCosine } from "../../text/angle.ts";
import { angleText, lengthText } from "../../text/format.ts";
import type { StoneAnswer } from "../answers.ts";
import type { Commission } from "../commission.ts";
import type { NatureAnswer } from "../stages/flawStages.ts";

/** A scan's noise makes no hollows: under this share of the hull nothing is said. */
const HOLLOW = 0.002;

export function stoneCautions(stone: StoneAnswer, nature: NatureAnswer, commission: Commission): string[] {
	const cautions: string[] = [];
	const { scanned, measured, fit, kept } = stone;
	const { outOfTrue_mm, byHand, soundWithin_mm, naturalBed } = commission.stone;
	const { units } = commission.sheet;
	if (scanned && scanned.hollow > HOLLOW)
		cautions.push(
			`The scanned stone has hollows (${Math.round(100 * scanned.hollow)} % of its hull is air): depths are counted from a straightedge laid across the hollow, not from its floor. No seat may be set where the stone is missing: look before you drill.`,
		);
	if (measured?.wrong) {
		const { index, off, expected } = measured.wrong;
		cautions.push(
			`The reading of the ${BLOCK_READINGS[index].words} does not agree with the others: it is ${lengthText(Math.abs(off), units)} too ${off > 0 ? "long" : "short"} and should read about ${lengthText(expected, units)}. Measure it again before anything is cut.`,
		);
	}
	if (outOfTrue_mm > 0)
		cautions.push(`The fit is proved for the sizes given, ${lengthText(outOfTrue_mm, units)} out of true.`);
	if (byHand && !fit.certified)
		cautions.push(
			`The figure ${commission.drilled.length > 0 ? "stays where it was drilled" : "was placed by hand"}; no placement spares over ${lengthText(Math.max(0, fit.bound), units)}, this one ${lengthText(fit.spare, units)}.`,
		);
	if (nature.bed && naturalBed)
		cautions.push(
			`The natural bed lies ${angleText(degreesFromCosine(nature.bed.cosine))} from the direction that was wished.`,
		);
	for (const { flaw, parts, sound } of nature.flaws) {
		const nearest = Math.min(...sound);
		if (nearest < soundWithin_mm)
			cautions.push(
				`The flaw "${flaw.name}" comes within ${lengthText(Math.max(0, nearest), units)} of a place that is to be kept sound.`,
			);
		const thin = parts.filter((part) => part.thin).length;
		if (thin > 0)
			cautions.push(
				`The flaw "${flaw.name}" passes ${thin === 1 ? "a thin part" : `${thin} thin parts`} of the figure: it may break there at any stroke. Turn or move the figure, or support that part to the last.`,
			);
	}
	if (kept && !kept.moved && kept.nearest < soundWithin_mm && !byHand && !scanned)
		cautions.push(
			"No placement was found that keeps the flaws clear of the places to be kept sound; this was a search, no proof.",
		);
	return cautions;
}
