/** Words for grades. */

import type { Abrasive, GradeTrouble } from "./grades.ts";

export const grainText = (mm: number): string => `${Math.round(1000 * mm)} µm`;

export const TROUBLE_WORDS: Readonly<Record<GradeTrouble, string>> = {
	step: "the step from the grade before is larger than the ratio allows",
	scratch: "the scratches of the grade before go deeper than it takes off",
	allowance: "the stone that is left over is used up here",
	order: "it is not finer than the grade before",
	memory: "its grain is from memory; makers differ, so enter your own",
};

/** P is the scale of coated abrasives; pads have their own. */
export const gradeName = ({ kind, grit, wet }: Abrasive): string =>
	`${kind === "paper" ? "P" : "pad "}${grit}${wet ? ", wet" : ""}`;
