/** Reads a PDF back with an independent reader: texts and straight lines of each page, in mm from its upper left corner. */

import { getDocument, OPS } from "pdfjs-dist/legacy/build/pdf.mjs";

export interface PdfText {
	readonly words: string;
	/** Left end of the baseline (upright text). */
	readonly x: number;
	readonly y: number;
	readonly width: number;
	/** Em size. */
	readonly size: number;
	/** True for text that runs upwards. */
	readonly turned: boolean;
}

export interface PdfPageRead {
	/** In units of 1/72 inch, as the file has them. */
	readonly points: readonly [number, number];
	readonly texts: PdfText[];
	/** All text in reading order, as a search or a selection finds it. */
	readonly content: string;
	/** x0, y0, x1, y1 of every straight piece of every path. */
	readonly lines: (readonly [number, number, number, number])[];
}

export interface PdfRead {
	readonly pages: PdfPageRead[];
	readonly bookmarks: string[];
	/** Bookmarks under each of these. */
	readonly under: ReadonlyMap<string, string[]>;
	readonly info: Record<string, unknown>;
}

const MM = 25.4 / 72;
/** Codes of the reader's own path records. */
const MOVE = 0;
const LINE = 1;
const CURVE = 2;
const CLOSE = 4;

export async function readPdf(bytes: Uint8Array): Promise<PdfRead> {
	const document = await getDocument({ data: bytes.slice(), verbosity: 0 }).promise;
	const pages: PdfPageRead[] = [];
	for (let i = 1; i <= document.numPages; i++) {
		const page = await document.getPage(i);
		const [, , w, h] = page.view;
		const list = (await page.getOperatorList()) as OperatorList;
		const content = (await page.getTextContent()).items.map((t) => ("str" in t ? t.str : "")).join(" ");
		pages.push({ points: [w, h], texts: textsOf(list, h), content, lines: straightLines(list, h) });
	}
	const outline = (await document.getOutline()) ?? [];
	const bookmarks = outline.map((o) => o.title);
	const under = new Map(outline.map((o) => [o.title, o.items.map((item: { title: string }) => item.title)]));
	const { info } = await document.getMetadata();
	await document.destroy();
	return { pages, bookmarks, under, info: info as Record<string, unknown> };
}

interface OperatorList {
	readonly fnArray: number[];
	readonly argsArray: unknown[];
}

/**
 * Each piece of text as it was shown. The reader's own text contents join pieces that stand close together on a line, so they
 * do for searching, not for measuring.
 */
function textsOf(list: OperatorList, height: number): PdfText[] {
	const texts: PdfText[] = [];
	let size = 0;
	let matrix = [1, 0, 0, 1, 0, 0];
	list.fnArray.forEach((fn, i) => {
		const args = list.argsArray[i] as never[];
		if (fn === OPS.beginText) matrix = [1, 0, 0, 1, 0, 0];
		else if (fn === OPS.setFont) size = args[1];
		else if (fn === OPS.setTextMatrix) matrix = [...(args[0] as ArrayLike<number> as number[])];
		else if (fn === OPS.moveText) matrix = [...matrix.slice(0, 4), matrix[4] + args[0], matrix[5] + args[1]];
		else if (fn === OPS.showText) {
			const glyphs = (args[0] as ({ unicode: string; width: number } | number)[]).filter((g) => typeof g === "object");
			const words = glyphs.map((g) => g.unicode).join("");
			if (words.trim() === "") return;
			texts.push({
				words,
				x: matrix[4] * MM,
				y: (height - matrix[5]) * MM,
				width: (glyphs.reduce((sum, g) => sum + g.width, 0) / 1000) * size * MM,
				size: size * Math.hypot(matrix[0], matrix[1]) * MM,
				turned: Math.abs(matrix[1]) > Math.abs(matrix[0]),
			});
		}
	});
	return texts;
}

function straightLines(list: OperatorList, height: number): PdfPageRead["lines"] {
	const lines: [number, number, number, number][] = [];
	list.fnArray.forEach((fn, i) => {
		if (fn !== OPS.constructPath) return;
		const data = (list.argsArray[i] as [number, [ArrayLike<number> | null]])[1][0];
		if (!data) return;
		let x = 0;
		let y = 0;
		for (let k = 0; k < data.length; ) {
			const code = data[k++];
			if (code === CLOSE) continue;
			if (code === CURVE) k += 4;
			else if (code !== MOVE && code !== LINE) throw new Error(`path record ${code}`);
			const [px, py] = [data[k++] * MM, (height - data[k++]) * MM];
			if (code === LINE) lines.push([x, y, px, py]);
			[x, y] = [px, py];
		}
	});
	return lines;
}
