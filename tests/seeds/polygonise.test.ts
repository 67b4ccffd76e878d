import { describe, expect, it } from "vitest";
import { finish } from "../../core/job.ts";
import { seededRandom } from "../../core/random.ts";
import { type Box, ellipsoid, type Field } from "../../seeds/field.ts";
import { polygonise } from "../../seeds/polygonise.ts";
import { share } from "../support/prove.ts";
import { shape } from "./shape.ts";

const BOX: Box = [-60, -60, -60, 60, 60, 60];
const sphere: Field = (x, y, z) => Math.sqrt(x * x + y * y + z * z) - 50;

describe("polygonise", () => {
	it("makes one closed sphere whose vertices lie on it", () => {
		const mesh = finish(polygonise(sphere, { box: BOX, step: 3, inside: [0, 0, 0] }));
		const found = shape(mesh);
		expect(found).toMatchObject({
			openEdges: 0,
			crowdedEdges: 0,
			flippedEdges: 0,
			shells: 1,
			pinchedVertices: 0,
			euler: 2,
		});
		// An inscribed polyhedron with edges of 3 mm on R 50 lacks about h²/(4R²) of the volume.
		expect(found.volume / ((4 / 3) * Math.PI * 50 ** 3)).toBeGreaterThan(0.998);
		expect(found.volume / ((4 / 3) * Math.PI * 50 ** 3)).toBeLessThan(1);
		let worst = 0;
		for (let v = 0; v < mesh.positions.length; v += 3) {
			worst = Math.max(
				worst,
				Math.abs(sphere(...([...mesh.positions.subarray(v, v + 3)] as [number, number, number]))),
			);
		}
		expect(worst).toBeLessThan(0.02);
	});

	it("leaves the cut face open: half a sphere with one rim in its plane", () => {
		const mesh = finish(polygonise(sphere, { box: BOX, step: 3, inside: [0, -10, 0], openAtY: 0 }));
		const found = shape(mesh);
		expect(found).toMatchObject({ rims: 1, crowdedEdges: 0, flippedEdges: 0, shells: 1, pinchedVertices: 0, euler: 1 });
		expect(found.high[1]).toBe(0);
		expect(found.volume / ((2 / 3) * Math.PI * 50 ** 3)).toBeCloseTo(1, 2);
	});

	it("follows one piece only", () => {
		const two: Field = (x, y, z) => Math.min(ellipsoid(x + 30, y, z, 20, 20, 20), ellipsoid(x - 30, y, z, 20, 20, 20));
		const found = shape(finish(polygonise(two, { box: BOX, step: 2, inside: [30, 0, 0] })));
		expect(found.shells).toBe(1);
		expect(found.low[0]).toBeGreaterThan(9);
	});

	it("says so when the box is too small", () => {
		const tight: Box = [-40, -60, -60, 60, 60, 60];
		expect(() => finish(polygonise(sphere, { box: tight, step: 3, inside: [0, 0, 0] }))).toThrow("cuts the surface");
	});

	// Coarse grids on rough ground are full of cells that can be read in two ways.
	for (let seed = 1; seed <= share(80); seed++) {
		it(`keeps every edge and vertex clean on rough ground, seed ${seed}`, () => {
			const random = seededRandom(seed);
			const waves = Array.from({ length: 24 }, () => [0, 1, 2, 3].map(() => random.next() * 0.9 - 0.45));
			const rough: Field = (x, y, z) =>
				0.3 * sphere(x, y, z) +
				waves.reduce((sum, [a, b, c, d]) => sum + 2.4 * Math.sin(a * x + b * y + c * z + 7 * d), 0);
			const box: Box = [-170, -170, -170, 170, 170, 170];
			const found = shape(finish(polygonise(rough, { box, step: 4, inside: deepest(rough) })));
			expect(found).toMatchObject({ openEdges: 0, crowdedEdges: 0, flippedEdges: 0, shells: 1, pinchedVertices: 0 });
			expect(found.euler).toBeLessThanOrEqual(2);
		});
	}
});

/** The place within 24 mm of the origin where the field is lowest. */
function deepest(field: Field): [number, number, number] {
	let best: [number, number, number] = [0, 0, 0];
	for (let x = -24; x <= 24; x += 4)
		for (let y = -24; y <= 24; y += 4)
			for (let z = -24; z <= 24; z += 4) if (field(x, y, z) < field(...best)) best = [x, y, z];
	return best;
}
