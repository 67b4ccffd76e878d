/**
 * What is drawn, before it is written to any file: lines, discs and text in millimetres on the paper, x to the right and
 * y downwards from the upper left corner. Drawn once, written as SVG and as PDF.
 */

/** x0, y0, x1, y1, … in mm. */
export type Line = ArrayLike<number>;

export interface Pen {
	/** "#rrggbb" */
	readonly colour: string;
	/** mm */
	readonly width: number;
	/** Lengths of dash and gap in turn, mm. */
	readonly dash?: readonly number[];
}

export interface LinesShape {
	readonly kind: "lines";
	readonly lines: readonly Line[];
	readonly pen?: Pen;
	readonly fill?: string;
	readonly closed?: boolean;
}

export interface DiscShape {
	readonly kind: "disc";
	readonly x: number;
	readonly y: number;
	readonly radius: number;
	readonly pen?: Pen;
	readonly fill?: string;
}

export interface TextShape {
	readonly kind: "text";
	readonly text: string;
	/** Of the anchor, on the baseline. */
	readonly x: number;
	readonly y: number;
	/** Em size, mm; digits of the sheet's font stand 0.729 em high. */
	readonly size: number;
	readonly bold: boolean;
	readonly colour: string;
	readonly anchor: "start" | "middle" | "end";
	/** True: reads upwards, turned 90° counter-clockwise about its anchor. */
	readonly turned: boolean;
}

export type Shape = LinesShape | DiscShape | TextShape;

/** One page or one map. */
export interface Drawing {
	readonly width: number;
	readonly height: number;
	readonly title: string;
	readonly shapes: Shape[];
}

export const newDrawing = (width: number, height: number, title: string): Drawing => ({
	width,
	height,
	title,
	shapes: [],
});

export function line(to: Drawing, pen: Pen, ...coordinates: number[]): void {
	to.shapes.push({ kind: "lines", lines: [coordinates], pen });
}

export function polygon(to: Drawing, points: Line, look: { pen?: Pen; fill?: string }): void {
	to.shapes.push({ kind: "lines", lines: [points], closed: true, ...look });
}

export function rect(
	to: Drawing,
	x: number,
	y: number,
	width: number,
	height: number,
	look: { pen?: Pen; fill?: string },
): void {
	polygon(to, [x, y, x + width, y, x + width, y + height, x, y + height], look);
}

export function disc(to: Drawing, x: number, y: number, radius: number, look: { pen?: Pen; fill?: string }): void {
	to.shapes.push({ kind: "disc", x, y, radius, ...look });
}

/** How a text looks; what is left out is body text in ink from its anchor to the right. */
export interface TextLook {
	readonly size: number;
	readonly bold?: boolean;
	readonly colour: string;
	readonly anchor?: "start" | "middle" | "end";
	readonly turned?: boolean;
}

export function text(to: Drawing, x: number, y: number, words: string, look: TextLook): void {
	const { size, bold = false, colour, anchor = "start", turned = false } = look;
	to.shapes.push({ kind: "text", text: words, x, y, size, bold, colour, anchor, turned });
}

/** A line that ends in a filled head, `headLength` mm long. */
export function arrow(to: Drawing, pen: Pen, x0: number, y0: number, x1: number, y1: number, headLength: number): void {
	const length = Math.sqrt((x1 - x0) * (x1 - x0) + (y1 - y0) * (y1 - y0));
	if (length === 0) return;
	const dx = (x1 - x0) / length;
	const dy = (y1 - y0) / length;
	const bx = x1 - dx * headLength;
	const by = y1 - dy * headLength;
	const half = headLength * 0.32;
	line(to, pen, x0, y0, bx, by);
	polygon(to, [x1, y1, bx - dy * half, by + dx * half, bx + dy * half, by - dx * half], { fill: pen.colour });
}

/** A length between two places of a drawing, with end strokes, as masons draw it; the words stand beside its middle. */
export function dimension(
	to: Drawing,
	pen: Pen,
	from: readonly [number, number],
	until: readonly [number, number],
	words: string,
	look: TextLook,
): void {
	const upright = from[0] === until[0];
	line(to, pen, ...from, ...until);
	for (const [x, y] of [from, until]) line(to, pen, x - 1, y + 1, x + 1, y - 1);
	const mx = (from[0] + until[0]) / 2;
	const my = (from[1] + until[1]) / 2;
	if (upright) text(to, mx - 1.2, my, words, { ...look, anchor: "middle", turned: true });
	else text(to, mx, my - 1.2, words, { ...look, anchor: "middle" });
}

/** Puts one drawing on another with its upper left corner at (x, y). */
export function putOn(to: Drawing, what: Drawing, x: number, y: number): void {
	for (const s of what.shapes) {
		if (s.kind === "lines") {
			const lines = s.lines.map((l) => {
				const moved = new Float64Array(l.length);
				for (let i = 0; i < l.length; i += 2) {
					moved[i] = l[i] + x;
					moved[i + 1] = l[i + 1] + y;
				}
				return moved;
			});
			to.shapes.push({ ...s, lines });
		} else to.shapes.push({ ...s, x: s.x + x, y: s.y + y });
	}
}
