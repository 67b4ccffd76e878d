import { describe, expect, it } from "vitest";
import { newCommission } from "../../../core/plan/commission.ts";
import { crossingCautions, groupsOf } from "../../../core/plan/parts/crossingCautions.ts";
import { unitCautions } from "../../../core/plan/parts/unitCautions.ts";
import type { PlanCrossing, PlanPoint } from "../../../core/plan/planFile.ts";
import { seededRandom } from "../../../core/random.ts";

const pair = (a: number, b: number): PlanCrossing => ({ points: [a, b], web_mm: 0.4 });
const point = (number: number, more: Partial<PlanPoint> = {}): PlanPoint =>
	({ number, round: number % 2, face: "front", u_mm: 10, v_mm: 10, depth_mm: 50.4, ...more }) as PlanPoint;
const commission = newCommission("owl");

describe("holes too near to each other", () => {
	it("are named pair by pair while they are few", () => {
		expect(crossingCautions([], [], commission)).toEqual([]);
		const [words] = crossingCautions([pair(3, 4), pair(4, 9)], [point(3), point(4), point(9)], commission);
		expect(words).toContain("3 and 4; 4 and 9.");
	});

	it("are told by places when they are many: how many, where the largest lies, what it means and what to do", () => {
		// A fan of eleven around 20, and two pairs apart.
		const crossings = [...Array.from({ length: 11 }, (_, i) => pair(20, 21 + i)), pair(1, 2), pair(5, 6)];
		const points = Array.from({ length: 40 }, (_, i) => point(i + 1));
		const [words] = crossingCautions(crossings, points, commission);
		expect(words).toContain("16 of 40 holes");
		expect(words).toContain("13 pairs in 3 places");
		expect(words).toContain("the largest, 12 holes, lies around 20, entered from the front");
		expect(words).toContain("No hole comes nearer to the figure");
		// 20 counts once for each of its pairs, and has an even number: round 0 takes part most.
		expect(words).toContain(`fewer points in “${commission.rounds[0].name}”`);
	});

	it("are grouped as a slow twin groups them, seed 8", () => {
		const random = seededRandom(8);
		for (let trial = 0; trial < 50; trial++) {
			const crossings = Array.from({ length: 30 }, () => {
				const a = 1 + Math.floor(60 * random.next());
				return pair(a, a + 1 + Math.floor(5 * random.next()));
			});
			// Labels spread until nothing changes.
			const label = new Map(crossings.flatMap(({ points }) => points.map((n) => [n, n] as const)));
			for (let changed = true; changed; ) {
				changed = false;
				for (const { points } of crossings) {
					const least = Math.min(...points.map((n) => label.get(n) as number));
					for (const n of points) {
						if (label.get(n) === least) continue;
						label.set(n, least);
						changed = true;
					}
				}
			}
			const found = groupsOf(crossings);
			expect(found.flat().sort((a, b) => a - b)).toEqual([...label.keys()].sort((a, b) => a - b));
			expect(found).toHaveLength(new Set(label.values()).size);
			for (const group of found) expect(new Set(group.map((n) => label.get(n))).size).toBe(1);
		}
	});
});

describe("sheets in sixteenths", () => {
	const sixteenths = { ...commission, sheet: { ...commission.sheet, units: "in16" as const } };

	it("say that a mark is printed less finely than the depths allow for", () => {
		const [words] = unitCautions(sixteenths, [point(1)]);
		expect(words).toContain("allow for a mark no more than 0.04 in out");
		expect(words).toContain("rounded short");
	});

	it("are silent in other units, under the machine's needle, and once the mark's error holds it", () => {
		expect(unitCautions(commission, [point(1)])).toEqual([]);
		expect(unitCautions({ ...sixteenths, transfer: "machine" }, [point(1)])).toEqual([]);
		expect(unitCautions(sixteenths, [point(1, { u_mm: null })])).toEqual([]);
		const wide = { ...sixteenths, aim: { mark_mm: 2.2, lean_deg: 1, wander: 0.01 } };
		expect(unitCautions(wide, [point(1)])).toEqual([]);
	});
});
