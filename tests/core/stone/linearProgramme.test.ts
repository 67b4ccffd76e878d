import { describe, expect, test } from "vitest";
import { seededRandom } from "../../../core/random.ts";
import { type LinearProgramme, LinearSolver } from "../../../core/stone/linearProgramme.ts";

const programme = (cost: number[], rows: number[][], limits: number[], bound = 1000): LinearProgramme => ({
	cost,
	low: cost.map(() => -bound),
	high: cost.map(() => bound),
	rows: Float64Array.from(rows.flat()),
	limits: Float64Array.from(limits),
	rowCount: rows.length,
});

/** The answer as a value of its own, or null when there is none; `weights` of every row. */
function solve(given: LinearProgramme, start?: ArrayLike<number>) {
	const solver = new LinearSolver(given.cost.length);
	if (!solver.solve(given, start)) return null;
	const weights = new Array<number>(given.rowCount).fill(0);
	solver.basis.forEach((k, i) => {
		if (k >= 0) weights[k] = solver.weights[i];
	});
	return { y: [...solver.y], value: solver.value, weights, solved: solver.solved, basis: [...solver.basis] };
}

describe("by hand", () => {
	test("two unknowns, the corner counted off", () => {
		// max 3x + 2y with x + y ≤ 4, x + 3y ≤ 6, x ≤ 3.5: at (3.5, 0.5).
		const found = solve(
			programme(
				[3, 2],
				[
					[1, 1],
					[1, 3],
					[1, 0],
				],
				[4, 6, 3.5],
			),
		)!;
		expect(found.y).toEqual([3.5, 0.5]);
		expect(found.value).toBe(11.5);
		expect(found.weights).toEqual([2, 0, 1]);
		expect(found.solved).toBe(true);
	});

	test("without rows the bounds of the unknowns answer", () => {
		expect(solve(programme([1, -2, 0], [], [], 5))!.y.map(Math.abs)).toEqual([5, 5, 5]);
	});

	test("limits that contradict each other have no answer", () => {
		expect(
			solve(
				programme(
					[1, 1],
					[
						[1, 0],
						[-1, 0],
					],
					[2, -3],
				),
			),
		).toBeNull();
	});
});

/** The slow twin: the best corner among all choices of as many limits as unknowns. */
function bestCorner({ cost, low, high, rows, limits, rowCount }: LinearProgramme): number {
	const n = cost.length;
	const all: { a: number[]; b: number }[] = [];
	for (let k = 0; k < rowCount; k++) all.push({ a: [...rows.slice(n * k, n * k + n)], b: limits[k] });
	for (let j = 0; j < n; j++) {
		const axis = Array.from(cost, (_, i) => (i === j ? 1 : 0));
		all.push({ a: axis, b: high[j] }, { a: axis.map((x) => -x), b: -low[j] });
	}
	let best = -Infinity;
	const chosen: number[] = [];
	const visit = (from: number): void => {
		if (chosen.length < n) {
			for (let k = from; k < all.length; k++) {
				chosen.push(k);
				visit(k + 1);
				chosen.pop();
			}
			return;
		}
		const m = chosen.map((k) => [...all[k].a, all[k].b]);
		for (let c = 0; c < n; c++) {
			let p = c;
			for (let r = c; r < n; r++) if (Math.abs(m[r][c]) > Math.abs(m[p][c])) p = r;
			if (Math.abs(m[p][c]) < 1e-9) return;
			[m[c], m[p]] = [m[p], m[c]];
			for (let r = 0; r < n; r++) {
				if (r === c) continue;
				const f = m[r][c] / m[c][c];
				for (let k = c; k <= n; k++) m[r][k] -= f * m[c][k];
			}
		}
		const y = m.map((row, i) => row[n] / row[i]);
		if (all.every(({ a, b }) => a.reduce((s, x, i) => s + x * y[i], 0) <= b + 1e-7)) {
			best = Math.max(
				best,
				Array.from(cost).reduce((s, x, i) => s + x * y[i], 0),
			);
		}
	};
	visit(0);
	return best;
}

describe("seeded programmes against every corner", () => {
	for (const n of [2, 3, 4]) {
		test(`${n} unknowns`, () => {
			const random = seededRandom(100 + n);
			let none = 0;
			for (let trial = 0; trial < 60; trial++) {
				const count = 1 + random.below(n === 4 ? 8 : 14);
				// Whole numbers, so that ties and limits through one corner are frequent.
				const draw = (): number => random.below(9) - 4;
				const rows = Array.from({ length: count }, () => Array.from({ length: n }, draw));
				const limits = rows.map(() => random.below(12) - (trial % 4 === 0 ? 9 : 0));
				const given = programme(Array.from({ length: n }, draw), rows, limits, 20);
				const expected = bestCorner(given);
				const found = solve(given);
				if (expected === -Infinity) {
					none++;
					expect(found).toBeNull();
					continue;
				}
				expect(found!.solved).toBe(true);
				expect(found!.value).toBeCloseTo(expected, 7);
				expect(Array.from(given.cost).reduce((s, c, j) => s + c * found!.y[j], 0)).toBeCloseTo(expected, 7);
				for (const w of found!.weights) expect(w).toBeGreaterThanOrEqual(0);
				// From that answer's basis on, other limits give what a start from nothing gives.
				const other = { ...given, limits: given.limits.map((b) => b + random.below(3)) };
				expect(solve(other, found!.basis)!.value).toBeCloseTo(solve(other)!.value, 9);
			}
			expect(none).toBeGreaterThan(0);
		});
	}
});
