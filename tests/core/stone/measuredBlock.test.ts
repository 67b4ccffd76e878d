import { describe, expect, test } from "vitest";
import { type Random, seededRandom } from "../../../core/random.ts";
import { Refusal } from "../../../core/refusal.ts";
import { stoneOf } from "../../../core/stone/block.ts";
import { brokenMeasured } from "../../../core/stone/breaks.ts";
import { BLOCK_READINGS, measuredBlock } from "../../../core/stone/measuredBlock.ts";
import { distance, type Vec3 } from "../../../core/vector.ts";
import { share } from "../../support/prove.ts";

/** Corners of a block with flat faces that are up to a degree out of square: planes met by going round, not by the fit's way. */
function seededCorners(random: Random): Vec3[] {
	const [length, width, height] = [200, 200, 200].map((least) => least + 700 * random.next());
	const s = (): number => 0.035 * (random.next() - 0.5);
	const [a, b, c, d, e, f, g, h, k] = [s(), s(), s(), s(), s(), s(), s(), s(), s()];
	return Array.from({ length: 8 }, (_, i) => {
		let [x, y, z] = [0, 0, 0];
		for (let n = 0; n < 60; n++) {
			x = i & 1 ? length + d * y + e * z : b * y + c * z;
			y = i & 2 ? width + f * x + g * z : a * z;
			z = i & 4 ? height + h * x + k * y : 0;
		}
		return [x, y, z];
	});
}

const lengthsOf = (corners: readonly Vec3[]): number[] =>
	BLOCK_READINGS.map(({ between: [a, b] }) => distance(corners[a], corners[b]));

const code = (run: () => unknown): string => {
	try {
		run();
	} catch (error) {
		if (error instanceof Refusal) return error.issue.code;
		throw error;
	}
	return "none";
};

describe("a block by twelve edges and twelve face diagonals", () => {
	test("a sawn block of 300 × 200 × 500 comes out square, its diagonals counted off", () => {
		// 3-4-5 and its kin: √(300² + 200²), √(300² + 500²), √(200² + 500²).
		const [xy, xz, yz] = [130000, 340000, 290000].map(Math.sqrt);
		const found = measuredBlock(
			[300, 300, 300, 300, 200, 200, 200, 200, 500, 500, 500, 500].concat(
				[xy, xy, xy, xy],
				[xz, xz, xz, xz],
				[yz, yz, yz, yz],
			),
		);
		const expected = [-1, 0, 0, 0, 1, 0, 0, 300, 0, -1, 0, 0, 0, 1, 0, 200, 0, 0, -1, 0, 0, 0, 1, 500];
		for (const [i, x] of found.planes.entries()) expect(x).toBeCloseTo(expected[i], 9);
		expect(found.spread).toBeLessThan(1e-9);
		expect(found.wrong).toBeNull();
	});

	test("read without error it is recovered to rounding, whatever its angles", () => {
		const random = seededRandom(60);
		for (let n = 0; n < 50; n++) {
			const corners = seededCorners(random);
			const found = measuredBlock(lengthsOf(corners));
			for (const [i, corner] of found.corners.entries()) expect(distance(corner, corners[i])).toBeLessThan(1e-6);
			expect(found.wrong).toBeNull();
		}
	});

	test("read to 0.5 mm it is recovered to that order, and a reading wrong by 5 mm is named", () => {
		const random = seededRandom(500);
		const cases = share(500);
		let squares = 0;
		let places = 0;
		let named = 0;
		let accused = 0;
		let spread = 0;
		for (let n = 0; n < cases; n++) {
			const corners = seededCorners(random);
			const read = lengthsOf(corners).map((l) => l + 0.5 * random.normal());
			const found = measuredBlock(read);
			if (found.wrong) accused++;
			spread += found.spread / cases;
			found.corners.forEach((corner, i) => {
				squares += distance(corner, corners[i]) ** 2;
				places++;
			});
			const at = random.below(24);
			read[at] += random.next() < 0.5 ? 5 : -5;
			if (measuredBlock(read).wrong?.index === at) named++;
		}
		expect(Math.sqrt(squares / places)).toBeLessThan(1);
		expect(Math.abs(spread - 0.5)).toBeLessThan(0.06);
		expect(named / cases).toBeGreaterThanOrEqual(0.98);
		expect(accused / cases).toBeLessThanOrEqual(0.04);
	});

	test("says by how much the wrong reading is off, and what it should read", () => {
		const read = lengthsOf(seededCorners(seededRandom(2)));
		read[17] += 8;
		const { wrong } = measuredBlock(read);
		expect(wrong?.index).toBe(17);
		expect(wrong?.off).toBeCloseTo(8, 6);
		expect(wrong?.expected).toBeCloseTo(read[17] - 8, 6);
	});

	test("a corner broken off it reaches along its own edges", () => {
		const corners = seededCorners(seededRandom(9));
		const { planes } = measuredBlock(lengthsOf(corners));
		const whole = stoneOf({ kind: "measured", sides: planes, planes: new Float64Array() });
		const stone = stoneOf(
			brokenMeasured(planes, [900, 900, 900], [{ kind: "off", faces: ["right", "back", "top"], reach: [60, 50, 40] }]),
		);
		const broken = stone.faces.find((face) => face.name === "break 1")!;
		const onEdges = [6, 5, 3].map((other, k) => {
			const far = distance(corners[7], corners[other]);
			return corners[7].map((x, i) => x + ((corners[other][i] - x) * [60, 50, 40][k]) / far) as unknown as Vec3;
		});
		for (const place of onEdges)
			expect(Math.min(...broken.outline.map((corner) => distance(corner, place)))).toBeLessThan(1e-6);
		expect(stone.volume).toBeLessThan(whole.volume - 15000);
		expect(stone.volume).toBeGreaterThan(whole.volume - 25000);
	});

	test("readings that no block has are refused", () => {
		const read = lengthsOf(seededCorners(seededRandom(4)));
		expect(code(() => measuredBlock(read.slice(1)))).toBe("stone.readings");
		expect(code(() => measuredBlock(read.map((l, i) => (i === 3 ? 0 : l))))).toBe("stone.reading");
		expect(code(() => measuredBlock(read.map((l, i) => (i === 3 ? 3 * l : l))))).toBe("stone.readingOff");
	});
});
