/** A name on the left and its words beside it: facts of the plan, and notes that must be seen. */

import { line, text } from "./drawing.ts";
import { type Flow, lineHeight } from "./flow.ts";
import { wrapText } from "./fontMetrics.ts";
import { BODY, body, bodyBold, quiet, RADDLE, raddlePen } from "./style.ts";

/** Width of the names, mm. */
const NAMES = 34;

export function fact(flow: Flow, name: string, words: string, warn = false): void {
	const look = warn ? { ...bodyBold, colour: RADDLE } : body;
	const lines = wrapText(flow.fonts, words, flow.columnWidth - NAMES, BODY, warn);
	const s = flow.take(lines.length * lineHeight + 0.7);
	text(s.on, s.x, s.y + BODY, name, quiet);
	lines.forEach((l, i) => {
		text(s.on, s.x + NAMES, s.y + BODY + i * lineHeight, l, look);
	});
}

/** The same with a red stroke beside it and the name in bold. */
export function noted(flow: Flow, about: string, words: string): void {
	const lines = wrapText(flow.fonts, words, flow.columnWidth - NAMES, BODY);
	const names = wrapText(flow.fonts, about, NAMES - 4, BODY, true);
	const tall = Math.max(lines.length, names.length) * lineHeight;
	const s = flow.take(tall + 1.6);
	line(s.on, raddlePen, s.x, s.y + 0.6, s.x, s.y + tall - 0.4);
	names.forEach((n, i) => {
		text(s.on, s.x + 2.2, s.y + BODY + i * lineHeight, n, bodyBold);
	});
	lines.forEach((l, i) => {
		text(s.on, s.x + NAMES, s.y + BODY + i * lineHeight, l, body);
	});
}
