/** The sentence for a refused input: one line that says what, where, found, expected, and what to do next. */

import type { Issue } from "../refusal.ts";
import { documentRefusals } from "./documentRefusals.ts";

export type Facts = Issue["facts"];
export type Sentences = Readonly<Record<string, (facts: Facts) => string>>;

const TABLES: readonly Sentences[] = [documentRefusals];

/** One line for the carver. A code without a sentence is a defect; it is shown with its facts rather than hidden. */
export function refusalText(issue: Issue): string {
	for (const table of TABLES) {
		const sentence = table[issue.code];
		if (sentence) return sentence(issue.facts);
	}
	return `${issue.code}: ${JSON.stringify(issue.facts)}`;
}
