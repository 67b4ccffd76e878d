/**
 * Small dense linear programmes: a handful of unknowns, any number of limits.
 *
 * The dual simplex method (Lemke 1954) on the limits: a basis of as many limits as unknowns, always optimal for the limits
 * in it, takes in the most violated limit until none is left. It starts from the bounds of the unknowns, so that it needs
 * no first phase, and whatever it holds when it stops is a proved upper bound.
 */

/** Maximise cost · y subject to rows[k] · y ≤ limits[k] and low ≤ y ≤ high (all finite). */
export interface LinearProgramme {
	readonly cost: ArrayLike<number>;
	readonly low: ArrayLike<number>;
	readonly high: ArrayLike<number>;
	/** Coefficients, one row after another, each as long as `cost`. */
	readonly rows: Float64Array;
	readonly limits: Float64Array;
	/** How many rows of `rows` count. */
	readonly rowCount: number;
}

/** A limit that is violated by less than this share of the size of the unknowns is kept. */
const VIOLATION = 1e-12;

/** Solves programmes of n unknowns one after another in the same memory; read an answer before asking the next. */
export class LinearSolver {
	/** The answer. */
	readonly y: Float64Array;
	/** cost · y; an upper bound of it when `solved` is false. */
	value = 0;
	/** The limits that hold the answer: k ≥ 0 is row k, −1 − j is y_j ≤ high_j and −1 − n − j is y_j ≥ low_j. */
	readonly basis: Int32Array;
	/** Their weights (≥ 0) in the proof of `value`: Σ weight · row = cost, Σ weight · limit = value. */
	readonly weights: Float64Array;
	/** False when rounding or the limit of steps stopped it early. */
	solved = false;

	private readonly n: number;
	/** Inverse of the matrix whose rows are the limits of the basis; column i belongs to limit i. */
	private readonly inverse: Float64Array;
	private readonly row: Float64Array;
	private readonly alpha: Float64Array;
	private readonly square: Float64Array;

	constructor(n: number) {
		this.n = n;
		this.y = new Float64Array(n);
		this.basis = new Int32Array(n);
		this.weights = new Float64Array(n);
		this.inverse = new Float64Array(n * n);
		this.row = new Float64Array(n);
		this.alpha = new Float64Array(n);
		this.square = new Float64Array(2 * n * n);
	}

	/**
	 * Solves a programme; false when no y keeps all limits. `start` is the basis of an earlier answer to a programme with the
	 * same cost and rows, whatever its limits were and whether or not more rows have come: then few steps are left to do.
	 */
	solve(programme: LinearProgramme, start?: ArrayLike<number>): boolean {
		const { cost, low, high, rows, limits, rowCount } = programme;
		const { n, y, basis, weights, inverse, row, alpha } = this;
		if (start === undefined || !this.startFrom(programme, start)) {
			inverse.fill(0);
			for (let j = 0; j < n; j++) {
				basis[j] = cost[j] >= 0 ? -1 - j : -1 - n - j;
				inverse[n * j + j] = cost[j] >= 0 ? 1 : -1;
				weights[j] = Math.abs(cost[j]);
			}
		}
		let size = 1;
		for (let j = 0; j < n; j++) size = Math.max(size, Math.abs(low[j]), Math.abs(high[j]));
		const enough = VIOLATION * size;

		const maxSteps = 60 * n + 2 * rowCount;
		// Past this many steps it may be going round in a circle on ties; the lowest index breaks any circle (Bland 1977).
		const patience = 20 * n + 100;
		this.solved = false;
		for (let step = 0; step < maxSteps; step++) {
			y.fill(0);
			for (let i = 0; i < n; i++) {
				const b = limitOf(programme, n, basis[i]);
				if (b !== 0) for (let j = 0; j < n; j++) y[j] += inverse[n * j + i] * b;
			}
			let entering = 0;
			let any = false;
			let worst = enough;
			const anyWillDo = step >= patience;
			for (let k = 0; k < rowCount && !(anyWillDo && any); k++) {
				let excess = -limits[k];
				const at = k * n;
				for (let j = 0; j < n; j++) excess += rows[at + j] * y[j];
				if (excess > worst) {
					worst = excess;
					entering = k;
					any = true;
				}
			}
			for (let j = 0; j < n && !(anyWillDo && any); j++) {
				const excess = Math.max(y[j] - high[j], low[j] - y[j]);
				if (excess > worst) {
					worst = excess;
					entering = y[j] > high[j] ? -1 - j : -1 - n - j;
					any = true;
				}
			}
			if (!any) {
				this.solved = true;
				break;
			}
			coefficients(programme, n, entering, row);
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
				const ratio = weights[i] / alpha[i];
				const firstOfTie = anyWillDo ? basis[i] < basis[leaving] : alpha[i] > alpha[leaving];
				if (leaving < 0 || ratio < least || (ratio === least && firstOfTie)) {
					least = ratio;
					leaving = i;
				}
			}
			if (leaving < 0) return false;
			for (let i = 0; i < n; i++) weights[i] = Math.max(0, weights[i] - least * alpha[i]);
			weights[leaving] = least;
			const pivot = alpha[leaving];
			for (let j = 0; j < n; j++) {
				const at = n * j;
				const p = inverse[at + leaving] / pivot;
				for (let i = 0; i < n; i++) inverse[at + i] -= alpha[i] * p;
				inverse[at + leaving] = p;
			}
			basis[leaving] = entering;
		}
		this.value = 0;
		for (let i = 0; i < n; i++) this.value += weights[i] * limitOf(programme, n, basis[i]);
		return true;
	}

	/** Takes a basis over, with its inverse by elimination; false when its limits do not span or do not carry the cost. */
	private startFrom(programme: LinearProgramme, start: ArrayLike<number>): boolean {
		const { n, basis, weights, inverse, row, square } = this;
		const width = 2 * n;
		for (let i = 0; i < n; i++) {
			basis[i] = start[i];
			coefficients(programme, n, start[i], row);
			for (let j = 0; j < n; j++) {
				square[width * i + j] = row[j];
				square[width * i + n + j] = i === j ? 1 : 0;
			}
		}
		for (let c = 0; c < n; c++) {
			let p = c;
			for (let r = c + 1; r < n; r++) if (Math.abs(square[width * r + c]) > Math.abs(square[width * p + c])) p = r;
			const pivot = square[width * p + c];
			if (Math.abs(pivot) < 1e-9) return false;
			for (let k = c; k < width; k++) {
				const moved = square[width * p + k];
				square[width * p + k] = square[width * c + k];
				square[width * c + k] = moved / pivot;
			}
			for (let r = 0; r < n; r++) {
				const f = square[width * r + c];
				if (r === c || f === 0) continue;
				for (let k = c; k < width; k++) square[width * r + k] -= f * square[width * c + k];
			}
		}
		for (let i = 0; i < n; i++) {
			let w = 0;
			for (let j = 0; j < n; j++) {
				inverse[n * j + i] = square[width * j + n + i];
				w += programme.cost[j] * inverse[n * j + i];
			}
			if (w < -1e-9) return false;
			weights[i] = Math.max(0, w);
		}
		return true;
	}
}

function limitOf({ limits, low, high }: LinearProgramme, n: number, k: number): number {
	if (k >= 0) return limits[k];
	return k >= -n ? high[-1 - k] : -low[-1 - n - k];
}

function coefficients({ rows }: LinearProgramme, n: number, k: number, row: Float64Array): void {
	if (k >= 0) {
		for (let j = 0; j < n; j++) row[j] = rows[k * n + j];
		return;
	}
	row.fill(0);
	if (k >= -n) row[-1 - k] = 1;
	else row[-1 - n - k] = -1;
}
