import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../core/random.ts";
import { MOST_LOOKS, triangulate } from "../../../core/scan/triangulate.ts";
import { share } from "../../support/prove.ts";

type P = readonly [number, number, number];

const area2 = (a: P, b: P, c: P): number => (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);

function cut(points: readonly P[]): [number, number, number][] {
	const out = new Uint32Array(3 * (points.length - 2)).fill(99999);
	const ring = points.map((_, i) => i);
	triangulate(Float64Array.from(points.flat()), ring, points.length, out, 0, { looks: MOST_LOOKS });
	return Array.from({ length: points.length - 2 }, (_, t) => [out[3 * t], out[3 * t + 1], out[3 * t + 2]]);
}

/** Signed area of the polygon in the plane z = 0, by the shoelace sum. */
const polygonArea = (points: readonly P[]): number =>
	points.reduce((sum, p, i) => sum + area2([0, 0, 0], p, points[(i + 1) % points.length]) / 2, 0);

/** Every triangle counter-clockwise, areas adding up: together a cut without gap or overlap. */
function expectWhole(points: readonly P[], triangles: [number, number, number][]): void {
	const areas = triangles.map(([a, b, c]) => area2(points[a], points[b], points[c]) / 2);
	const whole = polygonArea(points);
	for (const a of areas) expect(a).toBeGreaterThanOrEqual(-1e-9 * whole);
	expect(areas.reduce((s, a) => s + a, 0)).toBeCloseTo(whole, 6);
}

/** A star-shaped ring of n corners with radii drawn anew for each. */
function star(seed: number, n: number): P[] {
	const random = seededRandom(seed);
	return Array.from({ length: n }, (_, i) => {
		const angle = (2 * Math.PI * (i + 0.3 * random.next())) / n;
		const r = 1 + 9 * random.next();
		return [r * Math.cos(angle), r * Math.sin(angle), 0];
	});
}

describe("triangulate", () => {
	it("cuts a square from its first corner and a long quadrilateral along its shorter diagonal", () => {
		expect(
			cut([
				[0, 0, 0],
				[1, 0, 0],
				[1, 1, 0],
				[0, 1, 0],
			]),
		).toEqual([
			[0, 1, 2],
			[0, 2, 3],
		]);
		const kite = cut([
			[0, 0, 0],
			[5, -1, 0],
			[10, 0, 0],
			[5, 1, 0],
		]);
		expect(kite.every((t) => t.includes(1) && t.includes(3))).toBe(true);
	});

	it("cuts an arrowhead, whose one diagonal lies outside, along the other", () => {
		const dart: P[] = [
			[0, 0, 0],
			[10, 5, 0],
			[0, 10, 0],
			[4, 5, 0],
		];
		expectWhole(dart, cut(dart));
	});

	it("cuts an L, a comb of 4,000 teeth and a spiral", () => {
		const l: P[] = [
			[0, 0, 0],
			[4, 0, 0],
			[4, 1, 0],
			[1, 1, 0],
			[1, 4, 0],
			[0, 4, 0],
		];
		expectWhole(l, cut(l));
		const comb: P[] = [
			[4000, 10, 0],
			[0, 10, 0],
		];
		for (let i = 0; i < 4000; i++) comb.push([i, 9, 0], [i + 0.2, 0, 0], [i + 0.8, 0, 0], [i + 1, 9, 0]);
		expectWhole(comb, cut(comb));
		const spiral: P[] = [];
		for (let i = 0; i < 400; i++) spiral.push([(5 + i / 20) * Math.cos(i / 15), (5 + i / 20) * Math.sin(i / 15), 0]);
		for (let i = 399; i >= 0; i--)
			spiral.push([(5.8 + i / 20) * Math.cos(i / 15), (5.8 + i / 20) * Math.sin(i / 15), 0]);
		spiral.reverse();
		expectWhole(spiral, cut(spiral));
	});

	it("takes corners in a line and a slit walked both ways", () => {
		const inLine: P[] = [
			[0, 0, 0],
			[1, 0, 0],
			[2, 0, 0],
			[3, 0, 0],
			[3, 3, 0],
			[1.5, 3, 0],
			[0, 3, 0],
		];
		expectWhole(inLine, cut(inLine));
		// A square with a square hole, joined by a slit: the corners at the slit stand twice.
		const slit: P[] = [
			[0, 0, 0],
			[9, 0, 0],
			[9, 9, 0],
			[0, 9, 0],
			[0, 0, 0],
			[3, 3, 0],
			[3, 6, 0],
			[6, 6, 0],
			[6, 3, 0],
			[3, 3, 0],
		];
		expectWhole(slit, cut(slit));
	});

	it(`cuts ${share(1000)} seeded stars in any plane, facing as the polygon faces`, () => {
		for (let seed = 0; seed < share(1000); seed++) {
			const random = seededRandom(seed + 5000);
			const flat = star(seed, 4 + random.below(60));
			// A rigid frame from two random vectors (Gram-Schmidt), and a place far away.
			const draw = (): number[] => [random.normal(), random.normal(), random.normal()];
			const u = draw();
			const lu = Math.hypot(...u);
			for (let k = 0; k < 3; k++) u[k] /= lu;
			const v = draw();
			const along = u[0] * v[0] + u[1] * v[1] + u[2] * v[2];
			for (let k = 0; k < 3; k++) v[k] -= along * u[k];
			const lv = Math.hypot(...v);
			for (let k = 0; k < 3; k++) v[k] /= lv;
			const moved = flat.map(([x, y]): P => [0, 1, 2].map((k) => 1000 * k + x * u[k] + y * v[k]) as unknown as P);
			const triangles = cut(moved);
			expect(triangles.length, `seed ${seed}`).toBe(flat.length - 2);
			expectWhole(flat, triangles);
		}
	});

	it("gives n − 2 triangles between its corners for polygons that cross themselves or have no area", () => {
		for (let seed = 0; seed < share(300); seed++) {
			const random = seededRandom(seed);
			const n = 4 + random.below(200);
			const flatOut = seed % 3 === 0;
			const points = Array.from({ length: n }, (): P => [random.below(5), flatOut ? 0 : random.below(5), 0]);
			const triangles = cut(points);
			for (const t of triangles) for (const v of t) expect(v).toBeLessThan(n);
			const used = new Set(triangles.flat());
			expect(used.size, `seed ${seed}`).toBe(n);
		}
	});
});
