import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../core/random.ts";
import { lacksOf } from "../../../core/stone/lacks.ts";
import { doesNotFitText, lackWords, noMarginWords } from "../../../core/text/fitWords.ts";
import { LENGTH_UNITS, MM_PER } from "../../../core/text/format.ts";
import { lackText, overNumber, spareText } from "../../../core/text/spare.ts";

const FACES = ["left", "right", "front", "back", "bed", "top"];
const gaps = (over: readonly number[], margin = 12.7) =>
	FACES.map((face, k) => ({ face, gap: margin + over[k], margin, touching: [], touchingInStone: [] }));
const fit = (over: readonly number[]) => ({ gaps: gaps(over), spare: Math.min(...over) }) as never;

describe("one lack, one figure", () => {
	it("of a block 0.28 in too short the card, the refusal and the page's line say the same", () => {
		const lacks = lacksOf(fit([-3.5, -3.5, 5, 5, 8, 8]));
		expect(lacks).toEqual([7, 0, 0]);
		// 7 mm are 0.2756 in and 3.5 mm 0.1378 in: rounded up, for what lacks.
		expect(lackWords(lacks, "in16")).toBe("0.28 in too short");
		expect(doesNotFitText({ lacks, turning: "upright" }, "in16")).toContain("the block is 0.28 in too short.");
		expect(overNumber(-3.5, "in16")).toBe("-0.14");
		expect(doesNotFitText({ lacks, turning: "free" }, "mm")).toContain("the block is 7.0 mm too short.");
	});

	it("a figure moved too near to one face of a block with room enough lacks at that face", () => {
		expect(lackWords(lacksOf(fit([-2, 9, 5, 5, 8, 8])), "mm")).toBe("2.0 mm too small at its tightest face");
	});

	it("never tells less lack than there is, nor more to spare", () => {
		const { next } = seededRandom(41);
		for (let k = 0; k < 500; k++) {
			const mm = next() * 40 + 1e-3;
			for (const unit of LENGTH_UNITS) {
				const read = (text: string): number => Number.parseFloat(text) * MM_PER[unit];
				expect(read(lackText(mm, unit))).toBeGreaterThan(mm - 1e-4);
				expect(read(overNumber(-mm, unit))).toBeCloseTo(-read(lackText(mm, unit)), 6);
				expect(read(overNumber(mm, unit))).toBeLessThan(mm + 1e-4);
				if (unit !== "in16") expect(read(spareText(mm, unit))).toBeCloseTo(read(overNumber(mm, unit)), 6);
			}
		}
	});
});

describe("no margin is said", () => {
	it("at every face, at some, at none", () => {
		expect(noMarginWords(gaps([1, 1, 1, 1, 1, 1], 0))).toBe("no margin: the figure may touch the skin");
		expect(noMarginWords(gaps([1, 1, 1, 1, 1, 1], 25))).toBeNull();
		const bare = gaps([1, 1, 1, 1, 1, 1], 25).map((gap) => (gap.face === "bed" ? { ...gap, margin: 0 } : gap));
		expect(noMarginWords(bare)).toBe("no margin at bed: there the figure may touch the skin");
	});

	it("what is added for a stone out of true is no margin", () => {
		expect(noMarginWords(gaps([1, 1, 1, 1, 1, 1], 2.4), 2.4)).toBe("no margin: the figure may touch the skin");
	});
});
