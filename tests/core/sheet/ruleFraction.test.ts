import { describe, expect, it } from "vitest";
import { newDrawing } from "../../../core/sheet/drawing.ts";
import { readFontMetrics } from "../../../core/sheet/fontMetrics.ts";
import { drawRuleFraction, type RuleFraction, ruleFraction } from "../../../core/sheet/ruleFraction.ts";
import { body } from "../../../core/sheet/style.ts";
import { lengthNumber } from "../../../core/text/length.ts";
import { sheetFonts } from "../../support/sheetFonts.ts";

describe("sixteenths in a table", () => {
	it.each([
		["3\u00a05/16", { lead: "3", over: "5", under: "16" }],
		["+11\u00a015/16", { lead: "+11", over: "15", under: "16" }],
		["−1/2", { lead: "−", over: "1", under: "2" }],
		["7/8", { lead: "", over: "7", under: "8" }],
	])("%j is set over and under a bar", (words, parts) => {
		expect(ruleFraction(words)).toEqual(parts);
	});

	it.each(["3", "0.24", "–", "", "3 5/16", "33/16 5/16", "1/3"])("%j is set as it is", (words) => {
		expect(ruleFraction(words)).toBeNull();
	});

	it("finds every fraction that is printed, and none is wider than its column", () => {
		const files = sheetFonts();
		const fonts = {
			regular: readFontMetrics(files.regular, "regular"),
			bold: readFontMetrics(files.bold, "bold"),
		};
		const on = newDrawing(100, 100, "fractions");
		for (let sixteenths = 1; sixteenths < 64 * 16; sixteenths++) {
			if (sixteenths % 16 === 0) continue;
			const words = lengthNumber((sixteenths * 25.4) / 16, "in16");
			const parts = ruleFraction(words) as RuleFraction;
			expect(Number(parts.lead) + Number(parts.over) / Number(parts.under)).toBe(sixteenths / 16);
			// Depths stand in 13.4 mm, of which 1.3 are free on each side; offsets, which have a sign and stay under 8 in, in 12.7.
			expect(drawRuleFraction(on, fonts, parts, 50, 50, { ...body, bold: true })).toBeLessThan(13.4 - 2.6);
			if (sixteenths > 8 * 16) continue;
			const signed = ruleFraction(`+${words}`) as RuleFraction;
			expect(drawRuleFraction(on, fonts, signed, 50, 50, body)).toBeLessThan(12.7 - 2.6);
		}
	});
});
