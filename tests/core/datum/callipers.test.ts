import { describe, expect, it } from "vitest";
import { calliperLengths, heightOverDatums, unreliableByCallipers } from "../../../core/datum/callipers.ts";
import type { Triangle } from "../../../core/datum/seatError.ts";
import { seededRandom } from "../../../core/random.ts";
import { distance, scale, type Vec3 } from "../../../core/vector.ts";
import { placeFromLengths } from "../../support/placeFromLengths.ts";

// Worked trilateration, computed independently of the project (reference 12.04 to 12.06).
const datums: Triangle = [
	[0, 0, 0],
	[300, 0, 0],
	[120, 200, 80],
];

describe("callipers", () => {
	it("gives the lengths of the worked case", () => {
		const lengths = calliperLengths(datums, [150, 100, 200]);
		expect(lengths[0]).toBeCloseTo(269.25824, 5);
		expect(lengths[1]).toBeCloseTo(269.25824, 5);
		expect(lengths[2]).toBeCloseTo(159.059737, 5);
		expect(Math.abs(heightOverDatums(datums, [150, 100, 200]))).toBeCloseTo(148.556271, 5);
	});

	it("finds both places of the worked case, one on each side", () => {
		const lengths = calliperLengths(datums, [150, 100, 200]);
		const up = placeFromLengths(datums, lengths, 1)!;
		const down = placeFromLengths(datums, lengths, -1)!;
		expect(distance(up, [150, 100, 200])).toBeLessThan(1e-9);
		expect(distance(down, [150, 210.344828, -75.862069])).toBeLessThan(1e-5);
	});

	it("solves the exact small case", () => {
		const small: Triangle = [
			[0, 0, 0],
			[30, 0, 0],
			[0, 40, 0],
		];
		const lengths: Vec3 = [Math.sqrt(676), Math.sqrt(1216), Math.sqrt(1636)];
		expect(distance(placeFromLengths(small, lengths, 1)!, [6, 8, 24])).toBeLessThan(1e-9);
		expect(distance(placeFromLengths(small, lengths, -1)!, [6, 8, -24])).toBeLessThan(1e-9);
	});

	it("refuses lengths that meet nowhere", () => {
		expect(placeFromLengths(datums, [100, 100, 100], 1)).toBeNull();
	});

	it.each([1, 1.5])("lengths lead back to the place at scale %d, seed 3", (ratio) => {
		const random = seededRandom(3);
		for (let i = 0; i < 1000; i++) {
			const spot = (): Vec3 => [random.next() * 400, random.next() * 300, random.next() * 500];
			const triangle: Triangle = [spot(), spot(), spot()];
			const target = spot();
			const height = heightOverDatums(triangle, target);
			if (unreliableByCallipers(triangle, target) || Math.abs(heightOverDatums(triangle, target)) < 5) continue;
			// On the bench model the lengths are shorter by the ratio; the stone's datums are the model's, enlarged.
			const onModel = calliperLengths(
				triangle.map((p) => scale(p, 1 / ratio)) as unknown as Triangle,
				scale(target, 1 / ratio),
			);
			const back = placeFromLengths(triangle, scale(onModel, ratio), height > 0 ? 1 : -1)!;
			expect(distance(back, target)).toBeLessThan(1e-6);
		}
	});
});
