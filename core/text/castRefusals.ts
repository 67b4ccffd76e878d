/** Sentences for what the cast check refuses. */

import type { Sentences } from "./refusals.ts";

const mm = (value: unknown): string => Number(value).toFixed(1);

export const castRefusals: Sentences = {
	"cast.fewPairs": (f) =>
		`Scan and cast are compared on ${f.found} calliper ${f.found === 1 ? "pair" : "pairs"}; expected at least two, long and in different directions. Pick another pair.`,
	"cast.short": (f) =>
		`The places of calliper pair ${f.pair} lie ${mm(f.found)} mm apart on the cast; expected at least ${mm(f.least)} mm, or the reading error hides the size. Remove it and pick a longer one.`,
	"cast.reading": (f) =>
		`The reading of calliper pair ${f.pair} is ${f.found} mm; expected a length above 0. Read it again.`,
	"cast.readingError": (f) =>
		`The error of a calliper reading is given as ${f.found} mm; expected a length above 0, for example 0.2. Correct it.`,
};
