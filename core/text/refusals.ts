/** The sentence for a refused input: one line that says what, where, found, expected, and what to do next. */

import type { Issue } from "../refusal.ts";
import { benchRefusals } from "./benchRefusals.ts";
import { castRefusals } from "./castRefusals.ts";
import { datumRefusals } from "./datumRefusals.ts";
import { documentRefusals } from "./documentRefusals.ts";
import { drillingRefusals } from "./drillingRefusals.ts";
import { filesRefusals } from "./filesRefusals.ts";
import { finishRefusals } from "./finishRefusals.ts";
import { pointingRefusals } from "./pointingRefusals.ts";
import { scanNotes, scanRefusals, unitReasons } from "./scanRefusals.ts";
import { sheetRefusals } from "./sheetRefusals.ts";
import { stoneRefusals } from "./stoneRefusals.ts";

export type Facts = Issue["facts"];
export type Sentences = Readonly<Record<string, (facts: Facts) => string>>;

const TABLES: readonly Sentences[] = [
	scanRefusals,
	scanNotes,
	unitReasons,
	castRefusals,
	stoneRefusals,
	datumRefusals,
	benchRefusals,
	drillingRefusals,
	pointingRefusals,
	sheetRefusals,
	finishRefusals,
	documentRefusals,
	filesRefusals,
];

/** One line for the carver. A code without a sentence is a defect; it is shown with its facts rather than hidden. */
export function refusalText(issue: Issue): string {
	for (const table of TABLES) {
		const sentence = table[issue.code];
		if (sentence) return sentence(issue.facts);
	}
	return `${issue.code}: ${JSON.stringify(issue.facts)}`;
}
