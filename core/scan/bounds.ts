/** Bounds of points in flat arrays. */

/** Widens the box low … high (x, y, z each) by the points whose numbers are positions[from, to). */
export function widen(positions: Float64Array, from: number, to: number, low: number[], high: number[]): void {
	let [x0, y0, z0] = low;
	let [x1, y1, z1] = high;
	for (let i = from; i < to; i += 3) {
		const x = positions[i];
		const y = positions[i + 1];
		const z = positions[i + 2];
		if (x < x0) x0 = x;
		if (x > x1) x1 = x;
		if (y < y0) y0 = y;
		if (y > y1) y1 = y;
		if (z < z0) z0 = z;
		if (z > z1) z1 = z;
	}
	low[0] = x0;
	low[1] = y0;
	low[2] = z0;
	high[0] = x1;
	high[1] = y1;
	high[2] = z1;
}
