/** The sentence for a refused input: one line that says what, where, found, expected, and what to do next. */

import type { Issue } from "../refusal.ts";

export type Facts = Issue["facts"];
export type Sentences = Readonly<Record<string, (facts: Facts) => string>>;

const tables: Sentences[] = [];

/** Adds the sentences of one stage; each stage's table is registered here below. */
const register = (table: Sentences): void => {
	tables.push(table);
};

/** One line for the carver. A code without a sentence is a defect; it is shown with its facts rather than hidden. */
export function refusalText(issue: Issue): string {
	for (const table of tables) {
		const sentence = table[issue.code];
		if (sentence) return sentence(issue.facts);
	}
	return `${issue.code}: ${JSON.stringify(issue.facts)}`;
}
void register;
