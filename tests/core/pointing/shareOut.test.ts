import { describe, expect, it } from "vitest";
import { shareOut } from "../../../core/pointing/shareOut.ts";
import { seededRandom } from "../../../core/random.ts";

describe("sharing a number of points over the rounds", () => {
	it("keeps the proportion", () => {
		expect(shareOut(300, [100, 200, 300])).toEqual([50, 100, 150]);
		expect(shareOut(100, [1, 1, 1])).toEqual([34, 33, 33]);
		expect(shareOut(10, [0, 0])).toEqual([5, 5]);
	});

	it("gives every round a point, and never more in all than asked for beyond that", () => {
		expect(shareOut(2, [5, 5, 5])).toEqual([1, 1, 1]);
		expect(shareOut(5, [0, 1000])).toEqual([1, 4]);
		const random = seededRandom(7);
		for (let run = 0; run < 500; run++) {
			const weights = Array.from({ length: 1 + random.below(12) }, () => random.below(900));
			const total = 1 + random.below(2000);
			const shares = shareOut(total, weights);
			expect(Math.min(...shares)).toBeGreaterThanOrEqual(1);
			expect(shares.reduce((sum, share) => sum + share, 0)).toBe(Math.max(total, weights.length));
			const sum = weights.reduce((all, weight) => all + weight, 0);
			// Within one, and what the rounds of a single point take from the others.
			for (const [i, share] of shares.entries())
				if (sum > 0) expect(Math.abs(share - (total * weights[i]) / sum)).toBeLessThanOrEqual(1 + weights.length);
		}
	});
});
