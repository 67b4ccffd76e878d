/** How a fit is told, on the screen, on paper and on the command line alike: what lacks, what touches, what is least. */

import type { LengthUnit } from "./format.ts";
import { lackText } from "./spare.ts";

const SHORT = ["too short", "too narrow", "too low"];

/**
 * By how much a stone lacks: "0.29 in too short and 0.05 in too low". `lacks` are those of length, width and height, mm, 0 where
 * there is none; a single one is that at the tightest face, where the faces lie in no pairs or the figure between them.
 */
export function lackWords(lacks: readonly number[], unit: LengthUnit): string {
	if (lacks.length === 1) return `${lackText(lacks[0], unit)} too small at its tightest face`;
	return SHORT.map((word, k) => (lacks[k] > 0 ? `${lackText(lacks[k], unit)} ${word}` : ""))
		.filter((word) => word !== "")
		.join(" and ");
}

const TURNED: Readonly<Record<string, string>> = { free: "however it is turned", upright: "stood upright" };

/** Why points wait; `facts` are those of the refusal `plan.doesNotFit`. */
export function doesNotFitText(facts: Readonly<Record<string, unknown>>, unit: LengthUnit): string {
	const lacks = [facts.lacks].flat().map(Number);
	const turned = TURNED[String(facts.turning)] ?? "as it stands";
	const freely = facts.turning === "free" ? "" : ", or let the figure turn more freely";
	return `The figure does not fit this block ${turned}: at best, with its margins, the block is ${lackWords(lacks, unit)}. Change the block, the margins or the size${freely}; points wait until it fits.`;
}

/** Margins under this are none, mm. */
const NONE = 1e-6;

/**
 * "no margin at bed: there the figure may touch the skin", or null where every face has one. `added` is what was put to each
 * margin for a stone out of true, mm: it keeps the figure in the stone, and no more.
 */
export function noMarginWords(
	margins: readonly { readonly face: string; readonly margin: number }[],
	added = 0,
): string | null {
	const bare = margins.filter(({ margin }) => margin - added < NONE).map(({ face }) => face);
	if (bare.length === 0) return null;
	if (bare.length === margins.length) return "no margin: the figure may touch the skin";
	return `no margin at ${bare.join(", ")}: there the figure may touch the skin`;
}

/** What is proved of the least block, and what is not: other sides may do as well. */
export const leastProof = (certified: boolean, way = "placement allowed"): string =>
	certified ? `no ${way} needs less volume, proved` : "the least found, not proved";

export const LEAST_OTHERS = "A block shorter one way and bulkier another may do too.";
