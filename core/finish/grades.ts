/**
 * The chain of grades inside the last allowance (handbook 13): no step larger than the ratio asked for, the scratch that one
 * grade leaves within what the next can take off, and all of it together within the stone that is left.
 */

import { Refusal } from "../refusal.ts";
import { ABRASIVES, type AbrasiveKind, abrasiveGrain, medianGrain } from "./abrasives.ts";

/** One abrasive that the carver has. */
export interface Abrasive {
	readonly kind: AbrasiveKind;
	readonly grit: number;
	readonly wet: boolean;
	/** Median grain, µm, where the carver knows better than the table; null: from the table. */
	readonly grain_um: number | null;
}

/** Every figure here is an assumption that the carver may change. */
export interface GradeRules {
	/** Most by which the grain may be coarser than the next one's. */
	readonly ratio: number;
	/** Depth of the scratch that a grade leaves, as a share of its own median grain. */
	readonly scratchShare: number;
	/** What a grade can take off in the hours reckoned for it, in its own median grains. */
	readonly grainsOff: number;
	/** Depth of the marks that the last chisel, rasp or burr leaves, mm. */
	readonly marks_mm: number;
}

export const POLISHES = ["as carved", "matt", "satin", "gloss"] as const;
export type Polish = (typeof POLISHES)[number];

/** Where hand work ends for a polish (common practice, no source; a gloss then takes polishing powder). */
export const LAST_GRIT: Readonly<Record<Polish, number | null>> = {
	"as carved": null,
	matt: 220,
	satin: 400,
	gloss: 1000,
};

export type GradeTrouble = "step" | "scratch" | "allowance" | "order" | "memory";

export interface GradeStep {
	readonly abrasive: Abrasive;
	/** Median grain, mm. */
	readonly grain: number;
	/** Grain of the step before ÷ this one's; null for the first. */
	readonly ratio: number | null;
	/** What must go, mm: the marks of the tool, or the scratches of the step before. */
	readonly takes: number;
	/** What it can take off, mm; the first is worked until the marks are gone, however long it takes. */
	readonly canTake: number | null;
	/** Depth of its own scratches, mm. */
	readonly leaves: number;
	readonly troubles: readonly GradeTrouble[];
}

export interface GradeChain {
	readonly steps: readonly GradeStep[];
	/** All removals and the last scratch together, mm. */
	readonly takes: number;
	/** Stone that is left for them, mm. */
	readonly allowance: number;
	readonly fits: boolean;
	/** Every step and the whole hold. */
	readonly sound: boolean;
}

/** Median grain, mm. Refuses a number that no table holds where the carver gave no grain. */
function grainOf({ kind, grit, grain_um }: Abrasive): number {
	if (grain_um !== null) return grain_um / 1000;
	const known = abrasiveGrain(kind, grit);
	if (!known) throw new Refusal("finish.grit", { found: grit, kind });
	return medianGrain(known);
}

/**
 * The fewest grades of the paper table from `first` to `last` with no step over the ratio; of those chains the one whose
 * largest step is least. Refuses where the table has no such chain.
 */
export function proposeChain(first: number, last: number, ratio: number): Abrasive[] {
	const table = ABRASIVES.filter((one) => one.kind === "paper" && one.grit >= first && one.grit <= last);
	const known = [first, last].every((grit) => table.some((one) => one.grit === grit));
	if (!known || first > last) throw new Refusal("finish.chainEnds", { first, last });
	/** Fewest steps to each grade, the largest of them, and where it comes from. */
	const best = table.map((_, i) => ({ steps: i === 0 ? 0 : Number.POSITIVE_INFINITY, worst: 1, from: -1 }));
	for (let i = 1; i < table.length; i++)
		for (let j = 0; j < i; j++) {
			const step = medianGrain(table[j]) / medianGrain(table[i]);
			const steps = best[j].steps + 1;
			const worst = Math.max(best[j].worst, step);
			if (step > ratio || steps > best[i].steps || (steps === best[i].steps && worst >= best[i].worst)) continue;
			best[i] = { steps, worst, from: j };
		}
	const chain: Abrasive[] = [];
	let at = table.length - 1;
	if (best[at].steps === Number.POSITIVE_INFINITY) throw new Refusal("finish.noChain", { first, last, ratio });
	for (; at >= 0; at = best[at].from)
		chain.unshift({ kind: "paper", grit: table[at].grit, wet: table[at].grit >= 220, grain_um: null });
	return chain;
}

/** Looks through a chain in the order of work; `allowance`: stone left by the last round, mm. */
export function checkChain(abrasives: readonly Abrasive[], rules: GradeRules, allowance: number): GradeChain {
	const steps: GradeStep[] = [];
	let takes = 0;
	for (const [i, abrasive] of abrasives.entries()) {
		const before = steps[i - 1];
		const grain = grainOf(abrasive);
		const ratio = before ? before.grain / grain : null;
		const mustTake = before ? before.leaves : rules.marks_mm;
		const canTake = before ? rules.grainsOff * grain : null;
		takes += mustTake;
		const troubles: GradeTrouble[] = [];
		if (ratio !== null && ratio > rules.ratio) troubles.push("step");
		if (ratio !== null && ratio <= 1) troubles.push("order");
		if (canTake !== null && mustTake > canTake) troubles.push("scratch");
		if (takes > allowance) troubles.push("allowance");
		if (abrasive.grain_um === null && abrasiveGrain(abrasive.kind, abrasive.grit)?.published === false)
			troubles.push("memory");
		steps.push({ abrasive, grain, ratio, takes: mustTake, canTake, leaves: rules.scratchShare * grain, troubles });
	}
	const last = steps[steps.length - 1];
	const whole = takes + (last ? last.leaves : 0);
	const fits = whole <= allowance;
	const sound = fits && steps.every(({ troubles }) => troubles.every((one) => one === "memory"));
	return { steps, takes: whole, allowance, fits, sound };
}
