/** Measures of a triangle given by three vertices of a mesh. */

/** Twice the area of a triangle over its longest edge squared, at and below which it counts as having no area. */
export const NO_AREA = 1e-12;

export function areaBetween(p: Float64Array, a: number, b: number, c: number): number {
	const ux = p[3 * b] - p[3 * a];
	const uy = p[3 * b + 1] - p[3 * a + 1];
	const uz = p[3 * b + 2] - p[3 * a + 2];
	const vx = p[3 * c] - p[3 * a];
	const vy = p[3 * c + 1] - p[3 * a + 1];
	const vz = p[3 * c + 2] - p[3 * a + 2];
	const nx = uy * vz - uz * vy;
	const ny = uz * vx - ux * vz;
	const nz = ux * vy - uy * vx;
	return Math.sqrt(nx * nx + ny * ny + nz * nz) / 2;
}

/** The square of the distance between two vertices. */
export function distanceSquared(p: Float64Array, a: number, b: number): number {
	const x = p[3 * b] - p[3 * a];
	const y = p[3 * b + 1] - p[3 * a + 1];
	const z = p[3 * b + 2] - p[3 * a + 2];
	return x * x + y * y + z * z;
}

/** Whether a vertex stands twice or the three lie in a line. */
export function hasNoArea(p: Float64Array, a: number, b: number, c: number): boolean {
	const longest = Math.max(distanceSquared(p, a, b), distanceSquared(p, b, c), distanceSquared(p, c, a));
	return 2 * areaBetween(p, a, b, c) <= NO_AREA * longest;
}
