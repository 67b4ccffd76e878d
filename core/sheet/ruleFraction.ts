/** Sixteenths in a table, numerator over denominator: larger figures than a fraction on one line leaves room for. */

import { type Drawing, line, type TextLook, text } from "./drawing.ts";
import { type Fonts, textWidth } from "./fontMetrics.ts";
import { BODY } from "./style.ts";

/** Em size of the fraction's figures, mm; two of them and the bar stand in a row of 6 mm. */
const SIZE = 0.8 * BODY;
/** Height of a figure in em: that of DejaVu Sans, read from its outlines (from memory). */
const FIGURE = 0.73;
/** From the bar to the figures, and from the whole inches to the fraction, mm. */
const AIR = 0.45;

export interface RuleFraction {
	/** Sign and whole inches; may be empty. */
	readonly lead: string;
	readonly over: string;
	readonly under: string;
}

/** "3 5/16", "+1/2"; null for any other text. */
export function ruleFraction(words: string): RuleFraction | null {
	const match = /^([+−-]?(?:\d+(?=\u00a0))?)\u00a0?(\d{1,2})\/(2|4|8|16)$/.exec(words);
	return match && { lead: match[1], over: match[2], under: match[3] };
}

/** Right-aligned at `x`, the bar at height `middle`; answers its width. */
export function drawRuleFraction(
	on: Drawing,
	fonts: Fonts,
	{ lead, over, under }: RuleFraction,
	x: number,
	middle: number,
	look: TextLook,
): number {
	const bold = look.bold ?? false;
	const widths = [over, under].map((words) => textWidth(fonts, words, SIZE, bold));
	const wide = Math.max(...widths);
	const small = { ...look, size: SIZE, anchor: "middle" } as const;
	text(on, x - wide / 2, middle - AIR, over, small);
	text(on, x - wide / 2, middle + AIR + FIGURE * SIZE, under, small);
	line(on, { colour: look.colour, width: 0.2 }, x - wide, middle, x, middle);
	text(on, x - wide - 2 * AIR, middle + 0.36 * BODY, lead, { ...look, size: BODY, anchor: "end" });
	return wide + 2 * AIR + textWidth(fonts, lead, BODY, bold);
}
