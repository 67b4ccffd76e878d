/** Few turns of the stone that reach most of the figure (handbook 8, by way of the lies). */

import type { Job } from "../job.ts";
import { faceTowards } from "../stone/block.ts";
import { turn } from "../vector.ts";
import type { Drill } from "./drill.ts";
import type { DrillTarget } from "./drillLine.ts";
import { facesToLieOn, type Lie, lieOn, usualSide } from "./lies.ts";
import { createLineSearch, type LineSearchSetup } from "./lineSearch.ts";

/** A turn of the stone is asked for only when it opens at least this share of the targets (common practice, no source). */
const WORTH_A_TURN = 0.02;

export interface ChosenLies {
	/** In the order of work. */
	readonly lies: readonly Lie[];
	/** Share of the targets that have a line in the first lie, in the first two, and so on. */
	readonly reached: readonly number[];
}

type Setup = Omit<LineSearchSetup, "lies">;

/**
 * Begins with the usual lie, a figure upright and a relief on its back, and adds the lie that opens most of what is left as
 * long as that is worth a turn. `targets` stand for the figure, spread evenly over it; at least one.
 */
export function* chooseLies(
	setup: Setup,
	targets: readonly DrillTarget[],
	drill: Drill,
	allowance: number,
	closedFigure: boolean,
): Job<ChosenLies> {
	const { stone, placement } = setup;
	const usual = faceTowards(stone, turn(placement.rotation, usualSide(closedFigure)));
	// What a figure stands on is settled; the stone lies on any other face only where it does so of itself.
	const others = facesToLieOn(stone).filter((face) => face.name !== usual.name);
	const all = [usual, ...others].map((face) => lieOn(face, placement.rotation));
	const open = yield* reachedIn(setup, all, targets, drill, allowance);
	const left = new Set(targets.keys());
	const gain = (i: number): number => [...left].reduce((sum, t) => sum + open[i][t], 0);
	const lies: Lie[] = [];
	const reached: number[] = [];
	const take = (i: number): void => {
		lies.push(all[i]);
		for (const t of [...left]) if (open[i][t]) left.delete(t);
		reached.push(1 - left.size / targets.length);
	};
	take(0);
	for (;;) {
		let best = 0;
		for (let i = 1; i < all.length; i++) if (gain(i) > gain(best)) best = i;
		if (gain(best) < WORTH_A_TURN * targets.length) return { lies, reached };
		take(best);
	}
}

/** The carver's own lies, with what they reach. */
export function* weighLies(
	setup: Setup,
	lies: readonly Lie[],
	targets: readonly DrillTarget[],
	drill: Drill,
	allowance: number,
): Job<ChosenLies> {
	const open = yield* reachedIn(setup, lies, targets, drill, allowance);
	const reached = lies.map((_, n) => {
		let count = 0;
		for (let t = 0; t < targets.length; t++) if (open.slice(0, n + 1).some((row) => row[t])) count++;
		return count / targets.length;
	});
	return { lies, reached };
}

/** For each lie, 1 at the targets that have a line in it. */
function* reachedIn(
	setup: Setup,
	lies: readonly Lie[],
	targets: readonly DrillTarget[],
	drill: Drill,
	allowance: number,
): Job<Uint8Array[]> {
	const searches = lies.map((lie) => createLineSearch({ ...setup, lies: [lie] }));
	const open = lies.map(() => new Uint8Array(targets.length));
	for (const [t, target] of targets.entries()) {
		for (const [i, search] of searches.entries()) open[i][t] = search.reaches(target, drill, allowance) ? 1 : 0;
		if (t % 4 === 3) yield { stage: "trying how the stone may lie", share: t / targets.length };
	}
	return open;
}
