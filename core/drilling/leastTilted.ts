/**
 * The least tilted clear line of one target. Every line of the grids counts, so the search is exhaustive; it is quick
 * because a place that blocks one line mostly blocks whole tiles of its neighbours (`blockers.ts`).
 */

import { cosDegrees, sinDegrees } from "../exactAngle.ts";
import { dot } from "../vector.ts";
import { setWorstAim } from "./drill.ts";
import type { SharedLine } from "./drillLine.ts";
import { directionOf, LEAN_STEP_DEG, type LeanGrid, lineAt, TILE_NUMBERS } from "./leanGrid.ts";
import type { LineTrial } from "./lineTrial.ts";
import { byTilt, type Candidate, type SearchRules, STEEPEST_DEG } from "./searchRules.ts";

/** Lines are sorted one degree of tilt at a time: most targets are done in the first. */
const BAND_COSINES = Array.from({ length: STEEPEST_DEG + 1 }, (_, i) => cosDegrees(i));
/** Tilts within a step of the grid are equal, and go to the direction that the neighbours share. */
const EQUAL_COSINE = cosDegrees(LEAN_STEP_DEG);
const EQUAL_SINE = sinDegrees(LEAN_STEP_DEG);

/** The least tilted clear line of one lie, or null. */
export function leastTilted(trial: LineTrial, search: SearchRules, lie: number): Candidate | null {
	const { tiles } = trial;
	const bands = Math.ceil(search.coneDeg);
	tiles.take(trial, search, lie);
	for (let b = 0; b < bands && tiles.count > 0; b++) {
		const upper = b === 0 ? 2 : BAND_COSINES[b];
		const lower = b + 1 < bands ? BAND_COSINES[b + 1] : cosDegrees(search.coneDeg);
		for (const candidate of linesOfBand(trial, search, lie, upper, lower)) {
			trial.examine(search, lie, candidate.face, candidate.line, candidate.cosine);
			if (trial.isClear(search, candidate)) return candidate;
			search.grids[candidate.face].blocked[candidate.line] = trial.stamp;
		}
	}
	return null;
}

/** Permitted lines of a lie with lower ≤ cosine of tilt < upper that no known place blocks, least tilted first. */
function linesOfBand(trial: LineTrial, search: SearchRules, lie: number, upper: number, lower: number): Candidate[] {
	const { blockers, stamp, tiles } = trial;
	const [nx, ny, nz] = trial.target.normal;
	const band: Candidate[] = [];
	for (let n = tiles.count - 1; n >= 0; n--) {
		if (tiles.least[n] < lower) continue;
		const face = tiles.face[n];
		const grid = search.grids[face];
		// Tiles that lie in narrower bands altogether, or are blocked altogether, are done with.
		if (tiles.greatest[n] >= upper || isTileBlocked(trial, grid, n)) {
			tiles.drop(n);
			continue;
		}
		const { inModel, tileFrom, blocked } = grid;
		const from = tileFrom[tiles.tile[n]];
		const to = tileFrom[tiles.tile[n] + 1];
		for (let line = from; line < to; line++) {
			const cosine = inModel[3 * line] * nx + inModel[3 * line + 1] * ny + inModel[3 * line + 2] * nz;
			if (cosine < lower || cosine >= upper || blocked[line] === stamp) continue;
			const permit = trial.examine(search, lie, face, line, cosine);
			if (permit === "too far") trial.tooFar.push({ lie, candidate: { face, line, cosine } });
			else if (permit === "in the banker") trial.inBanker.push({ lie, candidate: { face, line, cosine } });
			else if (permit === "allowed") {
				if (blockers.count > 0 && trial.isKnownBlocked(grid, line)) blocked[line] = stamp;
				else band.push({ face, line, cosine });
			}
		}
	}
	return band.sort(byTilt);
}

/** Whether a place met since the tile was last looked at blocks all of it. */
function isTileBlocked(
	{ blockers, aimed, worst, depthUnder, aim, tiles }: LineTrial,
	grid: LeanGrid,
	n: number,
): boolean {
	const known = tiles.known[n];
	if (known === blockers.count) return false;
	tiles.known[n] = blockers.count;
	// No line of the face is shorter than square through the stone, so no worst-aimed hole is narrower than this.
	setWorstAim(worst, aim, worst.widening, depthUnder[tiles.face[n]], 0);
	return blockers.blocksTile(grid.tiles, TILE_NUMBERS * tiles.tile[n], tiles.limit[n], aimed, worst, known);
}

/** The first clear one of the shared lines that are as little tilted as the best line; else the best itself. */
export function preferShared(
	trial: LineTrial,
	search: SearchRules,
	lie: number,
	best: Candidate,
	shared: readonly SharedLine[],
): Candidate {
	const cosineOfBest = Math.min(1, best.cosine);
	const least = Math.max(
		cosDegrees(search.coneDeg),
		cosineOfBest * EQUAL_COSINE - Math.sqrt(1 - cosineOfBest * cosineOfBest) * EQUAL_SINE,
	);
	for (const wish of shared) {
		const face = search.lies[lie].open.find((f) => search.grids[f].face.name === wish.face);
		if (face === undefined) continue;
		const grid = search.grids[face];
		const line = lineAt(grid, wish.leanDeg);
		if (line < 0 || grid.blocked[line] === trial.stamp) continue;
		const candidate = { face, line, cosine: dot(directionOf(grid, line), trial.target.normal) };
		if (candidate.cosine < least) continue;
		if (trial.examine(search, lie, face, line, candidate.cosine) !== "allowed") continue;
		if (trial.isClear(search, candidate)) return candidate;
	}
	return best;
}
