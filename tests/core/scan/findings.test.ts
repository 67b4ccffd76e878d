import { describe, expect, it } from "vitest";
import { finish } from "../../../core/job.ts";
import { FINDING_KINDS, type Finding, findingsOf } from "../../../core/scan/findings.ts";
import { examine, type ScanHealth } from "../../../core/scan/health.ts";
import type { TriangleMesh } from "../../../core/scan/mesh.ts";
import { listShells, MOST_LISTED } from "../../../core/scan/shellList.ts";
import { vertexNormals } from "../../../core/surface/vertexNormals.ts";
import { share } from "../../support/prove.ts";
import { box, brokenMesh, meshFrom, together } from "./brokenMeshes.ts";

const look = (mesh: TriangleMesh): { health: ScanHealth; findings: Finding[] } => {
	const health = finish(examine(mesh));
	return { health, findings: findingsOf(mesh, vertexNormals(mesh), health) };
};

describe("where the findings are", () => {
	it("nothing in a sound box", () => {
		expect(look(meshFrom(box([0, 0, 0], [30, 20, 10]))).findings).toEqual([]);
	});

	it("the rim of a box without a lid: its middle, its length, its four edges, seen from above", () => {
		const whole = box([0, 0, 0], [10, 10, 10]);
		const [open, ...others] = look(
			meshFrom({ points: whole.points, faces: whole.faces.filter((_, t) => t !== 2 && t !== 3) }),
		).findings;
		expect(others).toEqual([]);
		expect(open).toMatchObject({ kind: "open", count: 4, placeCount: 1 });
		const [place] = open.places;
		expect(place).toMatchObject({ count: 4, centre: [5, 5, 10], length: 40 });
		expect(place.radius).toBeCloseTo(Math.sqrt(50), 12);
		expect(place.lines).toHaveLength(4 * 6);
		expect(place.lines.filter((_, i) => i % 3 === 2).every((z) => z === 10)).toBe(true);
	});

	it("two turned triangles of two boxes are two places, a turned side of one is one", () => {
		const pair = together(box([0, 0, 0], [10, 10, 10]), box([40, 0, 0], [50, 10, 10]));
		const turn = (t: number): number[] => {
			const [a, b, c] = pair.faces[t];
			return [a, c, b];
		};
		const turned = (list: readonly number[]) =>
			look(meshFrom({ points: pair.points, faces: pair.faces.map((f, t) => (list.includes(t) ? turn(t) : f)) }))
				.findings;
		const two = turned([3, 17]).find(({ kind }) => kind === "flipped");
		expect(two).toMatchObject({ count: 2, placeCount: 2 });
		expect(two?.places.map(({ count, length }) => [count, length])).toEqual([
			[1, null],
			[1, null],
		]);
		expect(turned([2, 3]).find(({ kind }) => kind === "flipped")).toMatchObject({ count: 2, placeCount: 1 });
	});

	it(`every edge and triangle is in one place, what touches is in the same, on ${share(2000)} broken meshes`, () => {
		for (let seed = 0; seed < share(2000); seed++) {
			const mesh = brokenMesh(seed);
			const { health, findings } = look(mesh);
			const counts = {
				flipped: health.flippedTriangles,
				crowded: health.nonManifoldEdges,
				open: health.openEdges,
				doubled: health.duplicateTriangles,
				arealess: health.degenerateTriangles,
			};
			for (const kind of FINDING_KINDS) {
				const finding = findings.find((f) => f.kind === kind);
				expect(finding?.count ?? 0, `seed ${seed}, ${kind}`).toBe(counts[kind]);
				if (!finding) continue;
				expect(finding.placeCount).toBe(finding.places.length);
				expect(finding.places.reduce((sum, place) => sum + place.count, 0)).toBe(finding.count);
				const weights = finding.places.map((place) => place.length ?? place.count);
				expect(weights).toEqual([...weights].sort((a, b) => b - a));
				if (kind !== "open") expectApart(finding, `seed ${seed}, ${kind}`);
			}
		}
	});

	/** No two places have a vertex in common, and no place falls into two parts without one (by a slow flood). */
	function expectApart(finding: Finding, what: string): void {
		const corners = finding.kind === "crowded" ? 2 : 6;
		const vertexOf = (lines: Float32Array, i: number): string => lines.slice(3 * i, 3 * i + 3).join();
		const met = new Set<string>();
		for (const { lines } of finding.places) {
			const items: Set<string>[] = [];
			for (let i = 0; i < lines.length / 3; i += corners)
				items.push(new Set(Array.from({ length: corners }, (_, k) => vertexOf(lines, i + k))));
			const own = new Set(items.flatMap((item) => [...item]));
			for (const vertex of own) expect(met.has(vertex), what).toBe(false);
			for (const vertex of own) met.add(vertex);
			const reached = new Set(items[0]);
			for (let grown = true; grown; ) {
				grown = false;
				for (const item of items)
					if ([...item].some((v) => reached.has(v)) && ![...item].every((v) => reached.has(v))) {
						for (const v of item) reached.add(v);
						grown = true;
					}
			}
			expect(reached.size, what).toBe(own.size);
		}
	}
});

describe("the list of shells", () => {
	it(`holds each shell with its triangles, area and bounds, the largest first, on ${share(1000)} broken meshes`, () => {
		for (let seed = 0; seed < share(1000); seed++) {
			const mesh = brokenMesh(seed);
			const { health } = look(mesh);
			const { count, shells } = listShells(mesh, health.places.shellOf, health.shells);
			expect(count).toBe(health.shells);
			expect(shells).toHaveLength(Math.min(count, MOST_LISTED));
			expect(shells.reduce((sum, s) => sum + s.area, 0) / health.area).toBeCloseTo(1, count > MOST_LISTED ? 0 : 9);
			for (const { number, triangles, min, max } of shells) {
				const own = [...mesh.triangles].filter((_, h) => health.places.shellOf[Math.floor(h / 3)] === number);
				expect(triangles).toBe(own.length / 3);
				for (let k = 0; k < 3; k++) {
					const along = own.map((v) => mesh.positions[3 * v + k]);
					expect([min[k], max[k]]).toEqual([Math.min(...along), Math.max(...along)]);
				}
			}
			const areas = shells.map((s) => s.area);
			expect(areas).toEqual([...areas].sort((a, b) => b - a));
		}
	});

	it("lists no more than the largest sixty of a thousand crumbs", () => {
		const crumbs = together(
			...Array.from({ length: 200 }, (_, i) => box([4 * i, 0, 0], [4 * i + 1 + ((37 * i) % 200) / 100, 1, 1])),
		);
		const mesh = meshFrom(crumbs);
		const { health } = look(mesh);
		const { count, shells } = listShells(mesh, health.places.shellOf, health.shells);
		expect([count, shells.length]).toEqual([200, MOST_LISTED]);
		const lengths = Array.from({ length: 200 }, (_, i) => ((37 * i) % 200) / 100).sort((a, b) => b - a);
		expect(shells.map(({ min, max }) => max[0] - min[0] - 1)).toEqual(
			lengths.slice(0, MOST_LISTED).map((x) => expect.closeTo(x, 6)),
		);
	});
});
