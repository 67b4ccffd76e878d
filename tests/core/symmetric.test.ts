import { EigenvalueDecomposition, Matrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { seededRandom } from "../../core/random.ts";
import { symmetricEigen } from "../../core/symmetric.ts";

describe("eigenvalues of small symmetric matrices", () => {
	it("by hand: 2 and 4 along the diagonals of a square", () => {
		const { values, vectors } = symmetricEigen([
			[3, 1],
			[1, 3],
		]);
		expect(values[0]).toBeCloseTo(4, 14);
		expect(values[1]).toBeCloseTo(2, 14);
		expect(Math.abs(vectors[0][0] - vectors[0][1])).toBeLessThan(1e-14);
	});

	it.each([2, 3, 4, 6])("of %d rows agree with a general-purpose library, seed 5", (n) => {
		const random = seededRandom(5);
		for (let trial = 0; trial < 50; trial++) {
			const a = Array.from({ length: n }, () => new Array<number>(n).fill(0));
			for (let i = 0; i < n; i++)
				for (let j = i; j < n; j++) a[i][j] = a[j][i] = random.normal() * 10 ** random.below(4);
			const { values, vectors } = symmetricEigen(a);
			const outside = new EigenvalueDecomposition(new Matrix(a)).realEigenvalues.sort((x, y) => y - x);
			const size = Math.max(...outside.map(Math.abs));
			values.forEach((value, k) => {
				expect(Math.abs(value - outside[k])).toBeLessThan(1e-11 * size);
				// A v = λ v, and |v| = 1.
				const v = vectors[k];
				expect(v.reduce((sum, x) => sum + x * x, 0)).toBeCloseTo(1, 12);
				a.forEach((row, i) => {
					expect(Math.abs(row.reduce((sum, x, j) => sum + x * v[j], 0) - value * v[i])).toBeLessThan(1e-11 * size);
				});
			});
		}
	});

	it("of a matrix that is diagonal already, ties and noughts included", () => {
		expect(
			symmetricEigen([
				[0, 0, 0],
				[0, 2, 0],
				[0, 0, 2],
			]).values,
		).toEqual([2, 2, 0]);
	});
});
