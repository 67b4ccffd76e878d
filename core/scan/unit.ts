/** In which unit a scan is: proposed from its size, never silently assumed. */

import { type Issue, Refusal } from "../refusal.ts";

export const UNITS = ["mm", "cm", "m", "in", "ft"] as const;
export type Unit = (typeof UNITS)[number];
export const MM_PER_UNIT: Readonly<Record<Unit, number>> = { mm: 1, cm: 10, m: 1000, in: 25.4, ft: 304.8 };

/** Sizes of what is copied into stone, from a hand-high figure to one and a half times life size (common practice, no source). */
const SMALLEST_MM = 80;
const LARGEST_MM = 3000;

export interface UnitProposal {
	/** The unit, or null when the size alone does not tell. */
	readonly unit: Unit | null;
	/** The units that give a size worth carving, the likeliest first; all of them when none does. */
	readonly candidates: readonly { readonly unit: Unit; readonly largestMm: number }[];
	/** Why; words in `core/text/scanRefusals.ts`. */
	readonly reason: Issue;
}

/**
 * Proposes the unit of a scan from its largest extent in the file's own numbers.
 *
 * Scanners and their programs write millimetres or metres; centimetres, inches and feet come from drawing programs, by
 * choice. So a size that makes a figure of 80 mm to 3 m in millimetres is millimetres (0.08–3 in metres is metres), though
 * a few of those sizes would also do in a rarer unit: the reason names it. Between 3 and 80, and outside all that, the
 * size alone does not tell: the unit is null and whoever asks must have an answer.
 */
export function proposeUnit(largestExtent: number): UnitProposal {
	const sized = UNITS.map((unit) => ({ unit, largestMm: largestExtent * MM_PER_UNIT[unit] }));
	const likely = sized.filter((s) => s.largestMm >= SMALLEST_MM && s.largestMm <= LARGEST_MM);
	const sure = likely.find((s) => s.unit === "mm") ?? likely.find((s) => s.unit === "m");
	const others = likely.filter((s) => s !== sure).map((s) => s.unit);
	if (sure)
		return {
			unit: sure.unit,
			candidates: [sure, ...likely.filter((s) => s !== sure)],
			reason: { code: "unit.fromSize", facts: { unit: sure.unit, size: largestExtent, mm: sure.largestMm, others } },
		};
	const candidates = likely.length > 0 ? likely : sized;
	const facts = { size: largestExtent, units: candidates.map((c) => c.unit), mm: candidates.map((c) => c.largestMm) };
	return { unit: null, candidates, reason: { code: "unit.unknown", facts } };
}

/** The unit the carver gave, else the one proposed. Throws Refusal with the candidates when in doubt. */
export function settleUnit(
	largestExtent: number,
	given: Unit | undefined,
	name: string,
): { unit: Unit; reason: Issue } {
	if (given) return { unit: given, reason: { code: "unit.given", facts: { unit: given } } };
	const { unit, reason } = proposeUnit(largestExtent);
	if (!unit) throw new Refusal("unit.inDoubt", { name, ...reason.facts });
	return { unit, reason };
}
