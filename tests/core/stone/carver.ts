/**
 * Whether a rectangle p × q fits into a rectangle a × b when it may be turned, in closed form. W. B. Carver, solution of E1225, Amer. Math. Monthly 64 (1957);
 * J. E. Wetzel, Rectangles in Rectangles, Math. Magazine 73 (2000). The guard q ≤ b is needed: without it a square would fit
 * into a smaller one.
 */
export function carverFits(sides: readonly [number, number], into: readonly [number, number]): boolean {
	const [p, q] = [Math.max(...sides), Math.min(...sides)];
	const [a, b] = [Math.max(...into), Math.min(...into)];
	if (p <= a && q <= b) return true;
	if (!(p > a && q <= b)) return false;
	return b >= leastWidth(p, q, a);
}

/** The least b that takes p × q when p > a: (2pqa + (p² − q²)√(p² + q² − a²)) ÷ (p² + q²). */
export const leastWidth = (p: number, q: number, a: number): number =>
	(2 * p * q * a + (p * p - q * q) * Math.sqrt(p * p + q * q - a * a)) / (p * p + q * q);
