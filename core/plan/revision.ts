/** The next revision of a commission's sheets. */

import type { Commission } from "./commission.ts";

/** A, B, … Z, AA, AB, …; a revision that is no letters gets a prime. */
export function nextRevision(revision: string): string {
	const letters = revision.toUpperCase();
	if (!/^[A-Z]{1,3}$/.test(letters)) return revision.length < 4 ? `${revision}'` : revision;
	const last = letters.charCodeAt(letters.length - 1);
	if (last < 90) return letters.slice(0, -1) + String.fromCharCode(last + 1);
	return letters.length === 1 ? "AA" : `${nextRevision(letters.slice(0, -1))}A`;
}

/** The commission with its next revision, which supersedes the one before, and what changed in words. */
export const revised = (c: Commission, changes: string): Commission => ({
	...c,
	sheet: {
		...c.sheet,
		revision: nextRevision(c.sheet.revision),
		supersedes: c.sheet.revision,
		changes: changes.slice(0, 400),
	},
});
