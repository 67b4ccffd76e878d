import { describe, expect, it } from "vitest";
import { listedStones } from "../../../core/plan/yard.ts";

describe("a list of sizes", () => {
	it("reads a list in the carver's unit, the last side's unit for all, and asks where a comma could be either", () => {
		expect(listedStones("step, 16 x 12 x 9 1/2\n", "l", "in16")).toEqual([
			{ name: "step", sides: [406.4, 304.8, 241.3].map((mm) => expect.closeTo(mm, 9)) },
		]);
		expect(listedStones("B3,400x300x200\n7;40x30x20cm\n1,400x300x200", "l")).toEqual([
			{ name: "B3", sides: [400, 300, 200] },
			{ name: "7", sides: [400, 300, 200] },
			{ name: "1", sides: [400, 300, 200] },
		]);
		expect(() => listedStones("16,5 x 12 x 10", "l", "in")).toThrow("stone.yardComma");
	});

	it("says which line is none", () => {
		expect(() => listedStones("a, 400x300", "l")).toThrow("stone.yardLine");
		expect(listedStones("# no stone\n\n400x300x200", "yard.csv")).toEqual([
			{ name: "yard.csv line 3", sides: [400, 300, 200] },
		]);
	});
});
