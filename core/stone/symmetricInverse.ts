/** The inverse of a small symmetric positive matrix (row-major n × n), by Cholesky's way; null when it is not positive. */
export function symmetricInverse(matrix: Float64Array, n: number): Float64Array | null {
	const lower = new Float64Array(n * n);
	let largest = 0;
	for (let i = 0; i < n; i++) largest = Math.max(largest, matrix[n * i + i]);
	for (let i = 0; i < n; i++) {
		for (let j = 0; j <= i; j++) {
			let s = matrix[n * i + j];
			for (let k = 0; k < j; k++) s -= lower[n * i + k] * lower[n * j + k];
			if (i === j) {
				if (!(s > 1e-14 * largest)) return null;
				lower[n * i + i] = Math.sqrt(s);
			} else lower[n * i + j] = s / lower[n * j + j];
		}
	}
	const inverse = new Float64Array(n * n);
	const column = new Float64Array(n);
	for (let c = 0; c < n; c++) {
		for (let i = 0; i < n; i++) {
			let s = i === c ? 1 : 0;
			for (let k = 0; k < i; k++) s -= lower[n * i + k] * column[k];
			column[i] = s / lower[n * i + i];
		}
		for (let i = n - 1; i >= 0; i--) {
			let s = column[i];
			for (let k = i + 1; k < n; k++) s -= lower[n * k + i] * inverse[n * k + c];
			inverse[n * i + c] = s / lower[n * i + i];
		}
	}
	return inverse;
}
