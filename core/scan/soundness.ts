/**
 * Whether a scan may be carved from, in one verdict: from its health, and from what a plan needs of it (closed, faces
 * outwards, no ground of which the side cannot be told). The shares are the project's own, common practice without a source.
 */

import type { ScanHealth } from "./health.ts";

/** Pieces that together hold less of the surface are crumbs. */
const CRUMBS = 0.01;
/** A hole of less than that share of the surface, were it round, is a gap of the scanner, no rim. */
const GAP = 0.01;
/** On more of the surface than that, surfaces that run into each other are no longer seams. */
export const MOST_CROWDED = 0.05;
/** mm; so much longer than the longest rim may a rim be that is closed. */
const RIM_OVER = 1;

export interface SoundnessFacts {
	readonly health: Omit<ScanHealth, "places">;
	/** Triangles that face the wrong way as the model stands. */
	readonly flipped: number;
	/** Areas of its pieces, largest first, any unit. */
	readonly pieces: readonly number[];
	/** Lengths of its open loops and its area, mm and mm². */
	readonly rims: readonly number[];
	readonly area: number;
	/** What has been mended already. */
	readonly done: {
		readonly faceOutward: boolean;
		readonly dropDoubled: boolean;
		readonly keepLargestShell: boolean;
		readonly keepShells: readonly number[] | null;
		readonly closeHolesUpTo_mm: number;
	};
}

/** What is to be mended, as the commission names it; only what is to be changed. */
export interface Mending {
	dropDoubled?: true;
	faceOutward?: true;
	keepLargestShell?: true;
	closeHolesUpTo_mm?: number;
}

export interface Soundness {
	/**
	 * "sound": closed, or an open shell with one side. "mend": the mending clears all that is in the way, as far as can be
	 * told before it is done. "unsound": nothing offered here does.
	 */
	readonly verdict: "sound" | "mend" | "unsound";
	/** Every reason against it that no mending offered clears. */
	readonly against: readonly ("wrong way" | "crowded")[];
	readonly mending: Mending;
	/** A rim rather than gaps: points can be had, weight and thickness not until it is given a back. */
	readonly open: boolean;
	/** Share of the surface at edges of more than two triangles. */
	readonly crowded: number;
	/** Pieces beside the largest that are no crumbs, or that the carver keeps. */
	readonly more: number;
}

export function judgeSoundness({ health, flipped, pieces, rims, area, done }: SoundnessFacts): Soundness {
	const mending: Mending = {};
	const against: Soundness["against"][number][] = [];
	const crowded = health.area > 0 ? health.crowdedArea / health.area : 0;
	const bothWays = !health.closed && health.openEdges === 0;
	if (flipped > 0 || bothWays) {
		if (done.faceOutward) against.push("wrong way");
		else mending.faceOutward = true;
	}
	if (health.duplicateTriangles > health.duplicateSameWay && !done.dropDoubled) mending.dropDoubled = true;
	// Dropping what is doubled may thin them out, so that they are judged after that.
	if (crowded > MOST_CROWDED && !mending.dropDoubled) against.push("crowded");
	const all = pieces.reduce((sum, piece) => sum + piece, 0);
	const crumbs = health.shells > 1 && all - pieces[0] < CRUMBS * all;
	if (crumbs && !done.keepLargestShell && done.keepShells === null) mending.keepLargestShell = true;
	const longest = rims.reduce((most, rim) => Math.max(most, rim), 0);
	// Of the loops a round one holds most: length² ÷ 4π.
	const gaps = health.openEdges > 0 && (longest * longest) / (4 * Math.PI) < GAP * area;
	if (gaps && !(done.closeHolesUpTo_mm >= longest)) mending.closeHolesUpTo_mm = Math.ceil(longest + RIM_OVER);
	return {
		verdict: against.length > 0 ? "unsound" : Object.keys(mending).length > 0 ? "mend" : "sound",
		against,
		mending,
		open: health.openEdges > 0 && mending.closeHolesUpTo_mm === undefined,
		crowded,
		more: mending.keepLargestShell ? 0 : health.shells - 1,
	};
}
