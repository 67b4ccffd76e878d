import { describe, expect, it } from "vitest";
import { type QuoteFacts, quickFacts } from "../../../core/finish/quoteFacts.ts";
import { RATE_KEYS } from "../../../core/finish/rates.ts";
import { finish } from "../../../core/job.ts";
import { newCommission, PAPERS } from "../../../core/plan/commission.ts";
import { drawQuote } from "../../../core/sheet/quotePdf.ts";
import { moneyRange, moneyText } from "../../../core/text/money.ts";
import { readPdf } from "../../support/readPdf.ts";
import { sheetFonts } from "../../support/sheetFonts.ts";

const plain = newCommission("-");
const settings = {
	...plain.quote,
	client: "A client",
	carver: "A carver, in a yard",
	remarks: "Half of it when the stone has come.",
	rates: { ...plain.quote.rates, hourPrice: 61.5, tax: 0.2 },
	restsOn: { pointHours: 12 },
};
const factsOn = (paper: (typeof PAPERS)[number]): QuoteFacts =>
	quickFacts("A fountain", { height: 900, stone: "granite", detail: "fine" }, settings, { ...plain.sheet, paper });

describe("the papers of a quote", () => {
	it.each(PAPERS)("keep the offer on one page of %s, all within its margins", async (paper) => {
		const facts = factsOn(paper);
		const { offer, worksheet } = finish(drawQuote(facts, sheetFonts()));
		const read = await readPdf(Uint8Array.from(offer));
		expect(read.pages).toHaveLength(1);
		const { content, points, texts } = read.pages[0];
		for (const words of ["A client", "A carver, in a yard", "Half of it when the stone has come.", "tax", "granite"])
			expect(content).toContain(words);
		expect(content).toContain(moneyText(facts.quote.total[1], "€"));
		for (const page of [...read.pages, ...(await readPdf(Uint8Array.from(worksheet))).pages]) {
			const [width, height] = page.points.map((p) => (p * 25.4) / 72);
			for (const { x, y, width: w } of page.texts) {
				expect(x).toBeGreaterThan(11.9);
				expect(x + w).toBeLessThan(width - 11.9);
				expect(y).toBeGreaterThan(11.9);
				expect(y).toBeLessThan(height - 11.9);
			}
		}
		expect(points[0]).toBeLessThan(points[1]);
		// No two lines of the offer stand on each other.
		const rows = texts.map(({ y }) => y).sort((a, b) => a - b);
		for (let i = 1; i < rows.length; i++) expect(rows[i] - rows[i - 1] < 0.01 || rows[i] - rows[i - 1] > 2).toBe(true);
	});

	it("name on the worksheet every assumption and what it rests on, and add up", async () => {
		const facts = factsOn("A4");
		const { worksheet } = finish(drawQuote(facts, sheetFonts()));
		const content = (await readPdf(Uint8Array.from(worksheet))).pages.map((page) => page.content).join(" ");
		const plainText = content.replace(/\s+/g, " ");
		for (const { words } of facts.assumptions) expect(plainText).toContain(words);
		expect(facts.assumptions.length).toBeGreaterThan(RATE_KEYS.length);
		expect(plainText).toContain("the log, 12 days");
		expect(facts.assumptions.filter(({ from }) => from === "yours").map(({ words }) => words)).toEqual([
			"an hour of work",
			"tax on the offer",
		]);
		for (const line of facts.quote.lines) expect(plainText).toContain(moneyText(line.money[1], ""));
	});

	it("call the client's paper an estimate, with its span, as long as anything in it is guessed", async () => {
		const full: QuoteFacts = { ...factsOn("A4"), kind: "full", code: "ABCDEF" };
		const words = async (facts: QuoteFacts): Promise<string> => {
			const { offer } = finish(drawQuote(facts, sheetFonts()));
			return (await readPdf(Uint8Array.from(offer))).pages
				.map((page) => page.content)
				.join(" ")
				.replace(/\s+/g, " ");
		};
		const guessed = await words(full);
		const [low, , high] = full.quote.total;
		expect(guessed).toContain(`This is an estimate: ${moneyRange(low, high, "€")}.`);
		expect(guessed).toContain("This estimate stands for");
		expect(guessed).not.toMatch(/\boffer stands/i);
		const own = full.assumptions.map((one) => ({ ...one, from: "yours" }));
		const offered = await words({ ...full, assumptions: own });
		expect(offered).not.toMatch(/estimate/i);
		expect(offered).toContain("This offer stands for");
	});

	it("are the same bytes each time, and others when a rate is", () => {
		const of = (facts: QuoteFacts) => Buffer.from(finish(drawQuote(facts, sheetFonts())).offer).toString("base64");
		expect(of(factsOn("A4"))).toBe(of(factsOn("A4")));
		const dearer = { ...settings, rates: { ...settings.rates, hourPrice: 62 } };
		const other = quickFacts("A fountain", { height: 900, stone: "granite", detail: "fine" }, dearer, plain.sheet);
		expect(of(other)).not.toBe(of(factsOn("A4")));
	});
});
