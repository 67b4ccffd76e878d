/**
 * The least tilted clear line of one target. Every line of the grids counts, so the search is exhaustive; it is quick
 * because a place that blocks one line mostly blocks whole tiles of its neighbours (`blockers.ts`).
 */

import { cosDegrees, sinDegrees } from "../exactAngle.ts";
import { dot } from "../vector.ts";
import type { SharedLine } from "./drillLine.ts";
import { directionOf, LEAN_STEP_DEG, lineAt, TILE_NUMBERS } from "./leanGrid.ts";
import type { LineTrial } from "./lineTrial.ts";
import { byTilt, type Candidate, type SearchRules, STEEPEST_DEG } from "./searchRules.ts";

/** Lines are sorted one degree of tilt at a time: most targets are done in the first. */
const BAND_COSINES = Array.from({ length: STEEPEST_DEG + 1 }, (_, i) => cosDegrees(i));
/** Tilts within a step of the grid are equal, and go to the direction that the neighbours share. */
const EQUAL_COSINE = cosDegrees(LEAN_STEP_DEG);
const EQUAL_SINE = sinDegrees(LEAN_STEP_DEG);

/** The least tilted clear line of one lie, or null. */
export function leastTilted(trial: LineTrial, search: SearchRules, lie: number): Candidate | null {
	const bands = Math.ceil(search.coneDeg);
	const tipMost = trial.farthestTip(search);
	for (let b = 0; b < bands; b++) {
		const upper = b === 0 ? 2 : BAND_COSINES[b];
		const lower = b + 1 < bands ? BAND_COSINES[b + 1] : cosDegrees(search.coneDeg);
		for (const candidate of linesOfBand(trial, search, lie, upper, lower, tipMost)) {
			trial.examine(search, lie, candidate.face, candidate.line, candidate.cosine);
			if (trial.isClear(search, candidate)) return candidate;
			search.grids[candidate.face].blocked[candidate.line] = trial.stamp;
		}
	}
	return null;
}

/** Permitted lines of a lie with lower ≤ cosine of tilt < upper that no known place blocks, least tilted first. */
function linesOfBand(
	trial: LineTrial,
	search: SearchRules,
	lie: number,
	upper: number,
	lower: number,
	tipMost: number,
): Candidate[] {
	const { blockers, aimed, stamp } = trial;
	const [nx, ny, nz] = trial.target.normal;
	const upperSine = Math.sqrt(Math.max(0, 1 - upper * upper));
	const lowerSine = Math.sqrt(Math.max(0, 1 - lower * lower));
	const band: Candidate[] = [];
	for (const face of search.lies[lie].open) {
		if (!(trial.depthUnder[face] > 0)) continue;
		const grid = search.grids[face];
		const { inModel, tiles, tileFrom, blocked, tileStamp, tileKnown } = grid;
		for (let tile = 0; tile + 1 < tileFrom.length; tile++) {
			const c = TILE_NUMBERS * tile;
			const middle = tiles[c] * nx + tiles[c + 1] * ny + tiles[c + 2] * nz;
			// Tilt of the middle less, and plus, the width of the tile, against the band: cosines of sums, no angles.
			if (middle < lower * tiles[c + 3] - lowerSine * tiles[c + 4]) continue;
			if (upper < tiles[c + 3] && middle > upper * tiles[c + 3] + upperSine * tiles[c + 4]) continue;
			if (tileStamp[tile] !== stamp) {
				tileStamp[tile] = stamp;
				tileKnown[tile] = 0;
			}
			if (tileKnown[tile] < 0) continue;
			if (tileKnown[tile] < blockers.count) {
				const dead = blockers.blocksTile(tiles, c, tipMost, aimed, tileKnown[tile]);
				tileKnown[tile] = dead ? -1 : blockers.count;
				if (dead) continue;
			}
			for (let line = tileFrom[tile]; line < tileFrom[tile + 1]; line++) {
				const dx = inModel[3 * line];
				const dy = inModel[3 * line + 1];
				const dz = inModel[3 * line + 2];
				const cosine = dx * nx + dy * ny + dz * nz;
				if (cosine < lower || cosine >= upper || blocked[line] === stamp) continue;
				if (blockers.blocksLine(dx, dy, dz, tipMost, aimed)) {
					blocked[line] = stamp;
					continue;
				}
				const permit = trial.examine(search, lie, face, line, cosine);
				if (permit === "too far") trial.tooFar.push({ lie, candidate: { face, line, cosine } });
				else if (permit === "in the banker") trial.inBanker.push({ lie, candidate: { face, line, cosine } });
				else if (permit === "allowed") {
					if (trial.isKnownBlocked(grid, line)) blocked[line] = stamp;
					else band.push({ face, line, cosine });
				}
			}
		}
	}
	return band.sort(byTilt);
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
