/** Lines of the figure and what hides them, against closed forms and against brute-force rays. */

import { describe, expect, it } from "vitest";
import { finish } from "../../../core/job.ts";
import { seededRandom } from "../../../core/random.ts";
import type { TriangleMesh } from "../../../core/scan/mesh.ts";
import { FACE_ORDER, FACE_VIEWS } from "../../../core/sheet/faces.ts";
import { drawFigure, type FigureLines, prepareFigure } from "../../../core/sheet/figureLines.ts";
import { levelLines, rimEdges } from "../../../core/sheet/levelLines.ts";
import { type Projection, project } from "../../../core/sheet/projection.ts";
import { buildScreenGrid } from "../../../core/sheet/screenGrid.ts";
import { thinOut } from "../../../core/sheet/visibleLines.ts";
import { IDENTITY } from "../../../core/vector.ts";
import { handPlan } from "../../support/handPlan.ts";
import { share } from "../../support/prove.ts";

const STILL = { rotation: IDENTITY, translation: [0, 0, 0] as const };

/** Depth of the nearest surface over (x, y) by trying every triangle, or −∞. */
function nearestByForce(p: Projection, mesh: TriangleMesh, x: number, y: number): number {
	let best = -Infinity;
	const t = mesh.triangles;
	for (let f = 0; f < t.length; f += 3) {
		const [a, b, c] = [t[f], t[f + 1], t[f + 2]];
		const cross = (i: number, j: number): number => (p.xs[i] - x) * (p.ys[j] - y) - (p.xs[j] - x) * (p.ys[i] - y);
		const [u, v, w] = [cross(b, c), cross(c, a), cross(a, b)];
		if (Math.min(u, v, w) < 0 && Math.max(u, v, w) > 0) continue;
		if (u + v + w === 0) continue;
		best = Math.max(best, (u * p.zs[a] + v * p.zs[b] + w * p.zs[c]) / (u + v + w));
	}
	return best;
}

/** A sphere of radius r about (cx, cy, cz), as one mesh with exact normals. */
function spheres(
	list: readonly (readonly [number, number, number, number])[],
	rings = 40,
): { mesh: TriangleMesh; normals: Float64Array } {
	const positions: number[] = [];
	const normals: number[] = [];
	const triangles: number[] = [];
	for (const [cx, cy, cz, r] of list) {
		const first = positions.length / 3;
		for (let i = 0; i <= rings; i++)
			for (let k = 0; k < 2 * rings; k++) {
				const [a, b] = [(Math.PI * i) / rings, (Math.PI * k) / rings];
				const n = [Math.sin(a) * Math.cos(b), Math.sin(a) * Math.sin(b), Math.cos(a)];
				normals.push(...n);
				positions.push(cx + r * n[0], cy + r * n[1], cz + r * n[2]);
				if (i === rings) continue;
				const at = (di: number, dk: number): number => first + (i + di) * 2 * rings + ((k + dk) % (2 * rings));
				triangles.push(at(0, 0), at(1, 0), at(1, 1), at(0, 0), at(1, 1), at(0, 1));
			}
	}
	return {
		mesh: { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) },
		normals: Float64Array.from(normals),
	};
}

const lengthOf = (pieces: readonly Float64Array[]): number => {
	let sum = 0;
	for (const p of pieces) for (let i = 2; i < p.length; i += 2) sum += Math.hypot(p[i] - p[i - 2], p[i + 1] - p[i - 1]);
	return sum;
};

const draw = (shape: { mesh: TriangleMesh; normals: Float64Array }, face: keyof typeof FACE_VIEWS): FigureLines =>
	finish(drawFigure(finish(prepareFigure(shape.mesh, shape.normals)), FACE_VIEWS[face], STILL, 0.1));

describe("lines of a level", () => {
	it("cuts a pair of triangles where it should: 1 mm up a square of 2 × 2 standing on its edge", () => {
		// 3 --- 2      value = height of the corner
		// |   / |
		// 0 --- 1
		const lines = levelLines(Uint32Array.of(0, 1, 2, 0, 2, 3), Float64Array.of(0, 0, 2, 2), 1, 5, 1);
		expect(lines.chains.length).toBe(1);
		const at = lines.chains[0].map((n) => [lines.from[n], lines.to[n], lines.share[n]]);
		expect(at).toContainEqual([1, 2, 0.5]);
		expect(at).toContainEqual([0, 2, 0.5]);
		expect(at).toContainEqual([0, 3, 0.5]);
	});

	it("closes around a tetrahedron and finds no rim there, but one around a single triangle", () => {
		const tetrahedron = Uint32Array.of(0, 2, 1, 0, 1, 3, 1, 2, 3, 2, 0, 3);
		const { chains } = levelLines(tetrahedron, Float64Array.of(0, 0, 0, 1), 0.5, 5, 1);
		expect(chains.length).toBe(1);
		expect(chains[0][0]).toBe(chains[0][chains[0].length - 1]);
		expect(rimEdges(tetrahedron, 4).length).toBe(0);
		expect(rimEdges(Uint32Array.of(0, 1, 2), 3).length).toBe(6);
	});

	it("thins a straight line out to its ends and keeps a corner", () => {
		expect([...thinOut([0, 0, 9, 1, 0, 9, 2, 0, 9, 3, 0, 9], 0.01)]).toEqual([0, 0, 3, 0]);
		expect([...thinOut([0, 0, 9, 1, 0, 9, 2, 1, 9], 0.01)]).toEqual([0, 0, 1, 0, 2, 1]);
	});
});

describe("a sphere of R 50", () => {
	const lines = draw(spheres([[0, 0, 0, 50]]), "front");
	it("has a circle of R 50 as its outline, 2πR long", () => {
		expect(lengthOf(lines.outline)).toBeCloseTo(2 * Math.PI * 50, -0.5);
		for (const piece of lines.outline)
			for (let i = 0; i < piece.length; i += 2)
				expect(Math.abs(Math.hypot(piece[i], piece[i + 1]) - 50)).toBeLessThan(0.4);
	});
	it("has circles about its middle as contour lines", () => {
		expect(lines.contours.length).toBeGreaterThan(5);
		for (const piece of lines.contours) {
			const radii = Array.from({ length: piece.length / 2 }, (_, i) => Math.hypot(piece[2 * i], piece[2 * i + 1]));
			expect(Math.max(...radii) - Math.min(...radii)).toBeLessThan(0.8);
		}
	});
});

describe("a small sphere and a large one", () => {
	// R 20 at y = −100 (before) or 100 (behind), R 50 at the middle; seen from the front, where −y is nearer.
	it("before it, the small one is drawn whole, and hides nothing of the large one's outline", () => {
		const lines = draw(
			spheres([
				[0, -100, 0, 20],
				[0, 0, 0, 50],
			]),
			"front",
		);
		expect(lengthOf(lines.outline) / (2 * Math.PI * 70)).toBeCloseTo(1, 1.7);
	});
	it("behind it, the small one is not drawn at all", () => {
		const lines = draw(
			spheres([
				[0, 100, 0, 20],
				[0, 0, 0, 50],
			]),
			"front",
		);
		expect(lengthOf(lines.outline) / (2 * Math.PI * 50)).toBeCloseTo(1, 1.7);
	});
	it("behind it and half out, half of it is drawn", () => {
		// Centre 50 off the middle: its circle meets that of R 50 at x = (50² + 50² − 20²)/(2·50) = 46; what lies outside is
		// 2·(π − acos((50 − 46)/20))·20 long.
		const outside = 2 * (Math.PI - Math.acos(4 / 20)) * 20;
		const lines = draw(
			spheres([
				[50, 100, 0, 20],
				[0, 0, 0, 50],
			]),
			"front",
		);
		expect(lengthOf(lines.outline) / (2 * Math.PI * 50 + outside)).toBeCloseTo(1, 1.7);
	});
});

describe("the figure of the trial plan", () => {
	const { mesh, normals, plan } = handPlan({ points: 20, rings: 40 });
	const figure = finish(prepareFigure(mesh, normals));

	it.each(FACE_ORDER)("seen from %s: the grid finds the surface that trying every triangle finds", (face) => {
		const p = project(mesh.positions, FACE_VIEWS[face], plan.stone.placement);
		const grid = buildScreenGrid(p, mesh.triangles);
		const random = seededRandom(11);
		for (let i = 0; i < share(2000); i++) {
			const v = random.below(p.xs.length);
			const [x, y] = [p.xs[v] + random.normal() * 5, p.ys[v] + random.normal() * 5];
			const depth = nearestByForce(p, mesh, x, y);
			const found = grid.frontmost(x, y);
			expect(found >= 0).toBe(depth > -Infinity);
			if (depth === -Infinity) continue;
			expect(grid.covered(x, y, depth - 1e-6)).toBe(true);
			expect(grid.covered(x, y, depth + 1e-6)).toBe(false);
		}
	});

	it.each(["front", "left", "top"] as const)("seen from %s: nothing is drawn that the figure hides", (face) => {
		const p = project(mesh.positions, FACE_VIEWS[face], plan.stone.placement);
		const lines = finish(drawFigure(figure, FACE_VIEWS[face], plan.stone.placement, 0.25));
		// A contour line's depth is its level, so the surface seen at its place must lie at one of the levels.
		let checked = 0;
		let wrong = 0;
		for (const piece of lines.contours)
			for (let i = 0; i < piece.length; i += 8) {
				const depth = nearestByForce(p, mesh, piece[i], piece[i + 1]);
				checked++;
				const level =
					lines.contourBase + lines.contourStep * Math.round((depth - lines.contourBase) / lines.contourStep);
				if (Math.abs(depth - level) > 0.5) wrong++;
			}
		expect(checked).toBeGreaterThan(100);
		expect(wrong / checked).toBeLessThan(0.005);
	});
});
