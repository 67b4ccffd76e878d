import { describe, expect, test } from "vitest";
import { Front } from "../../../core/pointing/front.ts";
import { seededRandom } from "../../../core/random.ts";
import { buildAdjacency } from "../../../core/surface/adjacency.ts";
import { flat, type Shape, sphere } from "../../support/shapes.ts";

const frontOn = ({ mesh }: Shape, slowness = 1): Front =>
	new Front(mesh, buildAdjacency(mesh), new Float32Array(mesh.positions.length / 3).fill(slowness));

const at = ({ mesh }: Shape, v: number): number[] => [...mesh.positions.slice(3 * v, 3 * v + 3)];

test("a row of three vertices: distances add up along the edges", () => {
	// 0 ─1─ 1 ─2─ 2, as triangles without area.
	const mesh = {
		positions: new Float64Array([0, 0, 0, 1, 0, 0, 3, 0, 0]),
		triangles: new Uint32Array([0, 1, 1, 1, 2, 2]),
	};
	const front = new Front(mesh, buildAdjacency(mesh), new Float32Array(3).fill(2));
	front.seed(0, 0, 7);
	front.spreadAtOnce();
	expect([...front.cost]).toEqual([0, 2, 6]);
	expect([...front.label]).toEqual([7, 7, 7]);
});

test("on a flat the distance is the straight one: never shorter, at most 6 % longer past a few edges, 2 % on the mean", () => {
	const shape = flat(40, { edge: 1, seed: 4 });
	const front = frontOn(shape);
	const middle = [...front.cost.keys()].reduce(
		(b, v) => (Math.hypot(...at(shape, v)) < Math.hypot(...at(shape, b)) ? v : b),
		0,
	);
	front.seed(middle, 0, 0);
	front.spreadAtOnce();
	const from = at(shape, middle);
	const over: number[] = [];
	for (const [v, d] of front.cost.entries()) {
		const straight = Math.hypot(...at(shape, v).map((x, k) => x - from[k]));
		expect(d).toBeGreaterThan(straight * (1 - 1e-9) - 1e-9);
		if (straight > 5) over.push(d / straight - 1);
	}
	expect(Math.max(...over)).toBeLessThan(0.06);
	expect(over.reduce((x, y) => x + y) / over.length).toBeLessThan(0.02);
});

test("on a sphere the distance is the great circle's, within 6 %, 2 % on the mean", () => {
	const shape = sphere(30, { edge: 1.2 });
	const front = frontOn(shape);
	front.seed(0, 0, 0);
	front.spreadAtOnce();
	const pole = at(shape, 0);
	const off: number[] = [];
	for (const [v, d] of front.cost.entries()) {
		const cosine = at(shape, v).reduce((sum, x, k) => sum + x * pole[k], 0) / 900;
		const arc = 30 * Math.acos(Math.max(-1, Math.min(1, cosine)));
		if (arc > 8) off.push(Math.abs(d / arc - 1));
	}
	expect(Math.max(...off)).toBeLessThan(0.06);
	expect(off.reduce((x, y) => x + y) / off.length).toBeLessThan(0.02);
});

describe("seeds that come and go leave the field as if they had always, or never, been there (seed 8)", () => {
	const shape = sphere(20, { edge: 1.5, noise: 0.05, seed: 8 });
	const random = seededRandom(8);
	const n = shape.k1.length;
	const seeds = Array.from({ length: 12 }, () => random.below(n));
	const spread = (list: readonly number[]): Front => {
		const front = frontOn(shape);
		list.forEach((v, i) => {
			front.seed(v, 0, i);
		});
		front.spreadAtOnce();
		return front;
	};
	const whole = spread(seeds);

	test("added one after the other", () => {
		const front = frontOn(shape);
		seeds.forEach((v, i) => {
			front.seed(v, 0, i);
			front.spreadAtOnce();
		});
		let other = 0;
		for (let v = 0; v < n; v++) {
			expect(Math.abs(front.cost[v] - whole.cost[v])).toBeLessThan(0.5);
			if (front.label[v] !== whole.label[v]) other++;
		}
		// Ways across triangles are taken within one seed's cell, so a vertex between two cells may fall either way.
		expect(other / n).toBeLessThan(0.02);
	});

	test("released again", () => {
		const front = spread(seeds);
		front.release([10, 11]);
		front.spreadAtOnce();
		const without = spread(seeds.slice(0, 10));
		let other = 0;
		for (let v = 0; v < n; v++) {
			expect(front.label[v]).toBeGreaterThanOrEqual(0);
			expect(front.label[v]).toBeLessThan(10);
			expect(Math.abs(front.cost[v] - without.cost[v])).toBeLessThan(0.5);
			if (front.label[v] !== without.label[v]) other++;
		}
		expect(other / n).toBeLessThan(0.02);
	});
});

test("ground that no seed reaches stays without one", () => {
	const mesh = {
		positions: new Float64Array([0, 0, 0, 1, 0, 0, 0, 1, 0, 9, 0, 0, 10, 0, 0, 9, 1, 0]),
		triangles: new Uint32Array([0, 1, 2, 3, 4, 5]),
	};
	const front = new Front(mesh, buildAdjacency(mesh), new Float32Array(6).fill(1));
	front.seed(0, 0, 0);
	front.spreadAtOnce();
	expect([...front.label]).toEqual([0, 0, 0, -1, -1, -1]);
	expect(front.cost[4]).toBe(Number.POSITIVE_INFINITY);
});
