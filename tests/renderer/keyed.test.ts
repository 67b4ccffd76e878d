import { describe, expect, it } from "vitest";
import { afterKey, FRACTIONS, keyedLength, rubbedOut } from "../../renderer/bench/keyed.ts";

const typed = (keys: readonly string[], fractions: boolean): string =>
	keys.reduce((text, key) => afterKey(text, key, true, fractions), "");

describe("keys of the bench", () => {
	it("make a figure and no second point", () => {
		expect(typed([..."12..5"], false)).toBe("12.5");
		expect(typed([".", "5"], false)).toBe("0.5");
		expect(typed(["4", "−"], false)).toBe("-4");
		expect(typed([..."5/16"], false)).toBe("516");
	});

	it("put sixteenths behind whole inches, one press each, the last one holds", () => {
		expect(FRACTIONS).toHaveLength(15);
		expect(FRACTIONS.slice(0, 4)).toEqual(["1/16", "1/8", "3/16", "1/4"]);
		expect(typed(["3", "5/16"], true)).toBe("3 5/16");
		expect(typed(["3", "5/16", "1/2"], true)).toBe("3 1/2");
		expect(typed(["5/16"], true)).toBe("5/16");
		expect(typed(["5/16", "3"], true)).toBe("5/16");
		expect(typed(["3", ".", "5/16"], true)).toBe("3.");
		for (const [i, part] of FRACTIONS.entries())
			expect(keyedLength(part, "in16")).toBeCloseTo(((i + 1) * 25.4) / 16, 9);
	});

	it("take a fraction that is written out, and read it once it is whole", () => {
		expect(typed([..."3 5/16"], true)).toBe("3 5/16");
		expect(keyedLength("3 5/", "in16")).toBeNull();
		expect(keyedLength("3 5/1", "in16")).toBeNull();
		expect(keyedLength("3 5/16", "in16")).toBeCloseTo(84.1375, 9);
		expect(keyedLength("-1 1/2", "in16")).toBeCloseTo(-38.1, 9);
		expect(keyedLength("", "mm")).toBeNull();
		expect(keyedLength("-", "mm")).toBeNull();
		expect(keyedLength("12.", "mm")).toBe(12);
	});

	it("rub a fraction out whole", () => {
		expect(rubbedOut("3 5/16")).toBe("3");
		expect(rubbedOut("12.5")).toBe("12.");
	});
});
