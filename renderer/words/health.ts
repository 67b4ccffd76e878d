/** What the health of a scan means to the carver, the graver findings first. */

import type { FindingKind } from "../../core/scan/findings.ts";
import type { ScanHealth } from "../../core/scan/health.ts";
import { MOST_CROWDED } from "../../core/scan/soundness.ts";
import { shareText } from "../../core/text/format.ts";

export interface HealthFinding {
	/** What of it can be stepped through on the banker; null: a plain fact. */
	readonly what: FindingKind | "shells" | null;
	readonly words: string;
	/** Something to look at, as against a plain fact. */
	readonly grave: boolean;
}

/** In groups of three. Not by the locale, which costs the window a tenth of a second the first time. */
const count = (n: number): string => String(n).replace(/\B(?=(\d{3})+$)/g, " ");
const many = (n: number, one: string, more = `${one}s`): string => `${count(n)} ${n === 1 ? one : more}`;

/** `turnedOver`: the whole surface faced inwards and was turned, so that what is left is what faces the wrong way now. */
export function healthFindings(
	health: Omit<ScanHealth, "places">,
	turnedOver: boolean,
	flippedNow = health.flippedTriangles,
): readonly HealthFinding[] {
	const findings: HealthFinding[] = [];
	const grave = (what: HealthFinding["what"], words: string): void => void findings.push({ what, words, grave: true });
	const plain = (what: HealthFinding["what"], words: string): void => void findings.push({ what, words, grave: false });
	if (turnedOver)
		plain(null, "The surface faced inwards, what should be outside inside: it was turned over as a whole.");
	else if (health.closed && health.volume !== null && health.volume < 0)
		grave(null, "The surface faces inwards: what should be outside is inside.");
	if (flippedNow > 0)
		grave(
			"flipped",
			`${many(flippedNow, "triangle faces", "triangles face")} the wrong way: depths there would be measured into the air. Face everything outwards.`,
		);
	if (health.nonManifoldEdges > 0) {
		const share = health.crowdedArea / health.area;
		const words = `${many(health.nonManifoldEdges, "edge")} with more than two triangles: surfaces that run into each other, on ${shareText(share, 1)} of the whole.`;
		if (share > MOST_CROWDED) grave("crowded", `${words} Look whether the form is right there.`);
		else plain("crowded", `${words} So little does not hinder.`);
	}
	if (health.shells > 1)
		grave(
			"shells",
			`${many(health.shells, "separate piece")}: crumbs, hollows, or something beside the figure. Choose below which of them stay.`,
		);
	if (!health.closed && health.openEdges > 0)
		grave(
			"open",
			`${many(health.openEdges, "open edge")}: holes or a rim, so it holds no volume and its weight is not known. Close the holes, or give it a back.`,
		);
	else if (!health.closed)
		grave(null, "It is not closed: neighbouring triangles face different ways, so it holds no volume.");
	const against = health.duplicateTriangles - health.duplicateSameWay;
	if (against > 0)
		grave(
			"doubled",
			`${many(health.duplicateTriangles, "doubled triangle")}, ${count(against)} of them against each other: there no side can be told, and no point can stand. Drop them.`,
		);
	else if (health.duplicateTriangles > 0)
		plain(
			"doubled",
			`${many(health.duplicateTriangles, "doubled triangle")}: ground that is there twice. They can be dropped, as far as the surface stays closed without them.`,
		);
	if (health.degenerateTriangles > 0)
		plain(
			"arealess",
			`${many(health.degenerateTriangles, "triangle")} without area: no surface, but directions around them may be off. They can be dropped.`,
		);
	if (health.closed) plain(null, "Closed: it holds a volume.");
	return findings;
}

export const countText = count;
export const manyText = many;
