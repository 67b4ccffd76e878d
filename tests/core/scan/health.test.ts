import { describe, expect, it } from "vitest";
import { finish } from "../../../core/job.ts";
import { examine, type ScanHealth } from "../../../core/scan/health.ts";
import type { TriangleMesh } from "../../../core/scan/mesh.ts";
import { readScan } from "../../../core/scan/readScan.ts";
import { memorySource } from "../../../core/scan/source.ts";
import { writeBinaryStl } from "../../../core/scan/writeScan.ts";
import { dragonMesh } from "../../support/dragonMesh.ts";
import { share } from "../../support/prove.ts";
import { box, brokenMesh, meshFrom, together, torus } from "./brokenMeshes.ts";
import { edgeKey, twinHealth } from "./healthTwin.ts";

const look = (mesh: TriangleMesh): ScanHealth => finish(examine(mesh));
const pairs = (list: Uint32Array): string[] =>
	Array.from({ length: list.length / 2 }, (_, i) => edgeKey(list[2 * i], list[2 * i + 1]));

/** A ring of n sides round the z axis with an apex at each end that has a height; n triangles an end. */
function spindle(n: number, radius: number, up: number, down: number): TriangleMesh {
	const points = Array.from({ length: n }, (_, i) => {
		const angle = (2 * Math.PI * i) / n;
		return [radius * Math.cos(angle), radius * Math.sin(angle), 0];
	});
	points.push([0, 0, up], [0, 0, -down]);
	const faces = Array.from({ length: n }, (_, i) => [
		[i, (i + 1) % n, n],
		[(i + 1) % n, i, n + 1],
	]).flat();
	return meshFrom({ points, faces });
}

describe("sound solids", () => {
	it("a box 30 × 20 × 10, counted by hand", () => {
		const health = look(meshFrom(box([0, 0, 0], [30, 20, 10])));
		expect(health).toMatchObject({
			triangles: 12,
			weldedVertices: 8,
			shells: 1,
			openEdges: 0,
			nonManifoldEdges: 0,
			flippedTriangles: 0,
			degenerateTriangles: 0,
			duplicateTriangles: 0,
			duplicateSameWay: 0,
			closed: true,
			area: 2200,
			volume: 6000,
			centroid: [15, 10, 5],
			bounds: { min: [0, 0, 0], max: [30, 20, 10] },
		});
		expect(health.places.loops.count).toBe(0);
	});

	it("tetrahedra of the reference values: volume and centroid (worked out exactly)", () => {
		const faces = [
			[0, 2, 1],
			[0, 1, 3],
			[1, 2, 3],
			[2, 0, 3],
		];
		const right = look(
			meshFrom({
				points: [
					[0, 0, 0],
					[90, 0, 0],
					[0, 120, 0],
					[0, 0, 150],
				],
				faces,
			}),
		);
		expect(right.volume).toBeCloseTo(270000, 6);
		expect(right.centroid).toEqual([22.5, 30, 37.5]);
		const scalene = look(
			meshFrom({
				points: [
					[10, 20, -5],
					[110, 35, 0],
					[40, 150, 12],
					[55, 60, 170],
				],
				faces,
			}),
		);
		expect(scalene.volume).toBeCloseTo(352745.8333, 3);
		for (let k = 0; k < 3; k++) expect(scalene.centroid?.[k]).toBeCloseTo([53.75, 66.25, 44.25][k], 9);
	});

	it("faceted spindles, cones and tori, to 1e-6 of the closed form of the facets", () => {
		for (const [n, r, up, down] of [
			[3, 10, 5, 5],
			[64, 60, 150, 1e-3],
			[256, 60, 150, 20],
			[1000, 1, 2, 3],
		]) {
			const health = look(spindle(n, r, up, down));
			const base = (n * r * r * Math.sin((2 * Math.PI) / n)) / 2;
			const apothem = r * Math.cos(Math.PI / n);
			const side = 2 * r * Math.sin(Math.PI / n);
			const slant = (h: number): number => (n * side * Math.hypot(h, apothem)) / 2;
			expect(health.closed).toBe(true);
			expect(health.volume! / ((base * (up + down)) / 3)).toBeCloseTo(1, 9);
			expect(health.area / (slant(up) + slant(down))).toBeCloseTo(1, 9);
			// Two cones, each with its centroid a quarter of the way up.
			expect(health.centroid?.[2]).toBeCloseTo((up - down) / 4, 6);
		}
		// A faceted torus is a ring of n prismatoids: section of m sides, cut square to its n chords and mitred.
		const [n, m, R, r] = [48, 24, 100, 30];
		const section = (m * r * r * Math.sin((2 * Math.PI) / m)) / 2;
		const around = n * Math.sin(Math.PI / n) * 2 * Math.cos(Math.PI / n);
		const health = look(torus(n, m, R, r));
		// Pappus for a mitred ring: the section's centroid lies at radius R, and runs n chords of 2 R sin(π/n) in the plane
		// through the chord's middle, where the section is foreshortened by cos(π/n).
		expect(health.volume! / (section * R * around)).toBeCloseTo(1, 9);
		expect(health.centroid?.[0]).toBeCloseTo(0, 9);
	});

	it("does not change when the figure is turned, moved far away or scaled", () => {
		const mesh = torus(20, 12, 10, 3);
		const first = look(mesh);
		const [c, s] = [0.6, 0.8];
		const moved = mesh.positions.slice();
		for (let i = 0; i < moved.length; i += 3) {
			const [x, y, z] = mesh.positions.slice(i, i + 3);
			moved.set([7 * (c * x - s * z) + 5e5, 7 * y - 4e6, 7 * (s * x + c * z)], i);
		}
		const second = look({ positions: moved, triangles: mesh.triangles });
		expect(second.volume! / first.volume! / 343).toBeCloseTo(1, 6);
		expect(second.area / first.area / 49).toBeCloseTo(1, 6);
		expect(second.places.shellOf).toEqual(first.places.shellOf);
	});
});

describe("single faults", () => {
	const whole = box([0, 0, 0], [10, 10, 10]);

	it("a box without a lid: one rim of four edges, its length and its middle, no volume", () => {
		const health = look(meshFrom({ points: whole.points, faces: whole.faces.filter((_, t) => t !== 2 && t !== 3) }));
		expect(health).toMatchObject({
			openEdges: 4,
			closed: false,
			volume: null,
			centroid: null,
			area: 500,
			flippedTriangles: 0,
		});
		const { loops } = health.places;
		expect(loops.count).toBe(1);
		expect([...loops.closed]).toEqual([1]);
		expect([...loops.vertices].sort()).toEqual([4, 5, 6, 7]);
		expect([...loops.length]).toEqual([40]);
		expect([...loops.centre]).toEqual([5, 5, 10]);
	});

	it("one triangle turned, and a whole box turned", () => {
		const one = whole.faces.map((f, t) => (t === 5 ? [f[0], f[2], f[1]] : f));
		expect([...look(meshFrom({ points: whole.points, faces: one })).places.flippedTriangles]).toEqual([5]);
		const inward = look(meshFrom(box([0, 0, 0], [10, 10, 10], true)));
		expect(inward).toMatchObject({ flippedTriangles: 12, closed: true, volume: -1000 });
	});

	it("a hollow that faces its own inside is right; the same shell beside the box is not", () => {
		const hollow = look(meshFrom(together(whole, box([3, 3, 3], [6, 6, 6], true))));
		expect(hollow).toMatchObject({ shells: 2, flippedTriangles: 0, volume: 973 });
		const beside = look(meshFrom(together(whole, box([13, 3, 3], [16, 6, 6], true))));
		expect([...beside.places.flippedTriangles]).toEqual([12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23]);
	});

	it("a bust open along little of its edge is turned outwards, a bowl open along much is left", () => {
		const open = (mesh: TriangleMesh): TriangleMesh => ({
			positions: mesh.positions,
			triangles: mesh.triangles.slice(3).map((_, i, all) => all[i - (i % 3) + [0, 2, 1][i % 3]]),
		});
		const bust = torus(40, 30, 10, 4);
		expect(look(open(bust)).flippedTriangles).toBe(2 * 40 * 30 - 1);
		const cone = spindle(20, 10, 4, 0);
		const bowl = { positions: cone.positions, triangles: cone.triangles.filter((_, i) => i % 6 < 3) };
		expect(
			look({ ...bowl, triangles: bowl.triangles.map((_, i, all) => all[i - (i % 3) + [0, 2, 1][i % 3]]) })
				.flippedTriangles,
		).toBe(0);
	});

	it("doubled triangles, the same way and the other", () => {
		const [first] = whole.faces;
		const doubled = look(
			meshFrom({ points: whole.points, faces: [...whole.faces, first, [first[0], first[2], first[1]]] }),
		);
		expect(doubled).toMatchObject({ duplicateTriangles: 2, duplicateSameWay: 1, nonManifoldEdges: 3 });
		expect([...doubled.places.duplicateTriangles]).toEqual([12, 13]);
	});

	it("a sheet of two sides is closed and has no volume and no wrong side", () => {
		const points = [
			[0.1, 0.2, 0.3],
			[1.1, 0.3, 0.7],
			[0.4, 1.3, 0.9],
		];
		const health = look(
			meshFrom({
				points,
				faces: [
					[0, 1, 2],
					[0, 2, 1],
				],
			}),
		);
		expect(health).toMatchObject({ closed: true, flippedTriangles: 0, shells: 1 });
		expect(health.volume).toBeCloseTo(0, 12);
	});

	it("two holes that touch in one vertex are two loops", () => {
		// A flat patch of 4 × 4 squares, two diagonal neighbours of the middle vertex taken out.
		const points: number[][] = [];
		const faces: number[][] = [];
		for (let y = 0; y < 5; y++) for (let x = 0; x < 5; x++) points.push([x, y, 0]);
		for (let y = 0; y < 4; y++)
			for (let x = 0; x < 4; x++) {
				if ((x === 1 && y === 1) || (x === 2 && y === 2)) continue;
				const a = 5 * y + x;
				faces.push([a, a + 1, a + 6], [a, a + 6, a + 5]);
			}
		const { loops } = look(meshFrom({ points, faces })).places;
		expect([...loops.length].sort((a, b) => a - b)).toEqual([4, 4, 16]);
		expect([...loops.closed]).toEqual([1, 1, 1]);
	});

	it("an edge of 500 triangles, and 300 copies of one triangle", () => {
		const points = [[0, 0, 0], [0, 0, 10], ...Array.from({ length: 500 }, (_, i) => [1 + i, i * i, 0])];
		const fan = look(meshFrom({ points, faces: Array.from({ length: 500 }, (_, i) => [0, 1, i + 2]) }));
		expect(fan).toMatchObject({ nonManifoldEdges: 1, openEdges: 1000, duplicateTriangles: 0, shells: 1 });
		const copies = look(
			meshFrom({
				points: points.slice(0, 3),
				faces: Array.from({ length: 300 }, (_, i) => (i % 3 ? [0, 1, 2] : [2, 1, 0])),
			}),
		);
		expect(copies).toMatchObject({ duplicateTriangles: 299, duplicateSameWay: 298, nonManifoldEdges: 3 });
	});
});

describe("against the slow twin", () => {
	it(`agrees on ${share(2000)} seeded broken meshes, places and all`, () => {
		const met = { flipped: 0, open: 0, crowded: 0, flat: 0, doubled: 0, closed: 0 };
		for (let seed = 0; seed < share(2000); seed++) {
			const mesh = brokenMesh(seed);
			const health = look(mesh);
			const twin = twinHealth(mesh);
			const what = `seed ${seed}`;
			expect(health.shells, what).toBe(twin.shells);
			expect(pairs(health.places.openEdges).sort(), what).toEqual(twin.openEdges.sort());
			expect(pairs(health.places.nonManifoldEdges).sort(), what).toEqual(twin.nonManifoldEdges.sort());
			expect([...health.places.flippedTriangles], what).toEqual(twin.flippedTriangles);
			expect([...health.places.degenerateTriangles], what).toEqual(twin.degenerateTriangles);
			expect([...health.places.duplicateTriangles], what).toEqual(twin.duplicateTriangles);
			expect(health.duplicateSameWay, what).toBe(twin.duplicateSameWay);
			expect(health.closed, what).toBe(twin.closed);
			expect(health.area / twin.area, what).toBeCloseTo(1, 9);
			expect(health.crowdedArea / twin.area, what).toBeCloseTo(twin.crowdedArea / twin.area, 9);
			if (twin.volume === null) expect(health.volume, what).toBeNull();
			else expect(health.volume, what).toBeCloseTo(twin.volume, 3);
			expectLoops(health, what, mesh);
			met.flipped += Math.sign(health.flippedTriangles);
			met.open += Math.sign(health.openEdges);
			met.crowded += Math.sign(health.nonManifoldEdges);
			met.flat += Math.sign(health.degenerateTriangles);
			met.doubled += Math.sign(health.duplicateTriangles);
			met.closed += health.closed ? 1 : 0;
		}
		for (const n of Object.values(met)) expect(n).toBeGreaterThan(share(2000) / 10);
	});

	/** Every open edge is in one loop once, and no loop passes a vertex twice. */
	function expectLoops(health: ScanHealth, what: string, mesh: TriangleMesh): void {
		const { loops, openEdges } = health.places;
		const strung: string[] = [];
		for (let i = 0; i < loops.count; i++) {
			const vertices = [...loops.vertices.slice(loops.start[i], loops.start[i + 1])];
			expect(new Set(vertices).size, what).toBe(vertices.length);
			let length = 0;
			const ends = loops.closed[i] ? vertices.length : vertices.length - 1;
			for (let k = 0; k < ends; k++) {
				const [a, b] = [vertices[k], vertices[(k + 1) % vertices.length]];
				strung.push(`${a}>${b}`);
				length += Math.hypot(...[0, 1, 2].map((d) => mesh.positions[3 * a + d] - mesh.positions[3 * b + d]));
			}
			expect(loops.length[i], what).toBeCloseTo(length, 6);
		}
		const edges = Array.from({ length: openEdges.length / 2 }, (_, i) => `${openEdges[2 * i]}>${openEdges[2 * i + 1]}`);
		expect(strung.sort(), what).toEqual(edges.sort());
	}
});

describe("the open scan of the dragon, 300 long", () => {
	it("agrees with what general-purpose libraries find in it", () => {
		// Reference values handed to the project with it: computed with libraries that share no code with it.
		const file = writeBinaryStl(dragonMesh(300));
		const health = look(finish(readScan(memorySource(file), "dragon.stl")).mesh);
		expect(health).toMatchObject({
			triangles: 202520,
			weldedVertices: 100207,
			openEdges: 0,
			nonManifoldEdges: 2534,
			closed: true,
			duplicateTriangles: 1489,
			duplicateSameWay: 86,
			degenerateTriangles: 0,
		});
		expect(health.area / 156045.2463054838).toBeCloseTo(1, 9);
		// Added up by a script of its own from the triangles at the crowded edges.
		expect(health.crowdedArea).toBeCloseTo(4090.478326, 5);
		expect(health.volume! / 1506738.6290754508).toBeCloseTo(1, 9);
		expect(health.bounds).toEqual({ min: [0, 0, 0], max: [300, 211.73590087890625, 134.1417694091797] });
	});
});
