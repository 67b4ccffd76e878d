import { describe, expect, it } from "vitest";
import { exp, ln } from "../../core/exactLog.ts";
import { seededRandom } from "../../core/random.ts";

// Compared with the built-in functions, whose last digit may differ between machines.
describe("logarithm and exponential from exact operations", () => {
	it("agree with the built-in ones to 4e-16 of the result, seed 1", () => {
		const random = seededRandom(1);
		for (let i = 0; i < 20_000; i++) {
			const x = Math.exp((random.next() - 0.5) * (i % 2 === 0 ? 2 : 1200));
			expect(Math.abs(ln(x) - Math.log(x))).toBeLessThanOrEqual(4e-16 * Math.max(1, Math.abs(Math.log(x))));
			const y = (random.next() - 0.5) * (i % 2 === 0 ? 2 : 1400);
			expect(Math.abs(exp(y) / Math.exp(y) - 1)).toBeLessThan(4e-15);
		}
	});

	it("at the ends", () => {
		expect([ln(1), ln(0), exp(0), exp(-1e6), exp(1e6)]).toEqual([0, -Infinity, 1, 0, Infinity]);
		expect(ln(-1)).toBeNaN();
		expect(ln(Math.E)).toBeCloseTo(1, 15);
		expect(ln(2) + ln(0.5)).toBe(0);
	});
});
