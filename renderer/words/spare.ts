/** Stone to spare, or lacking: what is there is rounded down and what lacks is rounded up, so that neither promises too much. */

import { type LengthUnit, lengthText } from "../../core/text/format.ts";

const STEP_MM: Readonly<Record<LengthUnit, number>> = { mm: 0.1, in: 0.254 };
/** Far below any rounding of the answer, far above that of the arithmetic. */
const SLACK = 1e-6;

export const spareText = (mm: number, unit: LengthUnit): string =>
	lengthText(Math.floor(mm / STEP_MM[unit] + SLACK) * STEP_MM[unit], unit);

export const lackText = (mm: number, unit: LengthUnit): string =>
	lengthText(Math.ceil(mm / STEP_MM[unit] - SLACK) * STEP_MM[unit], unit);
