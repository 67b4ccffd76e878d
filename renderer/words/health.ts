/** What the health of a scan means to the carver, the graver findings first. */

import type { ScanHealth } from "../../core/scan/health.ts";

export interface Finding {
	readonly words: string;
	/** Something to look at, as against a plain fact. */
	readonly grave: boolean;
}

const count = (n: number): string => n.toLocaleString("en-GB").replace(/,/g, " ");
const many = (n: number, one: string, more = `${one}s`): string => `${count(n)} ${n === 1 ? one : more}`;

export function healthFindings(health: Omit<ScanHealth, "places">): readonly Finding[] {
	const findings: Finding[] = [];
	const grave = (words: string): void => void findings.push({ words, grave: true });
	const plain = (words: string): void => void findings.push({ words, grave: false });
	if (health.closed && health.volume !== null && health.volume < 0)
		grave("The surface faces inwards: what should be outside is inside.");
	if (health.flippedTriangles > 0)
		grave(`${many(health.flippedTriangles, "triangle")} face the wrong way, so their normals cannot be trusted.`);
	if (health.nonManifoldEdges > 0)
		grave(`${many(health.nonManifoldEdges, "edge")} with more than two triangles: surfaces that run into each other.`);
	if (health.shells > 1)
		grave(`${many(health.shells, "separate shell")}: loose pieces, or a figure with something beside it.`);
	if (health.duplicateTriangles > 0) plain(`${many(health.duplicateTriangles, "doubled triangle")}.`);
	if (health.degenerateTriangles > 0) plain(`${many(health.degenerateTriangles, "triangle")} without area.`);
	if (health.closed) plain("Closed: it holds a volume.");
	else plain(`An open shell: ${many(health.openEdges, "open edge")}; it has no volume of its own.`);
	return findings;
}

export const countText = count;
export const manyText = many;
