/**
 * Writes drawings as a PDF with real text in embedded fonts, page by page, with bookmarks. The same drawings give the same
 * bytes everywhere: file id and date come from the plan, never from chance or a clock.
 */

import { jsPDF, type OutlineItem } from "jspdf";
import type { Drawing, LinesShape, Pen, TextShape } from "./drawing.ts";
import { type Fonts, textWidth } from "./fontMetrics.ts";

const POINTS_PER_MM = 72 / 25.4;

export interface PdfFacts {
	readonly title: string;
	readonly subject: string;
	readonly keywords: string;
	/** What the file id is made from: the same text, the same id. */
	readonly identity: string;
	/** ISO 8601 day, or empty. */
	readonly date: string;
}

/** A page and, where one is wanted, the words of its bookmark. */
export interface PdfPage {
	readonly drawing: Drawing;
	readonly bookmark: string | null;
	/** Bookmarks under the last one. */
	readonly under?: readonly string[];
}

/** 32 hexadecimal digits from a text: four FNV-1a sums (G. Fowler, L. C. Noll, K.-P. Vo; from memory), not for secrets. */
function fileId(identity: string): string {
	let id = "";
	for (let part = 0; part < 4; part++) {
		let sum = 0x811c9dc5 ^ part;
		for (let i = 0; i < identity.length; i++) sum = Math.imul(sum ^ identity.charCodeAt(i), 0x01000193) >>> 0;
		id += (sum >>> 0).toString(16).padStart(8, "0");
	}
	return id.toUpperCase();
}

/** The day in PDF's own form; a fixed one where none is given or it is no day from 1970 to 2037. */
function creationDate(date: string): string {
	const match = /^(19[7-9]\d|20[0-2]\d|203[0-7])-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])/.exec(date);
	return `D:${match ? match[1] + match[2] + match[3] : "20000101"}000000+00'00'`;
}

const binaryString = (bytes: Uint8Array): string => {
	const parts: string[] = [];
	for (let i = 0; i < bytes.length; i += 8192) parts.push(String.fromCharCode(...bytes.subarray(i, i + 8192)));
	return parts.join("");
};

/** What the page's graphics state holds, so that only changes are written. */
interface State {
	colour: string;
	width: number;
	dash: string;
	fill: string;
	ink: string;
	font: string;
	size: number;
}

const FRESH: State = { colour: "", width: -1, dash: "none", fill: "", ink: "", font: "", size: -1 };

/** A PDF that is being written; `add` takes the pages in order. */
export interface PdfWriter {
	add(page: PdfPage): void;
	finish(): Uint8Array;
}

export function openPdf(
	fonts: Fonts,
	fontBytes: { readonly regular: Uint8Array; readonly bold: Uint8Array },
	facts: PdfFacts,
	first: Drawing,
): PdfWriter {
	const shapeOf = (d: Drawing) => ({
		format: [d.width, d.height] as [number, number],
		orientation: d.width > d.height ? ("l" as const) : ("p" as const),
	});
	const doc = new jsPDF({ unit: "mm", compress: true, putOnlyUsedFonts: true, floatPrecision: 3, ...shapeOf(first) });
	doc.setFileId(fileId(facts.identity));
	doc.setCreationDate(creationDate(facts.date));
	doc.setDocumentProperties({
		title: facts.title,
		subject: facts.subject,
		keywords: facts.keywords,
		creator: "Puntello",
	});
	for (const face of ["regular", "bold"] as const) {
		doc.addFileToVFS(`${face}.ttf`, binaryString(fontBytes[face]));
		doc.addFont(`${face}.ttf`, "Sheet", face === "bold" ? "bold" : "normal");
	}
	let pages = 0;
	let chapter: OutlineItem | null = null;
	let state: State = { ...FRESH };

	const usePen = (pen: Pen): void => {
		if (state.colour !== pen.colour) doc.setDrawColor(pen.colour);
		if (state.width !== pen.width) doc.setLineWidth(pen.width);
		const dash = (pen.dash ?? []).join(" ");
		if (state.dash !== dash) doc.setLineDashPattern([...(pen.dash ?? [])], 0);
		state = { ...state, colour: pen.colour, width: pen.width, dash };
	};
	const useFill = (fill: string): void => {
		if (state.fill !== fill) doc.setFillColor(fill);
		state.fill = fill;
	};
	const paint = (pen: Pen | undefined, fill: string | undefined): void => {
		if (pen && fill) doc.fillStroke();
		else if (fill) doc.fill();
		else doc.stroke();
	};
	const drawLines = (shape: LinesShape): void => {
		if (shape.pen) usePen(shape.pen);
		if (shape.fill) useFill(shape.fill);
		let drawn = false;
		for (const l of shape.lines) {
			if (l.length < 4) continue;
			doc.moveTo(l[0], l[1]);
			for (let i = 2; i < l.length; i += 2) doc.lineTo(l[i], l[i + 1]);
			if (shape.closed) doc.close();
			drawn = true;
		}
		if (drawn) paint(shape.pen, shape.fill);
	};
	const drawText = (shape: TextShape): void => {
		const font = shape.bold ? "bold" : "normal";
		if (state.font !== font) doc.setFont("Sheet", font);
		if (state.size !== shape.size) doc.setFontSize(shape.size * POINTS_PER_MM);
		if (state.ink !== shape.colour) doc.setTextColor(shape.colour);
		// Text and fills share one colour in PDF and the library writes the text's each time, so the next fill sets its own.
		state = { ...state, font, size: shape.size, ink: shape.colour, fill: "" };
		const share = shape.anchor === "start" ? 0 : shape.anchor === "middle" ? 0.5 : 1;
		const back = share * textWidth(fonts, shape.text, shape.size, shape.bold);
		if (shape.turned) doc.text(shape.text, shape.x, shape.y + back, { angle: 90 });
		else doc.text(shape.text, shape.x - back, shape.y);
	};

	return {
		add(page) {
			const { drawing, bookmark, under } = page;
			if (pages > 0) {
				const { format, orientation } = shapeOf(drawing);
				doc.addPage(format, orientation);
			}
			pages++;
			state = { ...FRESH };
			doc.setLineCap("round");
			doc.setLineJoin("round");
			for (const shape of drawing.shapes) {
				if (shape.kind === "lines") drawLines(shape);
				else if (shape.kind === "text") {
					if (shape.text !== "") drawText(shape);
				} else {
					if (shape.pen) usePen(shape.pen);
					if (shape.fill) useFill(shape.fill);
					doc.circle(shape.x, shape.y, shape.radius, shape.pen ? (shape.fill ? "FD" : "S") : "F");
				}
			}
			if (bookmark !== null) chapter = doc.outline.add(null, bookmark, { pageNumber: pages });
			for (const words of under ?? []) doc.outline.add(chapter, words, { pageNumber: pages });
		},
		finish: () => new Uint8Array(doc.output("arraybuffer")),
	};
}
