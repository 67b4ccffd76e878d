/** The sheets last drawn, and which of their maps is looked at. */

import { signal } from "@preact/signals";
import type { Commission } from "../../core/plan/commission.ts";
import type { Plan } from "../../core/plan/planFile.ts";
import type { SheetsOutput } from "../jobs/shown.ts";

export interface DrawnSheets extends SheetsOutput {
	/** The plan that they were drawn from. */
	readonly plan: Plan;
}

export const sheets = signal<DrawnSheets | null>(null);
/** Index of the map shown in place of the banker, or null. */
export const sheetShown = signal<number | null>(null);

export const withSheet = (c: Commission, sheet: Partial<Commission["sheet"]>): Commission => ({
	...c,
	sheet: { ...c.sheet, ...sheet },
});
