import { describe, expect, it } from "vitest";
import { finish } from "../../core/job.ts";
import { seededRandom } from "../../core/random.ts";
import { scales, vanes } from "../../seeds/feathers.ts";
import {
	angleOf,
	bow,
	carve,
	chain,
	curveThrough,
	ellipsoid,
	rod,
	type Stroke,
	smoothMax,
	smoothMin,
	wave,
} from "../../seeds/field.ts";
import { LATTICE_RMS, latticeNoise, scanned } from "../../seeds/noise.ts";
import { polygonise } from "../../seeds/polygonise.ts";

describe("fields", () => {
	it("gives the angle of a direction", () => {
		const random = seededRandom(5);
		for (let i = 0; i < 2000; i++) {
			const x = random.next() * 2 - 1;
			const y = random.next() * 2 - 1;
			expect(Math.abs(angleOf(x, y) - Math.atan2(y, x))).toBeLessThan(1e-8);
		}
		expect(angleOf(0, 0)).toBe(0);
		expect(angleOf(-1, 0)).toBe(Math.PI);
	});

	it("melts and rounds by a quarter of the width at most", () => {
		expect(smoothMin(2, 2, 4)).toBe(1);
		expect(smoothMax(2, 2, 4)).toBe(3);
		expect(smoothMin(1, 6, 4)).toBe(1);
		expect(smoothMax(1, 6, 4)).toBe(6);
	});

	it("measures balls and rods exactly", () => {
		expect(ellipsoid(7, 0, 0, 5, 5, 5)).toBeCloseTo(2, 12);
		expect(rod(3, 0, 9, [0, 0, 0], 1, [0, 0, 10], 1)).toBeCloseTo(2, 12);
		expect(rod(0, 0, 14, [0, 0, 0], 1, [0, 0, 10], 2)).toBeCloseTo(2, 12);
		expect(
			chain(
				0,
				3,
				5,
				[
					[[0, 0, 0], 1],
					[[0, 0, 10], 1],
					[[0, 50, 10], 1],
				],
				0.1,
			),
		).toBeCloseTo(2, 12);
		expect(bow([0, 0, 0], [1, 2, 0], [2, 0, 0], 2)[1]).toEqual([1, 1, 0]);
	});

	it("draws curves through their places and flat beyond", () => {
		const curve = curveThrough([
			[0, 1],
			[64, 5],
			[256, 2],
		]);
		expect([curve(-9), curve(0), curve(64), curve(256), curve(300)]).toEqual([1, 1, 5, 2, 2]);
		const line = curveThrough([
			[0, 0],
			[1, 2],
			[2, 4],
			[5, 10],
		]);
		for (let x = 0; x <= 5; x += 0.37) expect(line(x)).toBeCloseTo(2 * x, 6);
	});

	it("leaves out only strokes that do not matter near the surface", () => {
		const random = seededRandom(9);
		const strokes = Array.from({ length: 40 }, (_, i): Stroke => {
			const [a, b, c] = [0, 1, 2].map(() => random.next() * 60 - 30);
			const r = 4 + 8 * random.next();
			return {
				kind: i % 5 === 4 ? "cut" : "add",
				box: [a - r, b - r, c - r, a + r, b + r, c + r],
				blend: i % 3,
				field: (x, y, z) => ellipsoid(x - a, y - b, z - c, r, r, r),
			};
		});
		const blocks = carve(strokes, [-50, -50, -50, 50, 50, 50], 10);
		const whole = carve(strokes, [-50, -50, -50, 50, 50, 50], 1000);
		let near = 0;
		for (let i = 0; i < 20000; i++) {
			const [x, y, z] = [0, 1, 2].map(() => random.next() * 90 - 45);
			const d = whole(x, y, z);
			if (Math.abs(d) > 4) continue;
			near++;
			expect(blocks(x, y, z)).toBe(d);
		}
		expect(near).toBeGreaterThan(2000);
	});
});

describe("feathers", () => {
	it("repeat without a seam where the columns make a full turn", () => {
		for (let v = 0; v < 6; v += 0.17) {
			for (let u = 0; u < 1; u += 0.13)
				expect(scales(u + 26, v, 26, 0.3, 0.3)).toBeCloseTo(scales(u, v, 26, 0.3, 0.3), 9);
			expect(vanes(v + 1, 0.2)).toBeCloseTo(vanes(v, 0.2), 9);
			expect(wave(v + 1)).toBeCloseTo(wave(v), 9);
		}
	});
	it("stay between ground and tip", () => {
		const random = seededRandom(2);
		for (let i = 0; i < 5000; i++) {
			const h = scales(random.next() * 26, random.next() * 20, 26, 0.3, 0.5);
			expect(h).toBeGreaterThanOrEqual(0.25);
			expect(h).toBeLessThan(1.1);
		}
	});
});

describe("scan noise", () => {
	it("has the root mean square that it is asked for, along the normal", () => {
		const random = seededRandom(3);
		let sum = 0;
		const n = 200_000;
		for (let i = 0; i < n; i++)
			sum += latticeNoise(random.next() * 400, random.next() * 400, random.next() * 400, 8) ** 2;
		expect(Math.sqrt(sum / n)).toBeCloseTo(LATTICE_RMS, 2);

		const ball = (x: number, y: number, z: number) => Math.sqrt(x * x + y * y + z * z) - 50;
		const clean = finish(polygonise(ball, { box: [-55, -55, -55, 55, 55, 55], step: 1, inside: [0, 0, 0] }));
		const noisy = finish(scanned(clean, { seed: 1, grainMm: 0.06, driftMm: 0.08, patchMm: 5 }));
		let out = 0;
		let aside = 0;
		for (let v = 0; v < clean.positions.length; v += 3) {
			const [x, y, z] = clean.positions.subarray(v, v + 3);
			const [dx, dy, dz] = [0, 1, 2].map((i) => noisy.positions[v + i] - clean.positions[v + i]);
			const along = (dx * x + dy * y + dz * z) / Math.sqrt(x * x + y * y + z * z);
			out += along * along;
			aside += dx * dx + dy * dy + dz * dz - along * along;
		}
		const count = clean.positions.length / 3;
		expect(Math.sqrt(out / count)).toBeGreaterThan(0.09);
		expect(Math.sqrt(out / count)).toBeLessThan(0.11);
		expect(Math.sqrt(aside / count)).toBeLessThan(0.01);
	});
});
