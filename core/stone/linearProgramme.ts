/**
 * Small dense linear programmes: a handful of unknowns, any number of limits.
 *
 * The dual simplex method (Lemke 1954) on the limits: a basis of as many limits as unknowns, always optimal for the limits
 * in it, takes in the most violated limit until none is left. It starts from the bounds of the unknowns, so that it needs
 * no first phase, and whatever it holds when it stops is a proved upper bound.
 */

/** Maximise cost · y subject to rows[k] · y ≤ limits[k] and low ≤ y ≤ high (all finite). */
export interface LinearProgramme {
	readonly cost: readonly number[];
	readonly low: readonly number[];
	readonly high: readonly number[];
	/** Coefficients, one row after another, each as long as `cost`. */
	readonly rows: Float64Array;
	readonly limits: Float64Array;
	/** How many rows of `rows` count. */
	readonly rowCount: number;
}

export interface LinearSolution {
	readonly y: Float64Array;
	readonly value: number;
	/** Weight of each row in the proof of `value` (≥ 0): Σ weight·row + weights of the bounds = cost. */
	readonly weights: Float64Array;
	/** False when rounding or the limit of steps stopped it early; `value` is an upper bound all the same. */
	readonly solved: boolean;
}

const VIOLATION = 1e-11;

/** Solves a linear programme; null when no y keeps all limits. */
export function solveLinearProgramme(programme: LinearProgramme): LinearSolution | null {
	const { cost, low, high, rows, limits, rowCount } = programme;
	const n = cost.length;
	/** Limits in the basis: k < rowCount is row k, then y_j ≤ high_j, then −y_j ≤ −low_j. */
	const basis = Int32Array.from({ length: n }, (_, j) => rowCount + (cost[j] >= 0 ? j : n + j));
	/** Inverse of the matrix whose rows are the limits of the basis; column i belongs to limit i. */
	const inverse = new Float64Array(n * n);
	for (let j = 0; j < n; j++) inverse[n * j + j] = cost[j] >= 0 ? 1 : -1;
	const lambda = Float64Array.from(cost, Math.abs);
	const y = new Float64Array(n);
	const row = new Float64Array(n);
	const alpha = new Float64Array(n);
	const limitOf = (k: number): number =>
		k < rowCount ? limits[k] : k < rowCount + n ? high[k - rowCount] : -low[k - rowCount - n];
	let size = 1;
	for (let j = 0; j < n; j++) size = Math.max(size, Math.abs(low[j]), Math.abs(high[j]));

	const maxSteps = 60 * n + 2 * rowCount;
	// Past this many steps it may be going round in a circle on ties; the lowest index breaks any circle (Bland 1977).
	const patience = 20 * n + 100;
	let solved = false;
	for (let step = 0; step < maxSteps; step++) {
		y.fill(0);
		for (let i = 0; i < n; i++) {
			const b = limitOf(basis[i]);
			if (b !== 0) for (let j = 0; j < n; j++) y[j] += inverse[n * j + i] * b;
		}
		let entering = -1;
		let worst = VIOLATION * size;
		const anyWillDo = step >= patience;
		for (let k = 0; k < rowCount && !(anyWillDo && entering >= 0); k++) {
			let excess = -limits[k];
			const at = k * n;
			for (let j = 0; j < n; j++) excess += rows[at + j] * y[j];
			if (excess > worst) {
				worst = excess;
				entering = k;
			}
		}
		for (let j = 0; j < n && !(anyWillDo && entering >= 0); j++) {
			const excess = Math.max(y[j] - high[j], low[j] - y[j]);
			if (excess > worst) {
				worst = excess;
				entering = rowCount + (y[j] > high[j] ? j : n + j);
			}
		}
		if (entering < 0) {
			solved = true;
			break;
		}
		if (entering < rowCount) for (let j = 0; j < n; j++) row[j] = rows[entering * n + j];
		else {
			row.fill(0);
			const j = entering - rowCount;
			if (j < n) row[j] = 1;
			else row[j - n] = -1;
		}
		let scale = 0;
		for (let i = 0; i < n; i++) {
			let s = 0;
			for (let j = 0; j < n; j++) s += row[j] * inverse[n * j + i];
			alpha[i] = s;
			scale = Math.max(scale, Math.abs(s));
		}
		let leaving = -1;
		let least = 0;
		for (let i = 0; i < n; i++) {
			if (!(alpha[i] > 1e-12 * scale)) continue;
			const ratio = lambda[i] / alpha[i];
			const tie = leaving >= 0 && ratio === least;
			if (
				leaving < 0 ||
				ratio < least ||
				(tie && (anyWillDo ? basis[i] < basis[leaving] : alpha[i] > alpha[leaving]))
			) {
				least = ratio;
				leaving = i;
			}
		}
		if (leaving < 0) return null;
		for (let i = 0; i < n; i++) lambda[i] = Math.max(0, lambda[i] - least * alpha[i]);
		lambda[leaving] = least;
		const pivot = alpha[leaving];
		for (let j = 0; j < n; j++) {
			const at = n * j;
			const p = inverse[at + leaving] / pivot;
			for (let i = 0; i < n; i++) inverse[at + i] -= alpha[i] * p;
			inverse[at + leaving] = p;
		}
		basis[leaving] = entering;
	}
	let value = 0;
	const weights = new Float64Array(rowCount);
	for (let i = 0; i < n; i++) {
		value += lambda[i] * limitOf(basis[i]);
		if (basis[i] < rowCount) weights[basis[i]] = lambda[i];
	}
	return { y, value, weights, solved };
}
