/** Sentences for what the sheets refuse. */

import type { Issue } from "../refusal.ts";

export const sheetRefusals: Record<string, (facts: Issue["facts"]) => string> = {
	"sheet.noPlan": () => "There is no plan yet: finish model, stone and points first.",
	"sheet.font": (f) =>
		`The font "${f.font}" for the sheets cannot be used: found ${f.found}, expected a whole TrueType file with Unicode characters; install the program again.`,
};
