/** Few turns of the stone that reach most of the figure (handbook 8, by way of the lies). */

import type { Job } from "../job.ts";
import type { Drill } from "./drill.ts";
import type { DrillTarget } from "./drillLine.ts";
import { type Lie, lieOn } from "./lies.ts";
import { createLineSearch, type LineSearchSetup } from "./lineSearch.ts";

/** A turn of the stone is asked for only when it opens at least this share of the targets (common practice, no source). */
const WORTH_A_TURN = 0.02;

export interface ChosenLies {
	/** In the order of work. */
	readonly lies: readonly Lie[];
	/** Share of the targets that have a line in the first lie, in the first two, and so on. */
	readonly reached: readonly number[];
}

/**
 * Begins with the usual lie, a figure upright and a relief on its back, and adds the lie that opens most of what is left as
 * long as that is worth a turn. `targets` stand for the figure, spread evenly over it; at least one.
 */
export function* chooseLies(
	setup: Omit<LineSearchSetup, "lies">,
	targets: readonly DrillTarget[],
	drill: Drill,
	allowance: number,
	closedFigure: boolean,
): Job<ChosenLies> {
	const all = setup.stone.faces.map((face) => lieOn(face.name));
	const searches = all.map((lie) => createLineSearch({ ...setup, lies: [lie] }));
	const open = all.map(() => new Uint8Array(targets.length));
	for (const [t, target] of targets.entries()) {
		for (const [i, search] of searches.entries()) open[i][t] = search.reaches(target, drill, allowance) ? 1 : 0;
		if (t % 16 === 15) yield { stage: "trying how the stone may lie", share: t / targets.length };
	}
	const left = new Set(targets.keys());
	const gain = (i: number): number => [...left].reduce((sum, t) => sum + open[i][t], 0);
	const usual = all.findIndex((lie) => lie.closedFace === (closedFigure ? "bed" : "back"));
	const lies: Lie[] = [];
	const reached: number[] = [];
	const take = (i: number): void => {
		lies.push(all[i]);
		for (const t of [...left]) if (open[i][t]) left.delete(t);
		reached.push(1 - left.size / targets.length);
	};
	if (usual >= 0) take(usual);
	for (;;) {
		let best = 0;
		for (let i = 1; i < all.length; i++) if (gain(i) > gain(best)) best = i;
		if (lies.length > 0 && gain(best) < WORTH_A_TURN * targets.length) return { lies, reached };
		if (lies.length === all.length) return { lies, reached };
		take(best);
	}
}
