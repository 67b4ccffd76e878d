/** Measures of a triangle given by three vertices of a mesh. */

/** Twice the area of a triangle over its longest edge squared, at and below which it counts as having no area. */
export const NO_AREA = 1e-12;

/**
 * (b − a) × (c − a) of the triangle of three vertices, into `n`: square to it, outwards where it runs counter-clockwise seen
 * from outside, and as long as twice its area, which is returned.
 */
export function crossInto(n: Float64Array, p: Float64Array, a: number, b: number, c: number): number {
	const ux = p[3 * b] - p[3 * a];
	const uy = p[3 * b + 1] - p[3 * a + 1];
	const uz = p[3 * b + 2] - p[3 * a + 2];
	const vx = p[3 * c] - p[3 * a];
	const vy = p[3 * c + 1] - p[3 * a + 1];
	const vz = p[3 * c + 2] - p[3 * a + 2];
	const x = uy * vz - uz * vy;
	const y = uz * vx - ux * vz;
	const z = ux * vy - uy * vx;
	n[0] = x;
	n[1] = y;
	n[2] = z;
	return Math.sqrt(x * x + y * y + z * z);
}

const scratch = new Float64Array(3);

export const areaBetween = (p: Float64Array, a: number, b: number, c: number): number =>
	crossInto(scratch, p, a, b, c) / 2;

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

/** Cotangent of the angle at o between the ways to a and b; not finite where they run along one line. */
export function cotangent(p: Float64Array, o: number, a: number, b: number): number {
	const ax = p[3 * a] - p[3 * o];
	const ay = p[3 * a + 1] - p[3 * o + 1];
	const az = p[3 * a + 2] - p[3 * o + 2];
	const bx = p[3 * b] - p[3 * o];
	const by = p[3 * b + 1] - p[3 * o + 1];
	const bz = p[3 * b + 2] - p[3 * o + 2];
	const nx = ay * bz - az * by;
	const ny = az * bx - ax * bz;
	const nz = ax * by - ay * bx;
	return (ax * bx + ay * by + az * bz) / Math.sqrt(nx * nx + ny * ny + nz * nz);
}
