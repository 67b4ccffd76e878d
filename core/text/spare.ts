/**
 * Stone to spare, or lacking: what is there is rounded down and what lacks is rounded up, so that neither promises too much.
 * What lacks is told as finely as the unit can, everywhere alike: a table beside it must show the same figure.
 */

import { finely, type LengthUnit, lengthNumber, lengthText, SIXTEENTH_MM } from "./format.ts";

/** What little there is, less than a sixteenth, is told in hundredths. */
const stepFor = (mm: number, unit: LengthUnit): number =>
	unit === "mm" ? 0.1 : unit === "in16" && Math.abs(mm) >= SIXTEENTH_MM ? SIXTEENTH_MM : 0.254;
/** Far below any rounding of the answer, far above that of the arithmetic. */
const SLACK = 1e-6;

const down = (mm: number, step: number): number => Math.floor(mm / step + SLACK) * step;

export function spareText(mm: number, unit: LengthUnit): string {
	const step = stepFor(mm, unit);
	return lengthText(down(mm, step), step === SIXTEENTH_MM ? unit : finely(unit));
}

/** Of a lack, which is over 0. */
export const lackText = (mm: number, unit: LengthUnit): string =>
	lengthText(-down(-mm, stepFor(0, unit)), finely(unit));

/** What is over a margin, or under it, in a table: rounded down either way, without the unit. */
export const overNumber = (mm: number, unit: LengthUnit): string =>
	lengthNumber(down(mm, stepFor(0, unit)), finely(unit));
