/** What a search for lines may use, and what it remembers of the lines it has tried. */

import type { StoneFace } from "../stone/block.ts";
import type { LeanGrid } from "./leanGrid.ts";

/** Greatest tilt and lean at which a bit does not walk, degrees (common practice, no source). */
export const STEEPEST_DEG = 45;

/** A lie as the search sees it: open faces by number, and the face on the banker; none in a what-if. */
export interface OpenFaces {
	readonly open: readonly number[];
	readonly banker: StoneFace | null;
}

export interface SearchRules {
	readonly grids: readonly MarkedGrid[];
	/** Half angle of the cone about the normal. */
	readonly coneDeg: number;
	/** Greatest lean in the grids. */
	readonly leanDeg: number;
	/** Whether the drill's reach counts. */
	readonly reachAsked: boolean;
	readonly lies: readonly OpenFaces[];
}

/** A grid with what is known of its lines. */
export interface MarkedGrid extends LeanGrid {
	/** Stamp of the target for which a line is known to be blocked. */
	readonly blocked: Uint32Array;
}

export const withMarks = (grid: LeanGrid): MarkedGrid => ({
	...grid,
	blocked: new Uint32Array(grid.u.length),
});

/** One line of one face's grid, and the cosine of its tilt. */
export interface Candidate {
	readonly face: number;
	readonly line: number;
	readonly cosine: number;
}

/** Least tilted first; a total order. */
export const byTilt = (a: Candidate, b: Candidate): number => b.cosine - a.cosine || a.face - b.face || a.line - b.line;
