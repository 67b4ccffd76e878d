/** Fills pages column by column: what is set takes the height it needs and moves on to the next column when it must. */

import type { TextLook } from "./drawing.ts";
import { type Drawing, line, newDrawing, text } from "./drawing.ts";
import { type Fonts, wrapText } from "./fontMetrics.ts";
import { type Frame, GUTTER, landscape, type PaperSize, pageFrame } from "./paper.ts";
import { BODY, body, heading, LEADING, rule } from "./style.ts";

/** One finished page; `bookmark` is null where it only carries on. */
export interface SheetPage {
	readonly drawing: Drawing;
	readonly bookmark: string | null;
	/** Further bookmarks on this page, under the last `bookmark`. */
	readonly under?: readonly string[];
}

/** A place that has been taken: draw between y and y + height. */
export interface Slot {
	readonly on: Drawing;
	readonly x: number;
	readonly y: number;
	readonly width: number;
}

/** Least width of a column that body text is set in. */
const COLUMN = 184;

export interface Flow {
	readonly fonts: Fonts;
	/** Width of every column, mm. */
	readonly columnWidth: number;
	/** Takes that much height; `together` more must follow in the same column (a heading and what it heads). */
	take(height: number, together?: number): Slot;
	/** A bookmark on the page that is being filled, under the pages' own. */
	mark(words: string): void;
	/** Carries on at the head of the next page. */
	newPage(): void;
	/** Height left in the column. */
	left(): number;
	/** White space, dropped at the head of a column. */
	gap(height: number): void;
	/** What is called at the head of each page, before any column's head; returns the height it took. */
	onPage(head: (slot: Slot) => number): void;
	/** What is called at the head of each column after the first, for headers that repeat; returns the height it took. */
	onColumn(head: ((slot: Slot) => number) | null): void;
	paragraph(words: string, look?: TextLook, indent?: number): void;
	heading(words: string, together?: number): void;
	readonly pages: SheetPage[];
}

/**
 * Pages of one size, titled and bookmarked with `title`. Paper wide enough for two columns across is laid on its side
 * and gets two; `columnWidth` asks for one wide column instead (a wide table), on its side where it needs to be.
 */
export function newFlow(fonts: Fonts, paper: PaperSize, title: string, wide: number | null = null): Flow {
	const across = landscape(paper);
	const two = pageFrame(across).width >= 2 * COLUMN + GUTTER;
	const onSide = wide === null ? two : pageFrame(paper).width < wide;
	const size = onSide ? across : paper;
	const frame = pageFrame(size);
	const columns = wide === null && two ? 2 : 1;
	const columnWidth = (frame.width - (columns - 1) * GUTTER) / columns;
	const pages: (SheetPage & { readonly under: string[] })[] = [];
	let column = columns;
	let y = 0;
	let head: ((slot: Slot) => number) | null = null;
	let pageHead: ((slot: Slot) => number) | null = null;
	/** Height of the page's head, for its other columns. */
	let headed = 0;

	const nextColumn = (): void => {
		column++;
		if (column >= columns) {
			column = 0;
			const drawing = newDrawing(size.width, size.height, title);
			pages.push({ drawing, bookmark: pages.length === 0 ? title : null, under: [] });
			y = frame.y;
			headed = pageHead ? pageHead({ ...slot(), width: frame.width }) : 0;
		}
		y = frame.y + headed;
		if (head) y += head(slot());
	};
	const slot = (): Slot => ({
		on: pages[pages.length - 1].drawing,
		x: frame.x + column * (columnWidth + GUTTER),
		y,
		width: columnWidth,
	});
	const bottom = (f: Frame): number => f.y + f.height;
	nextColumn();

	const flow: Flow = {
		fonts,
		columnWidth,
		pages,
		take(height, together = 0) {
			if (y > frame.y + headed && y + height + together > bottom(frame)) nextColumn();
			const taken = slot();
			y += height;
			return taken;
		},
		mark(words) {
			pages[pages.length - 1].under.push(words);
		},
		newPage() {
			column = columns - 1;
			nextColumn();
		},
		left: () => bottom(frame) - y,
		gap(height) {
			if (y > frame.y + headed) y += height;
		},
		onPage(next) {
			pageHead = next;
			headed = next({ ...slot(), width: frame.width });
			y = frame.y + headed;
		},
		onColumn(next) {
			head = next;
		},
		paragraph(words, look = body, indent = 0) {
			const leading = look.size * LEADING;
			for (const l of wrapText(fonts, words, columnWidth - indent, look.size, look.bold)) {
				const s = flow.take(leading);
				text(s.on, s.x + indent, s.y + look.size, l, look);
			}
		},
		heading(words, together = 14) {
			flow.gap(4.5);
			const s = flow.take(8.2, together);
			text(s.on, s.x, s.y + heading.size, words, heading);
			line(s.on, rule, s.x, s.y + 6.4, s.x + s.width, s.y + 6.4);
		},
	};
	return flow;
}

/** Lines of text one under the other in a slot of their own; returns nothing, because the flow keeps the height. */
export const lineHeight = BODY * LEADING;
