import { describe, expect, it } from "vitest";
import { readFontMetrics, wrapText } from "../../../core/sheet/fontMetrics.ts";
import { sheetFonts } from "../../support/sheetFonts.ts";

const bytes = sheetFonts();
const fonts = { regular: readFontMetrics(bytes.regular, "regular"), bold: readFontMetrics(bytes.bold, "bold") };

describe("widths from the font file", () => {
	// Advance widths of DejaVu Sans 2.37 in units of 1/2048 em, read from its hmtx table with a font editor's dump (from memory).
	it.each([
		["0", 1303],
		["i", 569],
		["m", 1995],
		[" ", 651],
		["−", 1716],
	])("%s", (character, units) => {
		expect(fonts.regular.width(character)).toBe(units / 2048);
	});

	it("sums them", () => {
		expect(fonts.regular.width("0i0")).toBe((2 * 1303 + 569) / 2048);
		expect(fonts.bold.width("0")).toBeGreaterThan(fonts.regular.width("0"));
	});

	it("refuses what is no font, or is cut short anywhere", () => {
		expect(() => readFontMetrics(new Uint8Array(0), "regular")).toThrow(/sheet\.font/);
		expect(() => readFontMetrics(new TextEncoder().encode("this is not a font at all, but text"), "regular")).toThrow(
			/sheet\.font/,
		);
		for (const length of [4, 100, 400, 3000])
			expect(() => readFontMetrics(bytes.regular.slice(0, length), "regular")).toThrow(/sheet\.font/);
	});
});

describe("breaking lines", () => {
	it("breaks at spaces, keeps every word, and no line is wider than asked", () => {
		const words = "the least cover left, and where it lies, stands on the sheet for every round of points";
		for (const width of [12, 20, 35, 80, 400]) {
			const lines = wrapText(fonts, words, width, 3.2);
			expect(lines.join(" ")).toBe(words);
			for (const l of lines) expect(fonts.regular.width(l) * 3.2).toBeLessThanOrEqual(width);
		}
	});

	it("breaks a word that is wider than the line", () => {
		const lines = wrapText(fonts, "aVeryLongNameOfAScanFileThatSomebodyGave.stl", 20, 3.2);
		expect(lines.length).toBeGreaterThan(2);
		expect(lines.join("")).toBe("aVeryLongNameOfAScanFileThatSomebodyGave.stl");
		for (const l of lines) expect(fonts.regular.width(l) * 3.2).toBeLessThanOrEqual(20);
	});
});
