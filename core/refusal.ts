/** Expected trouble with an input, as data. Words are made from it in `core/text/refusals.ts`. */

/**
 * One refused input.
 * `code` names the case ("stl.truncated"); `facts` carries what the sentence needs: what was found, what was expected, where.
 */
export interface Issue {
	readonly code: string;
	readonly facts: Readonly<Record<string, string | number | readonly (string | number)[]>>;
}

/** Thrown when an input cannot be used. Anything else that is thrown is a defect of the program. */
export class Refusal extends Error {
	readonly issue: Issue;
	constructor(code: string, facts: Issue["facts"] = {}) {
		super(`${code} ${JSON.stringify(facts)}`);
		this.name = "Refusal";
		this.issue = { code, facts };
	}
}
