/** What is typed on the keypad, key by key: figures with a point, or inches with sixteenths ("3 5/16"). */

import { type LengthUnit, parseLength } from "../../core/text/length.ts";

const MOST = 8;

/** The fractions that a rule in sixteenths shows. */
export const FRACTIONS: readonly string[] = Array.from({ length: 15 }, (_, i) => {
	const by = [1, 2, 1, 4, 1, 2, 1, 8, 1, 2, 1, 4, 1, 2, 1][i];
	return `${(i + 1) / by}/${16 / by}`;
});

/** A fraction that is being written out: over 2, 4, 8 or 16. */
const BEGUN = /(?:^|[- ])\d{1,2}\/(?:|1|16|2|4|8)$/;
const WRITTEN = /\s?\d+\/\d*$/;

/** The text after a key; what would be no number is not taken. `fractions`: keys such as "5/16", " " and "/" count. */
export function afterKey(text: string, key: string, mayBeNegative: boolean, fractions = false): string {
	if (key === "−") return !mayBeNegative ? text : text.startsWith("-") ? text.slice(1) : `-${text}`;
	if (key.length > 1) {
		if (text.includes(".")) return text;
		const whole = text.replace(WRITTEN, "");
		return whole === "" || whole === "-" ? `${whole}${key}` : `${whole.trimEnd()} ${key}`;
	}
	if (key === "." || key === " ") {
		if (/[. /]/.test(text) || (key === " " && (!fractions || !/\d$/.test(text)))) return text;
		return `${text === "" || text === "-" ? `${text}0` : text}${key}`;
	}
	if (key === "/") return fractions && /\d$/.test(text) && !/[./]/.test(text) ? `${text}/` : text;
	const next = text + key;
	return text.length >= MOST || (text.includes("/") && !BEGUN.test(next)) ? text : next;
}

/** One key less; a fraction goes as it came, whole. */
export const rubbedOut = (text: string): string => (WRITTEN.test(text) ? text.replace(WRITTEN, "") : text.slice(0, -1));

/** The length that stands there, mm, or null while it is none. */
export const keyedLength = (text: string, units: LengthUnit): number | null =>
	/\/1?$/.test(text) ? null : parseLength(text, units);
