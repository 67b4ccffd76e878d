/**
 * High points: places that stand highest in their neighbourhood, as wide as the round's spacing (handbook 6).
 * The neighbourhood of a place is the connected ground within half a spacing of it; *highest* is along the mean normal
 * of that neighbourhood. Climbing from starts spread over the ground to the highest place, again and again, ends on
 * the noses, brows and knees. They are taken from the proudest down, a spacing apart.
 */

import type { Job } from "../job.ts";
import type { Coarse } from "./coarse.ts";
import { measureStanding, Neighbourhood, newStanding } from "./patch.ts";

const STAGE = "finding the high points";
/** Starts of the climb stand this share of a spacing apart. */
const START_GAP = 0.25;
/** A climb that has not settled by then is on a ridge, where any place is as good. */
const MOST_STEPS = 24;
/**
 * Patches of the high points, from the proudest down; none nearer than a spacing to one of `taken` or to each other.
 * `leastProud`, mm: a place less proud of its neighbourhood is no high point. `normals` of the patches; `usable` says whether a place can be taken at all.
 */
export function* findHighPoints(
	coarse: Coarse,
	normals: Float64Array,
	spacing: Float32Array,
	taken: readonly number[],
	leastProud: number,
	usable: (patch: number) => boolean,
): Job<number[]> {
	const { surface, areas } = coarse;
	const { positions } = surface.mesh;
	const { onRim } = surface.adjacency;
	const patches = areas.length;
	const around = new Neighbourhood(surface);
	const standing = newStanding();
	const covered = new Uint8Array(patches);
	const ends = new Map<number, number>();
	for (let c = 0, work = 0; c < patches; c++) {
		if (covered[c] || !surface.carries[c]) continue;
		around.gather(c, START_GAP * spacing[c]);
		for (let i = 0; i < around.count; i++) covered[around.found[i]] = 1;
		let at = c;
		for (let step = 0; step < MOST_STEPS; step++) {
			around.gather(at, spacing[at] / 2);
			work += around.count;
			measureStanding(around, positions, normals, areas, standing);
			if (standing.highest === at || !surface.carries[standing.highest]) break;
			at = standing.highest;
		}
		// A place on a rim is highest only because the scan ends there.
		if (!onRim[at] && standing.proud >= leastProud) ends.set(at, standing.proud);
		if (work > 100_000) {
			work = 0;
			yield { stage: STAGE, share: c / patches };
		}
	}
	const near = new Uint8Array(patches);
	const claim = (c: number): void => {
		around.gather(c, spacing[c]);
		for (let i = 0; i < around.count; i++) near[around.found[i]] = 1;
	};
	for (const c of taken) claim(c);
	const high: number[] = [];
	for (const [c] of [...ends].sort((a, b) => b[1] - a[1] || a[0] - b[0])) {
		if (near[c] || !usable(c)) continue;
		high.push(c);
		claim(c);
	}
	return high;
}
