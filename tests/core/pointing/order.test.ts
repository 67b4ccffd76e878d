import { describe, expect, test } from "vitest";
import { numberPoints, type OrderedPoint, orderPoints, travel } from "../../../core/pointing/order.ts";
import { defaultMiddlePlane, sideOf } from "../../../core/pointing/side.ts";
import { seededRandom } from "../../../core/random.ts";
import { distance, type Vec3 } from "../../../core/vector.ts";

const UP: Vec3 = [0, 0, 1];
const point = (position: Vec3, more: Partial<OrderedPoint> = {}): OrderedPoint => ({
	position,
	round: 0,
	lie: 0,
	kind: "net",
	side: "middle",
	...more,
});

/** Points all over an upright egg 200 mm wide and 400 mm high, sides by x. */
function egg(count: number, seed: number): OrderedPoint[] {
	const random = seededRandom(seed);
	return Array.from({ length: count }, () => {
		const d = [random.normal(), random.normal(), random.normal()];
		const l = Math.hypot(...d);
		const at: Vec3 = [(100 * d[0]) / l, (100 * d[1]) / l, 200 + (200 * d[2]) / l];
		return point(at, { side: sideOf(at, { normal: [1, 0, 0], offset: 0 }, 3) });
	});
}

describe("order of work (handbook 7)", () => {
	test("by lie, then round, then high points before hollows; undercuts last", () => {
		const points = [
			point([0, 0, 0], { lie: null }),
			point([0, 0, 0], { lie: 1, round: 0 }),
			point([0, 0, 0], { lie: 0, round: 1, kind: "added" }),
			point([0, 0, 0], { lie: 0, round: 1, kind: "high point" }),
			point([0, 0, 0], { lie: 0, round: 0, kind: "net" }),
			point([0, 0, 0], { lie: 0, round: 0, kind: "picked" }),
		];
		expect(orderPoints(points, UP)).toEqual([5, 4, 3, 2, 1, 0]);
	});

	test("from the top down", () => {
		const points = [10, 300, 120, 200].map((z) => point([0, 0, z]));
		expect(orderPoints(points, UP)).toEqual([1, 3, 2, 0]);
		expect(orderPoints(points, [0, 0, -1])).toEqual([0, 2, 3, 1]);
	});

	test("every point once, none twice, the same again", () => {
		const points = egg(150, 3);
		const order = orderPoints(points, UP);
		expect([...order].sort((a, b) => a - b)).toEqual(points.map((_, i) => i));
		expect(orderPoints(points, UP)).toEqual(order);
	});

	test.each([1, 2, 3, 4, 5])(
		"the arm moves little (seed %s): near a nearest-neighbour walk, far under a random order",
		(seed) => {
			const points = egg(120, seed);
			const ours = travel(points, orderPoints(points, UP));
			const left = new Set(points.keys());
			const top = [...left].reduce((b, i) => (points[i].position[2] > points[b].position[2] ? i : b));
			const walk = [top];
			left.delete(top);
			while (left.size > 0) {
				const from = points[walk[walk.length - 1]].position;
				const next = [...left].reduce((b, i) =>
					distance(points[i].position, from) < distance(points[b].position, from) ? i : b,
				);
				walk.push(next);
				left.delete(next);
			}
			// A nearest-neighbour walk wanders up and down the stone; ours keeps to the top-down rule and pays for it.
			expect(ours / travel(points, walk)).toBeLessThan(1.5);
			expect(ours / travel(points, [...points.keys()])).toBeLessThan(0.4);
		},
	);

	test("one side first: within a lie and a round all of it before the other, the middle with the first", () => {
		const points = egg(80, 6);
		for (const [first, last] of [
			["left first", "right"],
			["right first", "left"],
		] as const) {
			const sides = orderPoints(points, UP, { sides: first }).map((i) => points[i].side);
			expect(sides.indexOf(last)).toBe(points.filter((p) => p.side !== last).length);
		}
	});

	test("in pairs: each point is followed by its mirror image", () => {
		const half = egg(40, 7).filter((p) => p.side === "left");
		const points = [
			...half,
			...half.map((p) => point([-p.position[0], p.position[1], p.position[2]], { side: "right" })),
		];
		const order = orderPoints(points, UP, { sides: "in pairs", plane: { normal: [1, 0, 0], offset: 0 } });
		for (let k = 0; k < order.length; k += 2) expect(Math.abs(order[k] - order[k + 1])).toBe(half.length);
	});

	test("no points, one point, points on one spot", () => {
		expect(orderPoints([], UP)).toEqual([]);
		expect(orderPoints([point([1, 2, 3])], UP)).toEqual([0]);
		expect(orderPoints([point([1, 2, 3]), point([1, 2, 3]), point([1, 2, 3])], UP)).toEqual([0, 1, 2]);
		expect(travel([], [])).toBe(0);
	});
});

describe("numbers", () => {
	test("are the order of work, from 1", () => {
		expect(numberPoints([2, 0, 1])).toEqual([2, 3, 1]);
	});
	test("that have been drilled never change, and new points get the next free ones", () => {
		// Points 0 and 3 were drilled as 4 and 2; the order of work has changed since.
		expect(numberPoints([3, 1, 2, 0], [4, null, null, 2])).toEqual([4, 5, 6, 2]);
	});
	test("are all different however many are kept (seed 9)", () => {
		const random = seededRandom(9);
		const order = Array.from({ length: 60 }, (_, i) => i).reverse();
		const keep = order.map((i) => (random.next() < 0.4 ? i + 1 : null));
		const numbers = numberPoints(order, keep);
		expect(new Set(numbers).size).toBe(60);
		for (const [i, k] of keep.entries()) if (k !== null) expect(numbers[i]).toBe(k);
	});
});

describe("proper left and right", () => {
	const plane = defaultMiddlePlane(new Float64Array([-20, 0, 0, 60, 5, 5, 10, 1, 1]));
	test("the middle plane halves the bounds; the model's own left is at +x when it faces −y", () => {
		expect(plane).toEqual({ normal: [1, 0, 0], offset: 20 });
		expect(sideOf([40, 0, 0], plane, 3)).toBe("left");
		expect(sideOf([0, 0, 0], plane, 3)).toBe("right");
	});
	test("the middle is a smallest form to either side", () => {
		expect(sideOf([23, 0, 0], plane, 3)).toBe("middle");
		expect(sideOf([23.1, 0, 0], plane, 3)).toBe("left");
		expect(sideOf([16.9, 0, 0], plane, 3)).toBe("right");
	});
	test("no vertices, no matter", () => {
		expect(defaultMiddlePlane(new Float64Array(0)).offset).toBe(0);
	});
});
