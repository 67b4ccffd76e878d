/** Plans at the edges of what the schema takes must still give a sheet, not a defect. */

import { describe, expect, it } from "vitest";
import { finish } from "../../../core/job.ts";
import { drawSheets } from "../../../core/sheet/drawSheets.ts";
import { drawTemplates } from "../../../core/sheet/templates.ts";
import { scale } from "../../../core/vector.ts";
import { type HandPlan, handPlan } from "../../support/handPlan.ts";
import { type PdfRead, readPdf } from "../../support/readPdf.ts";
import { sheetFonts } from "../../support/sheetFonts.ts";

const fonts = sheetFonts();
const read = async (hand: HandPlan): Promise<PdfRead> => readPdf(finish(drawSheets({ ...hand, fonts })).pdf);

/** The hand-made plan with all its lengths multiplied. */
function enlarged(factor: number): HandPlan {
	const hand = handPlan({ seed: 6, points: 20, rings: 20 });
	const { plan, mesh } = hand;
	const times = (v: number[]): [number, number, number] => [...scale(v as [number, number, number], factor)];
	plan.stone.extent_mm = times(plan.stone.extent_mm);
	plan.stone.placement.translation = times(plan.stone.placement.translation);
	for (const p of plan.points) {
		p.model_mm = times(p.model_mm);
		if (p.u_mm !== null && p.v_mm !== null) [p.u_mm, p.v_mm] = [p.u_mm * factor, p.v_mm * factor];
	}
	return { ...hand, mesh: { ...mesh, positions: mesh.positions.map((x) => x * factor) } };
}

describe("odd plans", () => {
	it("no points at all: a cover and a yard page, no maps, no tables, no templates but the seats'", async () => {
		const hand = handPlan({ seed: 1, points: 20, rings: 16 });
		hand.plan.points = [];
		const pdf = await read(hand);
		expect(pdf.bookmarks).toEqual(["Cover", "For the yard"]);
		// By rule from the faces nothing rests on seats, so nothing is left to draw; a machine's cross needs its seats.
		hand.plan.transfer = "faces";
		expect(finish(drawTemplates({ plan: hand.plan, fonts }))).toBeNull();
		hand.plan.transfer = "machine";
		expect(finish(drawTemplates({ plan: hand.plan, fonts }))?.pages).toBeGreaterThan(0);
	});

	it.each([0.1, 40])("a stone %f times the size: the largest plain ratio that fits", async (factor) => {
		const pdf = await read(enlarged(factor));
		const ratios = pdf.pages.flatMap((p) => p.texts.flatMap((t) => /scale 1:([\d.]+)/.exec(t.words)?.[1] ?? []));
		expect(ratios.length).toBeGreaterThan(0);
		// 260 × 240 × 420 mm: 26 × 24 × 42 mm goes on at full size; 10.4 × 9.6 × 16.8 m needs 1:100.
		for (const r of ratios) expect(Number(r)).toBe(factor < 1 ? 1 : 100);
	});

	it("a name that is too long for the head of a page is cut there and whole on the cover", async () => {
		const hand = handPlan({ seed: 1, points: 20, rings: 16 });
		hand.plan.name = `${"Capital with acanthus, ".repeat(5)}left`.slice(0, 120);
		const pdf = await read(hand);
		const [head] = pdf.pages[1].texts;
		expect(pdf.pages[1].texts.some((t) => t.words.endsWith("…"))).toBe(true);
		expect(head.x + head.width).toBeLessThan(200);
		expect(pdf.pages[0].content.replace(/\s+/g, " ")).toContain("acanthus, Capital");
		for (const page of pdf.pages)
			for (const t of page.texts.filter((x) => !x.turned)) expect(t.x + t.width).toBeLessThan(198.1);
	});

	it("twelve rounds, more than there are shapes of marks, are still drawn", async () => {
		const hand = handPlan({ seed: 1, points: 40, rings: 16 });
		const { plan } = hand;
		plan.rounds = Array.from({ length: 12 }, (_, i) => ({ ...plan.rounds[i % 4], name: `round ${i + 1}` }));
		for (const [i, p] of plan.points.entries()) p.round = i % 11;
		const pdf = await read(hand);
		expect(pdf.pages.map((p) => p.content).join(" ")).toContain("round 11");
	});

	it("a stone that does not fit says so in red words", async () => {
		const hand = handPlan({ seed: 1, points: 20, rings: 16 });
		Object.assign(hand.plan.stone, { fits: false, spare_mm: -3.2, certified: false });
		const pdf = await read(hand);
		expect(pdf.pages[0].content).toContain("DOES NOT FIT");
	});
});
