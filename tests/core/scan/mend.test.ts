import { describe, expect, it } from "vitest";
import { finish } from "../../../core/job.ts";
import { seededRandom } from "../../../core/random.ts";
import { examine, type ScanHealth } from "../../../core/scan/health.ts";
import { type MendChoices, type Mended, mend } from "../../../core/scan/mend.ts";
import type { TriangleMesh } from "../../../core/scan/mesh.ts";
import { weldWithin } from "../../../core/scan/weldWithin.ts";
import { dragonMesh } from "../../support/dragonMesh.ts";
import { share } from "../../support/prove.ts";
import { box, brokenMesh, meshFrom, together, torus } from "./brokenMeshes.ts";
import { meshOf, squareFigure } from "./scanWriters.ts";

const look = (mesh: TriangleMesh): ScanHealth => finish(examine(mesh));
const NO_MENDING: MendChoices = {
	weldWithin: 0,
	dropArealess: false,
	dropDoubled: false,
	keepShells: "all",
	faceOutward: false,
	closeHolesUpTo: 0,
};
const mended = (mesh: TriangleMesh, choices: Partial<MendChoices>): Mended =>
	finish(mend(mesh, { ...NO_MENDING, ...choices }));

/** Every triangle with vertices of its own, each shaken by at most `shake` a coordinate. */
function soup(mesh: TriangleMesh, shake: number, seed: number): TriangleMesh {
	const random = seededRandom(seed);
	const positions = new Float64Array(3 * mesh.triangles.length);
	mesh.triangles.forEach((v, i) => {
		for (let k = 0; k < 3; k++) positions[3 * i + k] = mesh.positions[3 * v + k] + shake * (2 * random.next() - 1);
	});
	return { positions, triangles: mesh.triangles.map((_, i) => i) };
}

const BOX = box([0, 0, 0], [10, 10, 10]);

describe("mend", () => {
	it("changes nothing when nothing is chosen, and never the mesh handed in", () => {
		const mesh = meshFrom(BOX);
		expect(mended(mesh, {}).mesh).toBe(mesh);
		for (let seed = 0; seed < 30; seed++) {
			const broken = brokenMesh(seed);
			const copy = { positions: broken.positions.slice(), triangles: broken.triangles.slice() };
			mended(broken, { weldWithin: 1, dropArealess: true, dropDoubled: true, faceOutward: true, closeHolesUpTo: 1e6 });
			expect(broken).toEqual(copy);
		}
	});

	it("welds a soup of shaken triangles within the tolerance, and not beyond", () => {
		const figure = meshOf(squareFigure(4));
		const torn = soup(figure, 0.1, 3);
		const whole = mended(torn, { weldWithin: 0.4 });
		expect(whole.steps).toEqual([
			{
				choice: "weldWithin",
				before: figure.triangles.length,
				after: figure.positions.length / 3,
				trianglesBefore: figure.triangles.length / 3,
				trianglesAfter: figure.triangles.length / 3,
			},
		]);
		expect(look(whole.mesh).openEdges).toBe(0);
		expect(look(mended(torn, { weldWithin: 1e-4 }).mesh).openEdges).toBe(figure.triangles.length);
	});

	it("drops what the welding draws together, and only that", () => {
		const sliver = meshFrom({ points: [...BOX.points, [10.2, 0, 0]], faces: [...BOX.faces, [1, 8, 3], [5, 5, 7]] });
		const done = mended(sliver, { weldWithin: 0.5 });
		expect(done.mesh.triangles.length / 3).toBe(13);
		expect(look(done.mesh).degenerateTriangles).toBe(1);
	});

	it("drops triangles without area, and leaves a closed box closed", () => {
		const flat = meshFrom({ points: [...BOX.points, [5, 0, 0]], faces: [...BOX.faces, [0, 0, 5], [0, 8, 1]] });
		const { mesh, steps } = mended(flat, { dropArealess: true });
		expect(steps[0]).toMatchObject({ before: 2, after: 0, trianglesBefore: 14, trianglesAfter: 12 });
		expect(look(mesh)).toMatchObject({ weldedVertices: 8, closed: true, volume: 1000 });
	});

	it("keeps one of triangles doubled the same way", () => {
		const { mesh, steps } = mended(
			meshFrom({ points: BOX.points, faces: [BOX.faces[4], ...BOX.faces, BOX.faces[0]] }),
			{
				dropDoubled: true,
			},
		);
		expect(steps[0]).toMatchObject({ before: 2, trianglesBefore: 14, trianglesAfter: 12 });
		expect(look(mesh)).toMatchObject({ closed: true, volume: 1000 });
	});

	it("takes a flap of two away, both sides, so that a closed box stays closed", () => {
		const flap = meshFrom({ points: [...BOX.points, [5, -3, 0]], faces: [[0, 1, 8], ...BOX.faces, [0, 8, 1]] });
		expect(look(flap)).toMatchObject({ closed: true, duplicateTriangles: 1 });
		const { mesh } = mended(flap, { dropDoubled: true });
		expect(look(mesh)).toMatchObject({ triangles: 12, closed: true, duplicateTriangles: 0, nonManifoldEdges: 0 });
	});

	it("keeps one side of a surface written with two", () => {
		const open = { points: BOX.points, faces: BOX.faces.slice(4) };
		const twoSided = meshFrom({
			points: open.points,
			faces: [...open.faces, ...open.faces.map(([a, b, c]) => [c, b, a])],
		});
		const { mesh } = mended(twoSided, { dropDoubled: true });
		expect(look(mesh)).toMatchObject({ triangles: 8, duplicateTriangles: 0, flippedTriangles: 0, openEdges: 8 });
		expect([...mesh.triangles]).toEqual([...meshFrom(open).triangles]);
	});

	it("keeps the largest shell by area, or those chosen", () => {
		const crumbs = meshFrom(together(box([20, 0, 0], [21, 1, 1]), BOX, box([30, 0, 0], [32, 2, 2])));
		const largest = mended(crumbs, { keepShells: "largest" });
		expect(largest.steps[0]).toMatchObject({ before: 3, after: 1 });
		expect(look(largest.mesh)).toMatchObject({ weldedVertices: 8, volume: 1000, shells: 1 });
		expect(look(mended(crumbs, { keepShells: [0, 2] }).mesh).volume).toBe(9);
		expect(() => mended(crumbs, { keepShells: [3] })).toThrow("mend.shell");
		expect(() => mended(crumbs, { keepShells: [] })).toThrow("mend.nothingLeft");
	});

	it(`leaves nothing that faces the wrong way, doubled or arealess, on ${share(1000)} seeded broken meshes`, () => {
		for (let seed = 0; seed < share(1000); seed++) {
			const { mesh } = mended(brokenMesh(seed), { dropArealess: true, dropDoubled: true, faceOutward: true });
			const health = look(mesh);
			expect(health.flippedTriangles, `seed ${seed}`).toBe(0);
			expect(health.duplicateTriangles, `seed ${seed}`).toBe(0);
			expect(health.degenerateTriangles, `seed ${seed}`).toBe(0);
			expect(new Set(mesh.triangles).size, `seed ${seed}`).toBe(mesh.positions.length / 3);
		}
	});

	it("makes doubled triangles of a closed mesh go without opening it: the dragon", () => {
		const dragon = dragonMesh(300);
		const before = look(dragon);
		const { mesh, steps } = mended(dragon, { dropDoubled: true });
		// Of the 86 that run the same way round as another, those stay by which the surface is closed.
		expect(steps[0].before).toBe(1489);
		expect(steps[0].after).toBeLessThanOrEqual(86);
		const health = look(mesh);
		expect(before.closed).toBe(true);
		expect(health.closed).toBe(true);
		expect(health.openEdges).toBe(before.openEdges);
		expect(health.duplicateTriangles).toBe(steps[0].after);
		expect(health.volume).toBeCloseTo(before.volume as number, 6);
		expect(health.area).toBeLessThan(156045.25);
	});

	it("leaves the true triangle where one that runs against it lies on it", () => {
		const [a, b, c] = BOX.faces[3];
		for (const faces of [
			[[c, b, a], ...BOX.faces],
			[...BOX.faces, [c, b, a]],
		]) {
			const { mesh, steps } = mended(meshFrom({ points: BOX.points, faces }), { dropDoubled: true });
			expect(steps[0]).toMatchObject({ before: 1, after: 0, trianglesAfter: 12 });
			expect(look(mesh)).toMatchObject({ closed: true, volume: 1000, flippedTriangles: 0 });
		}
	});

	it("takes a flake that floats by itself away, so that a closed box stays closed", () => {
		const flake = meshFrom({
			points: [...BOX.points, [20, 0, 0], [20, 1, 0], [20, 0, 1]],
			faces: [...BOX.faces, [8, 9, 10], [10, 9, 8]],
		});
		expect(look(flake).closed).toBe(true);
		expect(look(mended(flake, { dropDoubled: true }).mesh)).toMatchObject({
			triangles: 12,
			closed: true,
			volume: 1000,
		});
	});

	it("takes the copy of a whole surface away", () => {
		const twice = meshFrom({ points: BOX.points, faces: [...BOX.faces, ...BOX.faces] });
		const { mesh, steps } = mended(twice, { dropDoubled: true });
		expect(steps[0]).toMatchObject({ before: 12, after: 0, trianglesAfter: 12 });
		expect(look(mesh)).toMatchObject({ closed: true, volume: 1000 });
	});

	it(`never takes an edge farther out of balance, on ${share(600)} seeded broken meshes, as counted the slow way`, () => {
		/** Edges by how much oftener they are run one way than the other. */
		const imbalance = ({ triangles }: TriangleMesh): Map<string, number> => {
			const runs = new Map<string, number>();
			for (let t = 0; t < triangles.length; t += 3)
				for (let k = 0; k < 3; k++) {
					const [from, to] = [triangles[t + k], triangles[t + ((k + 1) % 3)]];
					if (from === to) continue;
					const name = from < to ? `${from} ${to}` : `${to} ${from}`;
					runs.set(name, (runs.get(name) ?? 0) + (from < to ? 1 : -1));
				}
			return runs;
		};
		const sum = (runs: Map<string, number>): number => [...runs.values()].reduce((all, x) => all + Math.abs(x), 0);
		let closed = 0;
		for (let seed = 0; seed < share(600); seed++) {
			const random = seededRandom(seed);
			// Every other one is closed but for what is written twice: pairs against each other, and on top of true triangles.
			const figure = seed % 2 === 0 ? meshOf(squareFigure(seed % 7)) : brokenMesh(seed);
			const triangles = [...figure.triangles];
			for (let i = random.below(8); seed % 2 === 0 && i > 0; i--) {
				const t = 3 * random.below(figure.triangles.length / 3);
				const [a, b, c] = triangles.slice(t, t + 3);
				triangles.push(a, b, c, c, b, a);
			}
			const mesh = { ...figure, triangles: Uint32Array.from(triangles) };
			const after = mended(mesh, { dropDoubled: true }).mesh;
			// The mended mesh is tidied, so that only the sums can be held against each other.
			expect(sum(imbalance(after)), `seed ${seed}`).toBeLessThanOrEqual(sum(imbalance(mesh)));
			if (sum(imbalance(mesh)) > 0) continue;
			closed++;
			expect(look(after).closed, `seed ${seed}`).toBe(true);
			expect(look(after).duplicateTriangles, `seed ${seed}`).toBe(0);
		}
		expect(closed).toBeGreaterThan(share(600) / 3);
	});
});

describe("closing holes", () => {
	const figure = torus(24, 12, 30, 10);
	const whole = look(figure);

	it("gives a box its lid back, and leaves a rim longer than allowed", () => {
		const lidless = meshFrom({ points: BOX.points, faces: BOX.faces.filter((_, t) => t !== 2 && t !== 3) });
		const { mesh, steps } = mended(lidless, { closeHolesUpTo: 40 });
		expect(steps[0]).toMatchObject({ before: 1, after: 0, trianglesAfter: 12 });
		expect(look(mesh)).toMatchObject({ closed: true, volume: 1000, area: 600 });
		expect(mended(lidless, { closeHolesUpTo: 39.9 }).steps[0]).toMatchObject({ before: 1, after: 1 });
	});

	it(`closes ${share(300)} figures with up to 20 triangles missing, without adding a doubled edge where there is a choice`, () => {
		for (let seed = 0; seed < share(300); seed++) {
			const random = seededRandom(seed);
			const gone = new Set(
				Array.from({ length: 1 + random.below(20) }, () => random.below(figure.triangles.length / 3)),
			);
			const holed = { ...figure, triangles: figure.triangles.filter((_, i) => !gone.has(Math.floor(i / 3))) };
			const { mesh } = mended(holed, { closeHolesUpTo: 1e4 });
			const health = look(mesh);
			expect(health.openEdges, `seed ${seed}`).toBe(0);
			expect(health.closed, `seed ${seed}`).toBe(true);
			expect(health.nonManifoldEdges, `seed ${seed}`).toBe(0);
			expect(health.triangles, `seed ${seed}`).toBe(whole.triangles);
		}
	});

	it(`leaves nothing open on ${share(500)} seeded broken meshes that face one way`, () => {
		for (let seed = 0; seed < share(500); seed++) {
			const choices = { dropArealess: true, dropDoubled: true, faceOutward: true, closeHolesUpTo: 1e6 };
			const { mesh, steps } = mended(brokenMesh(seed), choices);
			expect(steps[3].after, `seed ${seed}`).toBe(0);
			expect(look(mesh).closed, `seed ${seed}`).toBe(true);
		}
	});

	/** A flat ring around a hole of n corners, whose heights are drawn. */
	const ring = (n: number, lift: number, seed: number): TriangleMesh => {
		const random = seededRandom(seed);
		const points: number[][] = [];
		for (let i = 0; i < n; i++) {
			const angle = (2 * Math.PI * i) / n;
			const z = lift * random.next();
			for (const r of [10, 20]) points.push([r * Math.cos(angle), r * Math.sin(angle), z]);
		}
		const faces = Array.from({ length: n }, (_, i) => {
			const [a, b] = [2 * i, 2 * ((i + 1) % n)];
			return [
				[a, a + 1, b + 1],
				[a, b + 1, b],
			];
		}).flat();
		return meshFrom({ points, faces });
	};

	it("takes the least area of all ways to cut the hole", () => {
		for (let seed = 0; seed < 20; seed++) {
			const around = ring(9, 12, seed);
			const corner = (i: number): number[] => [...around.positions.slice(6 * i, 6 * i + 3)];
			const area = (a: number, b: number, c: number): number => {
				const [p, q, r] = [corner(a), corner(b), corner(c)];
				const [u, v] = [q, r].map((w) => w.map((x, k) => x - p[k]));
				return Math.hypot(u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]) / 2;
			};
			// Every cut of the chain i … j, by trying every third corner for its chord.
			const least = (i: number, j: number): number =>
				j - i < 2
					? 0
					: Math.min(
							...Array.from(
								{ length: j - i - 1 },
								(_, k) => least(i, i + k + 1) + least(i + k + 1, j) + area(i, i + k + 1, j),
							),
						);
			const { mesh, steps } = mended(around, { closeHolesUpTo: 105 });
			expect(steps[0]).toMatchObject({ before: 2, after: 1 });
			expect(look(mesh).area - look(around).area).toBeCloseTo(least(0, 8), 6);
		}
	});

	it("cuts a rim of a thousand corners in its plane", () => {
		const { mesh } = mended(ring(1000, 0, 1), { closeHolesUpTo: 63 });
		expect(look(mesh).area).toBeCloseTo((1000 * 400 * Math.sin(Math.PI / 500)) / 2, 6);
		expect(mesh.triangles.length / 3).toBe(2000 + 998);
	});
});

describe("weldWithin", () => {
	/** Leader by leader, each against all before it. */
	function twin(p: Float64Array, distance: number): number[] {
		const leaders: number[] = [];
		return Array.from({ length: p.length / 3 }, (_, v) => {
			let best = -1;
			let least = distance * distance;
			for (const w of leaders) {
				const d = [0, 1, 2].reduce((s, k) => s + (p[3 * v + k] - p[3 * w + k]) ** 2, 0);
				if (d < least || (d === least && best < 0)) {
					least = d;
					best = w;
				}
			}
			if (best >= 0) return best;
			leaders.push(v);
			return v;
		});
	}

	it.each([1, 2, 3, 4])(
		"agrees with the twin, on lattices too where many lie at the very distance, seed %i",
		(seed) => {
			const random = seededRandom(seed);
			const lattice = seed % 2 === 0;
			const p = Float64Array.from({ length: 3 * 1500 }, () =>
				lattice ? random.below(12) - 6 : 12 * random.next() - 6,
			);
			for (const distance of [0, 0.25, 0.5, 1, Math.SQRT2, 3, 40])
				expect([...finish(weldWithin(p, distance))]).toEqual(
					distance > 0 ? twin(p, distance) : [...p.slice(0, 1500).keys()],
				);
		},
	);
});
