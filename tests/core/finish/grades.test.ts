import { describe, expect, it } from "vitest";
import { ABRASIVES, abrasiveGrain, medianGrain } from "../../../core/finish/abrasives.ts";
import { type Abrasive, checkChain, LAST_GRIT, proposeChain } from "../../../core/finish/grades.ts";
import { Refusal } from "../../../core/refusal.ts";

const RULES = { ratio: 2.2, scratchShare: 0.5, grainsOff: 2, marks_mm: 0.5 };
const paper = (grit: number): Abrasive => ({ kind: "paper", grit, wet: false, grain_um: null });
const grits = (chain: readonly Abrasive[]): number[] => chain.map(({ grit }) => grit);

describe("grains", () => {
	// Spread of three published tables (a reference page's CAMI/FEPA table; a wood finisher's; a prop maker's): µm. P280's low
	// end of 52.2 in the standard is from memory; the tables that were read have 52 and 52.5.
	it.each([
		[60, 260, 269],
		[80, 197, 201],
		[100, 156, 162],
		[120, 125, 127],
		[150, 97, 100],
		[180, 78, 82],
		[220, 65, 68],
		[280, 52, 52.5],
	])("P%d lies in its published band", (grit, low, high) => {
		const grain = 1000 * medianGrain(abrasiveGrain("paper", grit) as (typeof ABRASIVES)[number]);
		expect(grain).toBeGreaterThanOrEqual(low);
		expect(grain).toBeLessThanOrEqual(high);
	});

	// FROM MEMORY, not published where it could be read (ISO 6344-3 / FEPA 43-1 medians with tolerance).
	it.each([
		[240, 58.5, 2],
		[280, 52.2, 2],
		[320, 46.2, 1.5],
		[360, 40.5, 1.5],
		[400, 35, 1.5],
		[500, 30.2, 1.5],
		[600, 25.8, 1],
		[800, 21.8, 1],
		[1000, 18.3, 1],
		[1200, 15.3, 1],
		[1500, 12.6, 1],
		[2000, 10.3, 0.8],
		[2500, 8.4, 0.5],
	])("P%d agrees with the remembered median", (grit, median, tolerance) => {
		const grain = 1000 * medianGrain(abrasiveGrain("paper", grit) as (typeof ABRASIVES)[number]);
		expect(Math.abs(grain - median)).toBeLessThanOrEqual(tolerance);
	});

	it("fall from number to number, and those from memory say so", () => {
		for (const kind of ["paper", "pad"] as const) {
			const own = ABRASIVES.filter((one) => one.kind === kind);
			for (let i = 1; i < own.length; i++) {
				expect(own[i].grit).toBeGreaterThan(own[i - 1].grit);
				expect(medianGrain(own[i])).toBeLessThan(medianGrain(own[i - 1]));
			}
			expect(own.every(({ published }) => published === (kind === "paper"))).toBe(true);
		}
	});
});

describe("a proposed chain", () => {
	it.each([
		[60, 220, 2.2],
		[60, 400, 2.2],
		[60, 1000, 2.2],
		[80, 2500, 1.5],
		[60, 1000, 1.35],
	])("from P%d to P%d keeps to a ratio of %d, and no shorter chain does", (first, last, ratio) => {
		const chain = proposeChain(first, last, ratio);
		expect([chain[0].grit, chain[chain.length - 1].grit]).toEqual([first, last]);
		const { steps } = checkChain(chain, { ...RULES, ratio }, 2);
		for (const step of steps) if (step.ratio !== null) expect(step.ratio).toBeLessThanOrEqual(ratio);
		// Slow twin: the coarsest jump that is allowed, again and again, reaches the end in as few steps as any chain can.
		const table = ABRASIVES.filter((one) => one.kind === "paper" && one.grit >= first && one.grit <= last);
		let at = 0;
		let fewest = 1;
		while (at < table.length - 1) {
			let next = at;
			for (let j = at + 1; j < table.length; j++) if (medianGrain(table[at]) / medianGrain(table[j]) <= ratio) next = j;
			at = next;
			fewest++;
		}
		expect(chain.length).toBe(fewest);
	});

	it("is refused where the table cannot step so finely, or does not know the ends", () => {
		expect(() => proposeChain(60, 400, 1.1)).toThrow(Refusal);
		expect(() => proposeChain(60, 401, 2)).toThrow(Refusal);
		expect(() => proposeChain(400, 60, 2)).toThrow(Refusal);
	});

	it.each(["matt", "satin", "gloss"] as const)("for %s is sound inside 2 mm", (polish) => {
		const chain = checkChain(proposeChain(60, LAST_GRIT[polish] as number, 2.2), RULES, 2);
		expect(chain.sound).toBe(true);
	});
});

describe("the carver's own chain", () => {
	it("takes off the marks and every scratch but the last, by hand", () => {
		// 0.5 of marks; P60 264.5 µm leaves 0.13225, P120 126 leaves 0.063, P220 66.5 leaves 0.03325.
		const chain = checkChain([60, 120, 220].map(paper), RULES, 2);
		expect(chain.steps.map(({ takes }) => takes)).toEqual([0.5, 0.13225, 0.063]);
		expect(chain.takes).toBeCloseTo(0.5 + 0.13225 + 0.063 + 0.03325, 12);
		expect(chain.sound).toBe(true);
		expect(checkChain([60, 120, 220].map(paper), RULES, 0.7)).toMatchObject({ fits: false, sound: false });
		expect(checkChain([60, 120, 220].map(paper), RULES, 0.6).steps[1].troubles).toEqual(["allowance"]);
	});

	it("is told where a step is too large, a scratch too deep, the order wrong", () => {
		expect(checkChain([60, 220].map(paper), RULES, 2).steps[1].troubles).toEqual(["step"]);
		// 264.5/35 = 7.6: the scratch of 0.13 mm is more than the 0.07 that P400 takes off.
		expect(checkChain([60, 400].map(paper), RULES, 2).steps[1].troubles).toEqual(["step", "scratch"]);
		expect(checkChain([120, 60].map(paper), RULES, 2).steps[1].troubles).toEqual(["order"]);
	});

	it("may name its own grain, and a remembered one is called so", () => {
		const pad: Abrasive = { kind: "pad", grit: 60, wet: true, grain_um: null };
		expect(checkChain([pad], RULES, 2).steps[0].troubles).toEqual(["memory"]);
		expect(checkChain([{ ...pad, grain_um: 240 }], RULES, 2).steps[0]).toMatchObject({ grain: 0.24, troubles: [] });
		expect(() => checkChain([paper(61)], RULES, 2)).toThrow(Refusal);
	});
	expect(grits(proposeChain(60, 60, 2))).toEqual([60]);
});
