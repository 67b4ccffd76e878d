import { describe, expect, it } from "vitest";
import { Refusal } from "../../../core/refusal.ts";
import { MM_PER_UNIT, proposeUnit, settleUnit } from "../../../core/scan/unit.ts";
import { scanRefusals, unitReasons } from "../../../core/text/scanRefusals.ts";

const units = (size: number): string[] => proposeUnit(size).candidates.map((c) => c.unit);

describe("proposeUnit", () => {
	it("takes a 0.3-unit head for metres and a 300-unit one for millimetres", () => {
		expect(proposeUnit(0.3).unit).toBe("m");
		expect(proposeUnit(300).unit).toBe("mm");
		expect(proposeUnit(1.83).unit).toBe("m");
		expect(proposeUnit(1830).unit).toBe("mm");
	});

	it("asks about a 12-unit head: centimetres or inches", () => {
		expect(proposeUnit(12).unit).toBeNull();
		expect(units(12)).toEqual(["cm", "in"]);
	});

	it.each([0.01, 0.05, 3.5, 8, 30, 79, 3500, 1e6])("asks about a size of %d", (size) => {
		const proposal = proposeUnit(size);
		expect(proposal.unit).toBeNull();
		expect(proposal.candidates.length).toBeGreaterThan(0);
		for (const c of proposal.candidates) expect(c.largestMm).toBe(size * MM_PER_UNIT[c.unit]);
	});

	it("names every candidate of a size that makes sense of it, and none that does not", () => {
		for (let size = 0.001; size < 1e5; size *= 1.07)
			for (const c of proposeUnit(size).candidates)
				if (units(size).length < 5) {
					expect(c.largestMm).toBeGreaterThanOrEqual(80);
					expect(c.largestMm).toBeLessThanOrEqual(3000);
				}
	});

	it("says why, in a sentence", () => {
		for (const size of [0.05, 0.3, 1, 4, 12, 70, 150, 2500, 5000]) {
			const { reason } = proposeUnit(size);
			expect(unitReasons[reason.code](reason.facts)).toMatch(/^[A-Z][^\n]*\.$/);
		}
		const { reason } = proposeUnit(150);
		expect(unitReasons[reason.code](reason.facts)).toBe(
			"The largest measure is 150: in mm a figure of 150 mm. It could also be cm, which scanners seldom write.",
		);
	});
});

describe("settleUnit", () => {
	it("takes the carver's word before any size", () => {
		expect(settleUnit(12, "ft", "head.stl")).toEqual({
			unit: "ft",
			reason: { code: "unit.given", facts: { unit: "ft" } },
		});
		expect(settleUnit(300, undefined, "head.stl").unit).toBe("mm");
	});

	it("refuses a doubt with the candidates and the way out", () => {
		try {
			settleUnit(12, undefined, "head.stl");
			expect.fail("was settled");
		} catch (error) {
			if (!(error instanceof Refusal)) throw error;
			expect(scanRefusals[error.issue.code](error.issue.facts)).toBe(
				"head.stl measures 12 in a unit that the file does not name; it may be cm (120 mm), in (305 mm). Say which: on page 1 of the window, or with --unit on the command line.",
			);
		}
	});
});
