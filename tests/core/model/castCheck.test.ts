import { describe, expect, it } from "vitest";
import { type CastPair, castCheck } from "../../../core/model/castCheck.ts";
import { seededRandom } from "../../../core/random.ts";
import { Refusal } from "../../../core/refusal.ts";
import { refusalText } from "../../../core/text/refusals.ts";
import { share } from "../../support/prove.ts";

const pair = (length: number, read: number): CastPair => ({
	a_mm: [3, -2, 1],
	b_mm: [3, length - 2, 1],
	read_mm: read,
});
const refusal = (run: () => unknown): string => {
	try {
		run();
	} catch (error) {
		if (error instanceof Refusal) return refusalText(error.issue);
		throw error;
	}
	throw new Error("not refused");
};

describe("scan against cast", () => {
	it("is the least-squares slope through the origin, counted by hand", () => {
		// Σxy ÷ Σx² = (100·101 + 200·200) ÷ (100² + 200²) = 50100 ÷ 50000.
		const { scale, pairs, spread, standardError, sigmas } = castCheck([pair(100, 101), pair(200, 200)], 1, 0.2);
		expect(scale).toBeCloseTo(1.002, 12);
		expect(pairs.map((p) => p.residual)[0]).toBeCloseTo(0.8, 10);
		expect(pairs.map((p) => p.residual)[1]).toBeCloseTo(-0.4, 10);
		expect(spread).toBeCloseTo(Math.sqrt(0.8 * 0.8 + 0.4 * 0.4), 10);
		expect(standardError).toBeCloseTo(spread / Math.sqrt(50000), 12);
		expect(sigmas).toBeCloseTo(0.002 / standardError, 8);
	});

	// Linear setting expansion of plaster 0.2 % (dental materials teaching notes, 2016; moulding plaster 0.2 % also in the
	// glass-casting notes of 2009), compounded over generations of casts: 500 mm grow by 1.0, 2.002 and 3.006 mm.
	it.each([
		[1, 1.0],
		[2, 2.002],
		[3, 3.006],
	])("finds the growth of a 500 mm head over %i generations of plaster", (generations, growth) => {
		const s = 1.002 ** generations;
		const { scale, drift } = castCheck([pair(500, 500 * s), pair(300, 300 * s)], 1);
		expect(500 * (scale - 1)).toBeCloseTo(growth, 3);
		expect(drift).toBe("sure");
	});

	it("calls a drift within the reading error none, and between likely", () => {
		// Σx² = 500² · 4: standard error 0.2 ÷ 1000 = 0.0002.
		const four = (s: number) =>
			castCheck(
				[1, 2, 3, 4].map(() => pair(500, 500 * s)),
				1,
			);
		expect(four(1.0003).drift).toBe("none");
		expect(four(1.0005).drift).toBe("likely");
		expect(four(1.0007).drift).toBe("sure");
		expect(four(0.9993).drift).toBe("sure");
		expect(four(1.0005).sigmas).toBeCloseTo(2.5, 6);
	});

	it("measures on the bench model's own size", () => {
		const { scale, pairs } = castCheck([pair(1000, 501), pair(600, 300.6)], 2);
		expect(pairs[0].length).toBe(500);
		expect(scale).toBeCloseTo(1.002, 12);
	});

	it("names the pair that was misread", () => {
		expect(castCheck([pair(500, 500.1), pair(400, 400), pair(450, 455), pair(480, 479.9)], 1).misread).toBe(2);
		expect(castCheck([pair(500, 500.1), pair(400, 400)], 1).misread).toBeNull();
	});

	it("errs as its standard error says and calls no drift sure by chance more often, seed 11", () => {
		const random = seededRandom(11);
		const runs = share(20_000);
		let squares = 0;
		let sure = 0;
		for (let i = 0; i < runs; i++) {
			const pairs = [500, 320, 210, 410].map((x) => pair(x, x + 0.2 * random.normal()));
			const check = castCheck(pairs, 1);
			squares += ((check.scale - 1) * Math.sqrt(500 ** 2 + 320 ** 2 + 210 ** 2 + 410 ** 2)) ** 2;
			if (check.drift === "sure") sure++;
		}
		expect(Math.sqrt(squares / runs)).toBeCloseTo(0.2, 1.5);
		// 0.27 % by the normal distribution, fewer because the spread counts where it is the greater.
		expect(sure / runs).toBeLessThan(0.005);
	});

	it("refuses what tells nothing, in one line", () => {
		expect(refusal(() => castCheck([pair(500, 501)], 1))).toMatch(/1 calliper pair; expected at least two/);
		expect(refusal(() => castCheck([], 1))).toMatch(/0 calliper pairs/);
		expect(refusal(() => castCheck([pair(500, 501), pair(0, 3)], 1))).toMatch(/pair 2 lie 0\.0 mm apart/);
		expect(refusal(() => castCheck([pair(500, 501), pair(40, 40)], 5))).toMatch(/pair 2 lie 8\.0 mm/);
		expect(refusal(() => castCheck([pair(500, 0), pair(400, 400)], 1))).toMatch(/pair 1 is 0 mm/);
		expect(refusal(() => castCheck([pair(500, 500), pair(400, Number.NaN)], 1))).toMatch(/pair 2/);
		expect(refusal(() => castCheck([pair(500, 500), pair(400, 400)], 1, 0))).toMatch(/given as 0 mm/);
	});
});
