/** Stone to spare, or lacking: what is there is rounded down and what lacks is rounded up, so that neither promises too much. */

import { finely, type LengthUnit, lengthText, SIXTEENTH_MM } from "../../core/text/format.ts";

/** What little there is, less than a sixteenth, is told in hundredths. */
const stepFor = (mm: number, unit: LengthUnit): number =>
	unit === "mm" ? 0.1 : unit === "in16" && Math.abs(mm) >= SIXTEENTH_MM ? SIXTEENTH_MM : 0.254;
/** Far below any rounding of the answer, far above that of the arithmetic. */
const SLACK = 1e-6;

function inSteps(mm: number, unit: LengthUnit, whole: (steps: number) => number): string {
	const step = stepFor(mm, unit);
	return lengthText(whole(mm / step) * step, step === SIXTEENTH_MM ? unit : finely(unit));
}

export const spareText = (mm: number, unit: LengthUnit): string =>
	inSteps(mm, unit, (steps) => Math.floor(steps + SLACK));

export const lackText = (mm: number, unit: LengthUnit): string =>
	inSteps(mm, unit, (steps) => Math.ceil(steps - SLACK));
