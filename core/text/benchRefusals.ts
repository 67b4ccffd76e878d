/** Sentences for refused readings and refused questions about the stone that is left. */

import type { Sentences } from "./refusals.ts";

export const benchRefusals: Sentences = {
	"bench.reading": (f) => `Reading ${f.reading} is ${f.found}, which is no length. Enter how many mm it reads off.`,
	"bench.line": (f) =>
		`The line of reading ${f.reading} has the length ${f.found} instead of 1, so no way out of the stone is known for it. Read a point that has a drill line.`,
	"bench.noTargets": () => "There is no target to keep under the stone. Plan points first.",
	"bench.limits": (f) =>
		`Limit ${f.limit} of the stone that is left has no direction or no place. Give a plane by three places on it that are not in one line.`,
};
