/** The sheets read back from the PDF by a reader that is not ours. */

import { createHash } from "node:crypto";
import { beforeAll, describe, expect, it } from "vitest";
import { finish } from "../../../core/job.ts";
import { drawSheets, type Sheets } from "../../../core/sheet/drawSheets.ts";
import { depthNumber } from "../../../core/text/format.ts";
import { type HandPlan, handPlan } from "../../support/handPlan.ts";
import { share } from "../../support/prove.ts";
import { type PdfPageRead, type PdfRead, type PdfText, readPdf } from "../../support/readPdf.ts";
import { sheetFonts } from "../../support/sheetFonts.ts";

const fonts = sheetFonts();
const draw = (hand: HandPlan): Sheets => finish(drawSheets({ ...hand, fonts }));

/** Numerals on maps stand 4 to 5 mm high (handbook 12); digits of the font are 0.729 em high, so their em is over 5.4 mm. */
const numerals = (page: PdfPageRead): PdfText[] =>
	page.texts.filter((t) => t.size > 5.4 && t.size < 6.9 && /^\(?\d+\)?$/.test(t.words));
const isMap = (page: PdfPageRead): boolean => page.texts.some((t) => t.words.startsWith("Map: "));
const isTable = (page: PdfPageRead): boolean => page.texts.some((t) => t.words === "Tables");
const isList = (page: PdfPageRead): boolean => page.texts.some((t) => t.words === "Undercuts and places by eye");
const isIndex = (page: PdfPageRead): boolean => page.texts.some((t) => t.words === "Index");
const numberOf = (words: string): number => Number(words.replace(/[()]/g, ""));

/** Words of each line of a page from left to right, where there are at least so many and the first is a number. */
function rowsOf(page: PdfPageRead, least: number): string[][] {
	const rows = new Map<number, PdfText[]>();
	for (const t of page.texts) rows.set(Math.round(t.y * 20), [...(rows.get(Math.round(t.y * 20)) ?? []), t]);
	return [...rows.values()]
		.map((row) => row.sort((a, b) => a.x - b.x).map((t) => t.words))
		.filter((row) => row.length >= least && /^\d+$/.test(row[0]));
}

describe("a plan of 60 points on A4", () => {
	let hand: HandPlan;
	let sheets: Sheets;
	let pdf: PdfRead;
	beforeAll(async () => {
		hand = handPlan({ seed: 3, points: 60 });
		sheets = draw(hand);
		pdf = await readPdf(sheets.pdf);
	}, 60_000);

	it("says how many pages it has, on every page, with commission, plan code and revision", () => {
		expect(pdf.pages.length).toBe(sheets.pages);
		pdf.pages.forEach((page, i) => {
			const words = page.texts.map((t) => t.words);
			expect(words).toContain(`page ${i + 1} of ${sheets.pages}`);
			expect(words).toContain(hand.plan.name);
			expect(words.some((w) => w.includes(`plan ${hand.plan.code} · revision A · 2024-03-11`))).toBe(true);
			expect(words).not.toContain("MIRRORED");
		});
	});

	it("has every point's number once on the maps", () => {
		const shown = pdf.pages
			.filter(isMap)
			.flatMap(numerals)
			.map((t) => numberOf(t.words));
		expect(shown.sort((a, b) => a - b)).toEqual(hand.plan.points.map((p) => p.number));
	});

	it("has every point with a line in the tables, with the depth rounded short, and every other one in the lists", () => {
		const tables = pdf.pages.filter(isTable);
		const listed = pdf.pages.filter(isList).flatMap((p) => p.texts);
		for (const p of hand.plan.points) {
			if (p.depth_mm === null) {
				expect(listed.filter((t) => t.words === String(p.number) && t.x < 26).length).toBe(1);
				continue;
			}
			// The number stands in the first column; its depth in the same row.
			const rows = tables.flatMap((page) =>
				page.texts
					.filter((t) => t.words === String(p.number) && t.x + t.width < 24)
					.map((n) => page.texts.filter((t) => Math.abs(t.y - n.y) < 0.2).map((t) => t.words)),
			);
			expect(rows.length, `number ${p.number}`).toBe(1);
			expect(rows[0]).toContain(depthNumber(p.depth_mm));
		}
	});

	it("says in the index, and in the tables, on which page each number stands", () => {
		const printed = pdf.pages.filter(isIndex).flatMap((page) => rowsOf(page, 3));
		const told = new Map<number, [number, number]>();
		for (const row of printed)
			for (let i = 0; i + 2 < row.length; i += 3) told.set(Number(row[i]), [Number(row[i + 1]), Number(row[i + 2])]);
		expect([...told.keys()].sort((a, b) => a - b)).toEqual(hand.plan.points.map((p) => p.number));
		for (const [number, [map, table]] of told) {
			const onMap = pdf.pages[map - 1];
			expect(isMap(onMap)).toBe(true);
			expect(numerals(onMap).map((t) => numberOf(t.words))).toContain(number);
			const inTable = pdf.pages[table - 1];
			expect(isTable(inTable) || isList(inTable)).toBe(true);
			const row = rowsOf(inTable, 4).find((words) => words[0] === String(number));
			expect(row?.[1]).toBe(String(map));
		}
	});

	it("draws a bar of 100 mm each way on every map", () => {
		const maps = pdf.pages.filter(isMap);
		expect(maps.length).toBeGreaterThan(2);
		for (const page of maps) {
			const lengths = (dx: 0 | 1): number[] =>
				page.lines
					.filter((l) => Math.abs(l[dx === 0 ? 1 : 0] - l[dx === 0 ? 3 : 2]) < 1e-3)
					.map((l) => Math.abs(dx === 0 ? l[2] - l[0] : l[3] - l[1]));
			for (const way of [0, 1] as const) expect(lengths(way).some((l) => Math.abs(l - 100) <= 0.05)).toBe(true);
		}
	});

	it("can be searched: the cautions are text, with their sources", () => {
		const all = pdf.pages.map((p) => p.content).join(" ");
		for (const words of ["2002/44/EC", "2003/10/EC", "30 mA", "not silica-free", "not limits"])
			expect(all).toContain(words);
	});

	it("has nothing smaller than 9 pt", () => {
		for (const page of pdf.pages) for (const t of page.texts) expect(t.size).toBeGreaterThan((9 * 25.4) / 72);
	});

	it("keeps all text on the page", () => {
		for (const page of pdf.pages) {
			const [w, h] = page.points.map((p) => (p * 25.4) / 72);
			for (const t of page.texts.filter((x) => !x.turned)) {
				expect(t.x, t.words).toBeGreaterThan(11.9);
				expect(t.x + t.width, t.words).toBeLessThan(w - 11.9);
				expect(t.y).toBeGreaterThan(11.9);
				expect(t.y).toBeLessThan(h - 11.9);
			}
		}
	});

	it("has bookmarks and says what it is", () => {
		expect(pdf.bookmarks[0]).toBe("Cover");
		expect(pdf.bookmarks).toContain("Map: seen from the front");
		expect(pdf.bookmarks).toContain("Tables");
		expect(String(pdf.info.Title)).toContain(hand.plan.name);
	});

	it("gives the same bytes again", () => {
		const again = draw(handPlan({ seed: 3, points: 60 }));
		const sum = (bytes: Uint8Array | string): string => createHash("sha256").update(bytes).digest("hex");
		expect(sum(again.pdf)).toBe(sum(sheets.pdf));
		expect(again.csv).toBe(sheets.csv);
		expect(again.maps).toEqual(sheets.maps);
	});

	it("refuses a font file that is none, in one sentence", () => {
		const broken = { regular: fonts.regular.slice(0, 5000), bold: fonts.bold };
		expect(() => finish(drawSheets({ ...hand, fonts: broken }))).toThrow(/sheet\.font/);
	});
});

describe("paper, transfer and units", () => {
	// ISO 216 A4 and A3; Letter and Tabloid 8.5 × 11 and 11 × 17 in; PDF units of 1/72 inch (ISO 32000-1, 8.3.2).
	const cases = [
		{ paper: "A4", width: 595.276, height: 841.89, transfer: "machine", units: "mm", mirrored: false },
		{ paper: "A3", width: 841.89, height: 1190.551, transfer: "faces", units: "mm", mirrored: true },
		{ paper: "Letter", width: 612, height: 792, transfer: "callipers", units: "in", mirrored: false },
		{ paper: "Tabloid", width: 792, height: 1224, transfer: "callipers", units: "mm", mirrored: false },
	] as const;
	const heads = {
		machine: { has: ["depth", "to go"], not: ["lean", "100 out", "model", "stone"] },
		faces: { has: ["depth", "lean", "100 out"], not: ["model", "stone"] },
		callipers: { has: ["depth", "lean", "model", "stone", "A", "B", "C"], not: ["100 out"] },
	};
	it.each(cases)("$paper, $transfer, $units, mirrored: $mirrored", async ({ width, height, ...choice }) => {
		const hand = handPlan({ seed: 5, points: 24, rings: 24, ...choice });
		const { pages } = await readPdf(draw(hand).pdf);
		for (const page of pages) {
			const [short, long] = [...page.points].sort((a, b) => a - b);
			expect(short).toBeCloseTo(width, 2);
			expect(long).toBeCloseTo(height, 2);
			expect(page.texts.some((t) => t.words === "MIRRORED")).toBe(choice.mirrored);
		}
		const words = pages.filter(isTable).flatMap((p) => p.texts.map((t) => t.words));
		for (const w of heads[choice.transfer].has) expect(words).toContain(w);
		for (const w of heads[choice.transfer].not) expect(words).not.toContain(w);
		for (const p of hand.plan.points)
			if (p.depth_mm !== null) expect(words).toContain(depthNumber(p.depth_mm, choice.units));
	});
});

describe("numbers on maps of 20 to 500 points neither overlap nor leave the page", () => {
	const cases = Array.from({ length: share(50) }, (_, i) => ({
		seed: 100 + i,
		points: 20 + Math.round((480 * i) / Math.max(1, share(50) - 1)),
	}));
	it.each(cases)("seed $seed, $points points", async ({ seed, points }) => {
		const hand = handPlan({ seed, points, rings: 30 });
		const sheets = draw(hand);
		expect(sheets.pdf.length).toBeLessThan(5_000_000);
		const { pages } = await readPdf(sheets.pdf);
		const shown: number[] = [];
		for (const page of pages.filter(isMap)) {
			const boxes = numerals(page).map((t) => ({ ...t, top: t.y - 0.729 * t.size }));
			const [w, h] = page.points.map((p) => (p * 25.4) / 72);
			for (const [i, a] of boxes.entries()) {
				shown.push(numberOf(a.words));
				expect(a.x).toBeGreaterThan(12);
				expect(a.x + a.width).toBeLessThan(w - 12);
				expect(a.top).toBeGreaterThan(12);
				expect(a.y).toBeLessThan(h - 12);
				for (const b of boxes.slice(i + 1)) {
					const apart = a.x + a.width <= b.x || b.x + b.width <= a.x || a.y <= b.top || b.y <= a.top;
					expect(apart, `${a.words} over ${b.words}`).toBe(true);
				}
			}
		}
		expect(shown.sort((a, b) => a - b)).toEqual(hand.plan.points.map((p) => p.number));
		// Every number once in a table or a list, with the plan's own figures.
		const rows = pages.filter((p) => isTable(p) || isList(p)).flatMap((p) => rowsOf(p, 5));
		for (const p of hand.plan.points) {
			const own = rows.filter((row) => row[0] === String(p.number));
			// A place by eye stands in the list as well.
			expect(own.length, `number ${p.number}`).toBe(p.line && p.byEye ? 2 : 1);
			if (p.line === null) continue;
			const [, , u, v, leanU, leanV, , , drill, depth] = own[0];
			const plain = (words: string): number => Number(words.replace("−", "-"));
			expect(Math.abs(plain(u) - (p.u_mm as number))).toBeLessThan(0.051);
			expect(Math.abs(plain(v) - (p.v_mm as number))).toBeLessThan(0.051);
			expect([plain(leanU), plain(leanV)]).toEqual(p.lean_deg?.map((lean) => lean + 0));
			expect(Number(drill)).toBe(hand.plan.rounds[p.round].tool.drill_mm);
			expect(depth).toBe(depthNumber(p.depth_mm as number));
		}
	});
});
