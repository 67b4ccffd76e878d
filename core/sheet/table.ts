/** Tables: a head that repeats, figures aligned on the right, rows that are easy to follow across the sheet. */

import { line, rect, text } from "./drawing.ts";
import type { Flow, Slot } from "./flow.ts";
import { textWidth, wrapText } from "./fontMetrics.ts";
import { drawRuleFraction, ruleFraction } from "./ruleFraction.ts";
import { BODY, body, hairline, INK, LEADING, quiet, rule, SLATE, TINT } from "./style.ts";

export interface Column {
	/** Words of the head, a line each. */
	readonly head: readonly string[];
	/** mm; the one column of width 0 takes what is left. */
	readonly width: number;
	readonly align: "left" | "right" | "middle";
	readonly bold?: boolean;
	/** Words that leave room to write over them. */
	readonly quiet?: boolean;
}

/** A text, or something to be drawn: x, y of the cell's middle. */
export type Cell = string | ((on: Slot["on"], x: number, y: number) => void);

export interface Table {
	readonly columns: readonly Column[];
	/** Height of a row of one line, mm. */
	readonly rowHeight?: number;
	/** What stands over the head of the columns and is repeated with it. */
	readonly over?: { readonly height: number; draw(slot: Slot): void };
	/** Rows that stay in the column where the head stands (a table of three seats is not torn apart). */
	readonly together?: number;
}

const PAD = 1.3;

export interface TableWriter {
	row(cells: readonly Cell[]): void;
	/** Ends the table, so that its head is no longer repeated. */
	end(): void;
}

export function startTable(flow: Flow, table: Table): TableWriter {
	const fixed = table.columns.reduce((sum, c) => sum + c.width, 0);
	const rest = Math.max(0, flow.columnWidth - fixed);
	const columns = table.columns.map((c) => ({ ...c, width: c.width === 0 ? rest : c.width }));
	const total = columns.reduce((sum, c) => sum + c.width, 0);
	const rowHeight = table.rowHeight ?? 6;
	const headLines = Math.max(...columns.map((c) => c.head.length));
	const headHeight = headLines * BODY * 1.2 + 2.4;
	const over = table.over ?? { height: 0, draw: () => {} };

	const cellX = (c: (typeof columns)[number], x: number): number =>
		c.align === "left" ? x + PAD : c.align === "right" ? x + c.width - PAD : x + c.width / 2;
	const anchor = { left: "start", right: "end", middle: "middle" } as const;

	const head = (s: Slot): number => {
		over.draw(s);
		const y = s.y + over.height;
		let x = s.x;
		for (const c of columns) {
			c.head.forEach((words, i) => {
				const up = headLines - c.head.length + i;
				text(s.on, cellX(c, x), y + BODY + up * BODY * 1.2, words, { ...quiet, anchor: anchor[c.align] });
			});
			x += c.width;
		}
		line(s.on, rule, s.x, y + headHeight, s.x + total, y + headHeight);
		return over.height + headHeight;
	};

	const first = flow.take(over.height + headHeight, (table.together ?? 2) * rowHeight);
	head(first);
	flow.onColumn(head);
	let rows = 0;
	return {
		row(cells) {
			const broken = cells.map((cell, i) =>
				typeof cell === "string"
					? textWidth(flow.fonts, cell, BODY, columns[i].bold) <= columns[i].width - 2 * PAD + 0.01 ||
						columns[i].align !== "left"
						? [cell]
						: wrapText(flow.fonts, cell, columns[i].width - 2 * PAD, BODY, columns[i].bold)
					: [],
			);
			const lines = Math.max(1, ...broken.map((b) => b.length));
			const height = rowHeight + (lines - 1) * BODY * LEADING;
			const s = flow.take(height);
			// Every second pair of rows is tinted: the eye keeps its line without a grid.
			if (rows % 2 === 1) rect(s.on, s.x, s.y, total, height, { fill: TINT });
			let x = s.x;
			cells.forEach((cell, i) => {
				const c = columns[i];
				if (typeof cell === "function") cell(s.on, x + c.width / 2, s.y + rowHeight / 2);
				else {
					const look = { ...body, bold: c.bold ?? false, colour: c.quiet ? SLATE : INK, anchor: anchor[c.align] };
					const fraction = c.align === "right" ? ruleFraction(cell) : null;
					if (fraction) drawRuleFraction(s.on, flow.fonts, fraction, cellX(c, x), s.y + rowHeight / 2, look);
					else
						broken[i].forEach((words, k) => {
							text(s.on, cellX(c, x), s.y + rowHeight / 2 + 0.36 * BODY + k * BODY * LEADING, words, look);
						});
				}
				x += c.width;
			});
			line(s.on, hairline, s.x, s.y + height, s.x + total, s.y + height);
			rows++;
		},
		end() {
			flow.onColumn(null);
			flow.gap(3);
		},
	};
}
