/**
 * Widths of characters, read from the font file itself, so that lines break and columns align alike in every writer.
 * Source: the OpenType specification, tables `head`, `hhea`, `hmtx` and `cmap` format 4 (from memory).
 */

import { Refusal } from "../refusal.ts";

/** Advance widths of one font. */
export interface FontMetrics {
	/** Width of a text in em; characters that the font lacks count as its empty box. */
	width(text: string): number;
}

/** The faces that a sheet is set in. */
export interface Fonts {
	readonly regular: FontMetrics;
	readonly bold: FontMetrics;
}

/** Reads a TrueType file. Refuses "sheet.font" where a table that is needed is missing or cut short. */
export function readFontMetrics(bytes: Uint8Array, name: string): FontMetrics {
	const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
	const refuse = (found: string): Refusal => new Refusal("sheet.font", { font: name, found });
	try {
		const table = (tag: string): number => {
			for (let i = 0; i < view.getUint16(4); i++) {
				const at = 12 + 16 * i;
				if (String.fromCharCode(...bytes.subarray(at, at + 4)) === tag) return view.getUint32(at + 8);
			}
			throw refuse(`no table "${tag}"`);
		};
		const unitsPerEm = view.getUint16(table("head") + 18);
		const measured = view.getUint16(table("hhea") + 34);
		const advances = table("hmtx");
		const glyphOf = characterMap(view, table("cmap"));
		if (unitsPerEm === 0 || measured === 0 || glyphOf === null) throw refuse("no widths or no Unicode characters");
		const known = new Map<number, number>();
		const advance = (character: number): number => {
			const kept = known.get(character);
			if (kept !== undefined) return kept;
			const width = view.getUint16(advances + 4 * Math.min(glyphOf(character), measured - 1)) / unitsPerEm;
			known.set(character, width);
			return width;
		};
		return {
			width: (text) => {
				let sum = 0;
				for (let i = 0; i < text.length; i++) sum += advance(text.charCodeAt(i));
				return sum;
			},
		};
	} catch (error) {
		if (error instanceof RangeError) throw refuse(`${bytes.length} bytes, cut short`);
		throw error;
	}
}

/** Character code → glyph index from the Unicode table of format 4; null where there is none. */
function characterMap(view: DataView, cmap: number): ((character: number) => number) | null {
	for (let i = 0; i < view.getUint16(cmap + 2); i++) {
		const record = cmap + 4 + 8 * i;
		const at = cmap + view.getUint32(record + 4);
		const platform = view.getUint16(record);
		if ((platform !== 3 && platform !== 0) || view.getUint16(at) !== 4) continue;
		const doubled = view.getUint16(at + 6);
		const ends = at + 14;
		const starts = ends + doubled + 2;
		const deltas = starts + doubled;
		const offsets = deltas + doubled;
		return (character) => {
			for (let s = 0; s < doubled; s += 2) {
				if (view.getUint16(ends + s) < character) continue;
				const start = view.getUint16(starts + s);
				if (start > character) return 0;
				const offset = view.getUint16(offsets + s);
				const delta = view.getUint16(deltas + s);
				if (offset === 0) return (character + delta) & 0xffff;
				const glyph = view.getUint16(offsets + s + offset + 2 * (character - start));
				return glyph === 0 ? 0 : (glyph + delta) & 0xffff;
			}
			return 0;
		};
	}
	return null;
}

/** Width of a text in mm at an em size in mm. */
export const textWidth = (fonts: Fonts, text: string, size: number, bold = false): number =>
	(bold ? fonts.bold : fonts.regular).width(text) * size;

/** Breaks a text into lines no wider than `width` mm, at spaces; a single word that is wider is broken where it must. */
export function wrapText(fonts: Fonts, text: string, width: number, size: number, bold = false): string[] {
	const fits = (line: string): boolean => textWidth(fonts, line, size, bold) <= width;
	const lines: string[] = [];
	for (const paragraph of text.split("\n")) {
		let current = "";
		for (const word of paragraph.split(" ")) {
			const longer = current === "" ? word : `${current} ${word}`;
			if (fits(longer)) {
				current = longer;
				continue;
			}
			if (current !== "") lines.push(current);
			current = word;
			while (!fits(current) && current.length > 1) {
				let n = current.length - 1;
				while (n > 1 && !fits(current.slice(0, n))) n--;
				lines.push(current.slice(0, n));
				current = current.slice(n);
			}
		}
		lines.push(current);
	}
	return lines;
}
