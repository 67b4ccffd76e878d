import { describe, expect, it } from "vitest";
import { seededRandom } from "../../core/random.ts";
import { dot, unit } from "../../core/vector.ts";
import { anglesOf, normalAt } from "../../renderer/state/cuts.ts";

describe("which way a cut looks", () => {
	it("is counted from the front by the right, and up from level", () => {
		expect(anglesOf([0, -1, 0])).toEqual({ turn: 0, rise: 0 });
		expect(anglesOf([1, 0, 0])).toEqual({ turn: 90, rise: 0 });
		expect(anglesOf([0, 1, 0])).toEqual({ turn: 180, rise: 0 });
		expect(anglesOf([-1, 0, 0])).toEqual({ turn: -90, rise: 0 });
		expect(anglesOf([0, 0, 1]).rise).toBe(90);
	});

	it("comes back from its angles to a tenth of a degree", () => {
		const random = seededRandom(9);
		for (let i = 0; i < 50; i++) {
			const n = unit([random.normal(), random.normal(), random.normal()]);
			const { turn, rise } = anglesOf(n);
			expect(dot(normalAt(turn, rise), n)).toBeGreaterThan(Math.cos((0.1 * Math.PI) / 180));
		}
	});
});
