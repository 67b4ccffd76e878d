/** On which pages each number stands: its map, and its line in the tables or lists. */

import type { Plan } from "../plan/planFile.ts";
import { line, rect, text } from "./drawing.ts";
import { newFlow, type SheetPage } from "./flow.ts";
import type { Fonts } from "./fontMetrics.ts";
import type { PaperSize } from "./paper.ts";
import { drawMark } from "./roundMarks.ts";
import { body, bodyBold, hairline, quiet, rule, TINT } from "./style.ts";

/** Printed pages of one number; "–" where it stands on none. */
export interface PagesOfNumber {
	readonly map: string;
	readonly table: string;
}

/** A strip of the index, mm: number, mark, map page, table page. */
const STRIP = { width: 40, number: 11, mark: 15, map: 25, table: 36 };
const ROW = 4.7;
const HEAD = 6;

/** As many pages whatever `pagesOf` says, so that they can be counted before the others are numbered. */
export function numberIndex(
	fonts: Fonts,
	plan: Plan,
	paper: PaperSize,
	pagesOf: (number: number) => PagesOfNumber,
): SheetPage[] {
	const points = [...plan.points].sort((a, b) => a.number - b.number);
	if (points.length === 0) return [];
	const flow = newFlow(fonts, paper, "Index", 0);
	flow.heading("On which page a number stands");
	flow.gap(1);
	const strips = Math.max(1, Math.floor((flow.columnWidth + 6) / (STRIP.width + 6)));
	const step = (flow.columnWidth + 6) / strips;
	for (let from = 0; from < points.length; ) {
		const rows = Math.max(
			1,
			Math.min(Math.floor((flow.left() - HEAD - 0.1) / ROW), Math.ceil((points.length - from) / strips)),
		);
		const s = flow.take(HEAD + rows * ROW);
		for (let strip = 0; strip < strips && from < points.length; strip++) {
			const x = s.x + strip * step;
			for (const [head, at] of [
				["no.", STRIP.number],
				["map", STRIP.map],
				["table", STRIP.table],
			] as const)
				text(s.on, x + at, s.y + 4, head, { ...quiet, anchor: "end" });
			line(s.on, rule, x, s.y + HEAD - 0.8, x + STRIP.width, s.y + HEAD - 0.8);
			for (let r = 0; r < rows && from < points.length; r++, from++) {
				const p = points[from];
				const y = s.y + HEAD + r * ROW;
				if (r % 10 >= 5) rect(s.on, x, y - 0.6, STRIP.width, ROW, { fill: TINT });
				const pages = pagesOf(p.number);
				text(s.on, x + STRIP.number, y + 2.9, String(p.number), { ...bodyBold, anchor: "end" });
				drawMark(s.on, x + STRIP.mark, y + 1.75, p.round, p.side, p.undercut, 1.1);
				text(s.on, x + STRIP.map, y + 2.9, pages.map, { ...body, anchor: "end" });
				text(s.on, x + STRIP.table, y + 2.9, pages.table, { ...body, anchor: "end" });
				line(s.on, hairline, x, y + ROW - 0.6, x + STRIP.width, y + ROW - 0.6);
			}
		}
		if (from < points.length) flow.newPage();
	}
	return flow.pages;
}
