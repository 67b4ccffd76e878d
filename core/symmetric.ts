/**
 * Eigenvalues and eigenvectors of small symmetric matrices by cyclic Jacobi rotations (Jacobi 1846; Golub and Van Loan,
 * Matrix Computations, section 8.5), with + − × ÷ √ alone, so that every machine gets the same bytes.
 */

/** More sweeps than matrices of this size ever need: convergence is quadratic after three or four. */
const MOST_SWEEPS = 40;

export interface Eigen {
	/** Greatest first. */
	readonly values: readonly number[];
	/** Unit vectors, `vectors[k]` for `values[k]`. */
	readonly vectors: readonly (readonly number[])[];
}

/** Of the symmetric n × n matrix with the rows `a`; only its upper triangle is read. */
export function symmetricEigen(a: readonly (readonly number[])[]): Eigen {
	const n = a.length;
	const m = a.map((row, i) => row.map((_, j) => (j < i ? a[j][i] : a[i][j])));
	const v = a.map((_, i) => a.map((__, j) => (i === j ? 1 : 0)));
	for (let sweep = 0; sweep < MOST_SWEEPS; sweep++) {
		let turned = false;
		for (let p = 0; p < n; p++)
			for (let q = p + 1; q < n; q++) {
				// What does not change a digit of the diagonal is nothing.
				if (Math.abs(m[p][q]) <= 1e-17 * (Math.abs(m[p][p]) + Math.abs(m[q][q]))) continue;
				rotate(m, v, p, q);
				turned = true;
			}
		if (!turned) break;
	}
	const order = m.map((_, i) => i).sort((i, j) => m[j][j] - m[i][i] || i - j);
	return { values: order.map((i) => m[i][i]), vectors: order.map((i) => v.map((row) => row[i])) };
}

/** The rotation of rows and columns p and q that makes m[p][q] nothing. */
function rotate(m: number[][], v: number[][], p: number, q: number): void {
	const theta = (m[q][q] - m[p][p]) / (2 * m[p][q]);
	const t = (theta >= 0 ? 1 : -1) / (Math.abs(theta) + Math.sqrt(theta * theta + 1));
	const c = 1 / Math.sqrt(t * t + 1);
	const s = t * c;
	const off = m[p][q];
	m[p][p] -= t * off;
	m[q][q] += t * off;
	m[p][q] = m[q][p] = 0;
	for (let k = 0; k < m.length; k++) {
		if (k !== p && k !== q) {
			const [kp, kq] = [m[k][p], m[k][q]];
			m[k][p] = m[p][k] = c * kp - s * kq;
			m[k][q] = m[q][k] = s * kp + c * kq;
		}
		const [vp, vq] = [v[k][p], v[k][q]];
		v[k][p] = c * vp - s * vq;
		v[k][q] = s * vp + c * vq;
	}
}
