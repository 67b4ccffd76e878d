import { describe, expect, it } from "vitest";
import { thicknessField } from "../../../core/drilling/thicknessField.ts";
import { findThinParts, SLENDER, THIN_MM, type ThinParts } from "../../../core/drilling/thinParts.ts";
import { finish } from "../../../core/job.ts";
import type { TriangleMesh } from "../../../core/scan/mesh.ts";
import { buildAdjacency } from "../../../core/surface/adjacency.ts";
import { buildSurfaceIndex } from "../../../core/surface/surfaceIndex.ts";
import { vertexAreas, vertexNormals } from "../../../core/surface/vertexNormals.ts";
import { sphere } from "../../support/shapes.ts";

function thinOf(mesh: TriangleMesh): ThinParts & { thickness: Float32Array } {
	const thickness = finish(thicknessField(finish(buildSurfaceIndex(mesh)), vertexNormals(mesh)));
	const { positions } = mesh;
	const adjacency = buildAdjacency(mesh);
	return {
		thickness,
		...finish(findThinParts({ positions, adjacency, thickness, areas: vertexAreas(mesh), smallestForm: 3 })),
	};
}

/** A sphere drawn out along x by `stretch`, and along z by `flat`: an ellipsoid, whose thickness falls towards its ends. */
const ellipsoid = (radius: number, stretch: number, flat = 1): TriangleMesh => {
	const { mesh } = sphere(radius, { edge: radius / 14 });
	return { ...mesh, positions: mesh.positions.map((x, i) => (i % 3 === 0 ? stretch * x : i % 3 === 2 ? flat * x : x)) };
};

/** A bar of a regular polygon of `corners` sides, rounded off by nothing, finely cut along its length. */
function bar(corners: number, radius: number, length: number): TriangleMesh {
	const rings = Math.ceil(length / 4);
	const positions: number[] = [];
	for (let r = 0; r <= rings; r++)
		for (let i = 0; i < corners; i++) {
			const a = (2 * Math.PI * i) / corners;
			positions.push(radius * Math.cos(a), radius * Math.sin(a), (length * r) / rings);
		}
	positions.push(0, 0, 0, 0, 0, length);
	const triangles: number[] = [];
	const at = (r: number, i: number): number => r * corners + (i % corners);
	for (let i = 0; i < corners; i++) {
		for (let r = 0; r < rings; r++)
			triangles.push(at(r, i), at(r, i + 1), at(r + 1, i + 1), at(r, i), at(r + 1, i + 1), at(r + 1, i));
		triangles.push(
			at(0, i + 1),
			at(0, i),
			positions.length / 3 - 2,
			at(rings, i),
			at(rings, i + 1),
			positions.length / 3 - 1,
		);
	}
	return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}

const marked = ({ marks }: ThinParts, mark: number): number => marks.reduce((n, m) => n + (m === mark ? 1 : 0), 0);

describe("thin parts", () => {
	it("none on a stout sphere, all of a small one", () => {
		expect(thinOf(sphere(40, { edge: 4 }).mesh).parts).toEqual([]);
		const small = thinOf(sphere(7, { edge: 1 }).mesh);
		expect(small.parts).toHaveLength(1);
		expect(small.parts[0].kind).toBe("thin");
		expect(small.parts[0].thinnest).toBeCloseTo(14, 0);
		expect(small.parts[0].area / (4 * Math.PI * 49)).toBeCloseTo(1, 1);
		expect(marked(small, 1)).toBe(small.marks.length);
	});

	it("under 15 mm: just those vertices, when each belongs to ground enough", () => {
		// An egg-shaped slab, 12 mm thick in the middle and thinner towards its rim.
		const slab = thinOf(ellipsoid(40, 1.2, 0.2));
		slab.thickness.forEach((t, v) => {
			if (slab.marks[v] === 1) expect(t).toBeLessThanOrEqual(THIN_MM);
		});
		expect(marked(slab, 1)).toBe(slab.thickness.filter((t) => t <= THIN_MM).length);
	});

	it("a rod is slender when it is more than five times as long as thick, whatever its size and its turn", () => {
		for (const size of [1, 2.7]) {
			const rod = (lengths: number): TriangleMesh => bar(24, 10 * size, 20 * size * lengths);
			expect(thinOf(rod(4.5)).parts.filter((p) => p.kind === "slender")).toEqual([]);
			const long = thinOf(rod(7));
			expect(long.parts.map((p) => p.kind)).toContain("slender");
			const slender = long.parts.find((p) => p.kind === "slender");
			expect(slender?.length).toBeGreaterThan(SLENDER * (slender?.thickest ?? 0));
			const { positions, triangles } = rod(7);
			const turned = positions.map((_, i) => {
				const [x, y, z] = positions.slice(i - (i % 3), i - (i % 3) + 3);
				return [0.6 * x - 0.8 * z, y, 0.8 * x + 0.6 * z][i % 3];
			});
			expect(thinOf({ positions: turned, triangles }).parts.length).toBe(long.parts.length);
		}
	});

	it("the arris of a wedge of 60 degrees is no slender part", () => {
		// A long three-sided bar: its faces meet at 60°, so that beside every arris it is as thin as one likes.
		const wedge = thinOf(bar(3, 150, 1100));
		expect(wedge.parts.filter((p) => p.kind === "slender")).toEqual([]);
	});
});
