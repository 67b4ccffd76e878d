import { describe, expect, it } from "vitest";
import { finish } from "../../../core/job.ts";
import { seededRandom } from "../../../core/random.ts";
import { Welder } from "../../../core/scan/weld.ts";

/** The same by a map of texts. */
function twin(points: Float64Array): { numbers: number[]; positions: number[] } {
	const seen = new Map<string, number>();
	const positions: number[] = [];
	const numbers: number[] = [];
	for (let i = 0; i < points.length; i += 3) {
		const p = [points[i] + 0, points[i + 1] + 0, points[i + 2] + 0];
		const key = p.join(" ");
		if (!seen.has(key)) {
			seen.set(key, seen.size);
			positions.push(...p);
		}
		numbers.push(seen.get(key) ?? -1);
	}
	return { numbers, positions };
}

function weldAll(points: Float64Array, expected: number, batch: number): { numbers: number[]; positions: number[] } {
	const welder = new Welder(expected);
	const out = new Uint32Array(points.length / 3);
	for (let from = 0; from < out.length; from += batch) {
		const n = Math.min(batch, out.length - from);
		finish(welder.makeRoom(n, 0));
		welder.weld(points.slice(3 * from, 3 * (from + n)), n, out, from);
	}
	return { numbers: [...out], positions: [...finish(welder.finish())] };
}

describe("Welder", () => {
	it("gives equal points one number, in the order of first appearance, and takes −0 for 0", () => {
		const points = Float64Array.of(1, 2, 3, 0, 0, 0, 1, 2, 3, -0, 0, -0, 1, 2, 4);
		expect(weldAll(points, 10, 5)).toEqual({ numbers: [0, 1, 0, 1, 2], positions: [1, 2, 3, 0, 0, 0, 1, 2, 4] });
	});

	it("tells points apart that differ in the last digit of one coordinate", () => {
		const next = 1 + Number.EPSILON;
		expect(weldAll(Float64Array.of(1, 1, 1, next, 1, 1, 1, next, 1, 1, 1, next), 4, 4).numbers).toEqual([0, 1, 2, 3]);
	});

	it.each([1, 2, 3, 4, 5, 6])("agrees with a map of texts while it grows, seed %i", (seed) => {
		const random = seededRandom(seed);
		const n = 20_000;
		const range = [2, 9, 30, 100, 1e9, 4][seed - 1];
		const step = seed === 6 ? 1e-300 : 0.125;
		const points = Float64Array.from({ length: 3 * n }, () => (random.below(2 * range) - range) * step);
		expect(weldAll(points, 1, 1 + random.below(3000))).toEqual(twin(points));
	});

	it("says so when it was not given room", () => {
		const welder = new Welder(64);
		expect(() => welder.weld(new Float64Array(3 * 100), 100, new Uint32Array(100), 0)).toThrow("room");
	});
});
