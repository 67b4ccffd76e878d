import { describe, expect, test } from "vitest";
import { finish } from "../../../core/job.ts";
import { Join } from "../../../core/pointing/join.ts";
import { DOUBTFUL, HELD, PAST_BORDER } from "../../../core/pointing/measureCover.ts";
import { buildAdjacency } from "../../../core/surface/adjacency.ts";
import { vertexNormals } from "../../../core/surface/vertexNormals.ts";
import type { Vec3 } from "../../../core/vector.ts";
import { flat, type Shape, sphere, spherePatch } from "../../support/shapes.ts";

function joinOn(shape: Shape, vertices: readonly number[], allowance: number, floor = 0): Join {
	const { mesh } = shape;
	const normals = vertexNormals(mesh);
	const surface = { mesh, adjacency: buildAdjacency(mesh), carries: new Uint8Array(normals.length / 3).fill(1) };
	const join = new Join(surface, normals, allowance, floor);
	const vec = (list: Float64Array, v: number): Vec3 => [list[3 * v], list[3 * v + 1], list[3 * v + 2]];
	for (const v of vertices) join.enter(v, vec(mesh.positions, v), vec(normals, v));
	finish(join.spread());
	finish(join.measure());
	return join;
}

const nearestTo = ({ mesh }: Shape, x: number, y: number, z: number): number => {
	const d = (v: number): number =>
		Math.hypot(mesh.positions[3 * v] - x, mesh.positions[3 * v + 1] - y, mesh.positions[3 * v + 2] - z);
	let best = 0;
	for (let v = 1; v < mesh.positions.length / 3; v++) if (d(v) < d(best)) best = v;
	return best;
};

describe("a flat with four points on a square, j 5", () => {
	const shape = flat(40, { edge: 1 });
	const corners = [
		[-15, -15],
		[15, -15],
		[15, 15],
		[-15, 15],
	].map(([x, y]) => nearestTo(shape, x, y, 0));
	const join = joinOn(shape, corners, 5);
	test("two facets, their shared edge known, and the other diagonal kept for doubt", () => {
		expect(join.facets.count).toBe(2);
		expect(join.facets.corners.length).toBe(12);
		expect([...join.facets.across].filter((f) => f >= 0)).toHaveLength(2);
	});
	test("the cover is 5 everywhere under the facets, and past them there is none", () => {
		const { cover, state } = join.cover;
		for (let v = 0; v < cover.length; v++) {
			const [x, y] = [shape.mesh.positions[3 * v], shape.mesh.positions[3 * v + 1]];
			if (Math.max(Math.abs(x), Math.abs(y)) < 13.5) {
				expect(state[v]).toBe(HELD);
				expect(cover[v]).toBeCloseTo(5, 5);
			}
			if (Math.max(Math.abs(x), Math.abs(y)) > 16.5) {
				expect(state[v]).toBe(PAST_BORDER);
				expect(cover[v]).toBeNaN();
			}
		}
	});
});

/** Vertices of a whole sphere nearest to the corners of an icosahedron: twelve points, twenty nearly even facets. */
const ICOSAHEDRON = (() => {
	const g = (1 + Math.sqrt(5)) / 2;
	const list: [number, number, number][] = [];
	for (const a of [-1, 1]) for (const b of [-g, g]) list.push([0, a, b], [a, b, 0], [b, 0, a]);
	return list;
})();

describe("cover of facets on spheres against the exact circle: j − s(1 + j k), s of the raised facet's circumradius", () => {
	test.each([
		[20, 6],
		[20, 10],
		[50, 10],
		[50, 16],
		[100, 30],
	])("sphere R %s, j %s, whole, within 5 % of the sag", (radius, j) => {
		const shape = sphere(radius, { edge: radius / 25 });
		const l = Math.hypot(...ICOSAHEDRON[0]);
		const points = ICOSAHEDRON.map((p) =>
			nearestTo(shape, ...(p.map((x) => (x * radius) / l) as [number, number, number])),
		);
		const join = joinOn(shape, points, j, Number.NEGATIVE_INFINITY);
		const { corners, count } = join.facets;
		expect(count).toBe(20);
		const p = shape.mesh.positions;
		for (let f = 0; f < count; f++) {
			const at = [0, 1, 2].map((k) => {
				const v = 3 * points[corners[3 * f + k]];
				return [p[v], p[v + 1], p[v + 2]].map((x) => (x * (radius + j)) / radius);
			});
			const [a, b, c] = [0, 1, 2].map((k) => Math.hypot(...at[k].map((x, i) => x - at[(k + 1) % 3][i])));
			const half = (a + b + c) / 2;
			const area = Math.sqrt(half * (half - a) * (half - b) * (half - c));
			const circumradius = (a * b * c) / (4 * area);
			const sag = radius + j - Math.sqrt((radius + j) ** 2 - circumradius ** 2);
			// The least cover under the facet is at its middle, on the sphere.
			let least = Number.POSITIVE_INFINITY;
			const middle = nearestTo(
				shape,
				...(at[0].map((x, i) => ((x + at[1][i] + at[2][i]) / 3) * (radius / (radius + j))) as [number, number, number]),
			);
			for (let v = 0; v < p.length / 3; v++) {
				const away = Math.hypot(
					p[3 * v] - p[3 * middle],
					p[3 * v + 1] - p[3 * middle + 1],
					p[3 * v + 2] - p[3 * middle + 2],
				);
				if (away < radius / 5) least = Math.min(least, join.cover.cover[v]);
			}
			expect(Math.abs(least - (j - sag))).toBeLessThan(0.05 * sag);
		}
	});

	test.each([
		[20, 6, 12],
		[50, 3.5, 20],
		[50, 2, 16],
		[100, 2, 24],
	])("sphere R %s, j %s, one even facet of spacing %s on a patch, within 5 % of the cover", (radius, j, h) => {
		const shape = spherePatch(radius, 1.8 * h, { edge: h / 40 });
		const corner = (turn: number): number => {
			const [x, y] = [Math.cos(turn), Math.sin(turn)].map((q) => (q * h) / Math.sqrt(3));
			// The patch looks towards −y.
			return nearestTo(shape, x, -Math.sqrt(radius ** 2 - x * x - y * y), y);
		};
		const points = [0, 1, 2].map((k) => corner((2 * Math.PI * k) / 3));
		const join = joinOn(shape, points, j);
		const circumradius = (h / Math.sqrt(3)) * ((radius + j) / radius);
		const exact = j - (radius + j - Math.sqrt((radius + j) ** 2 - circumradius ** 2));
		const middle = join.cover.cover[nearestTo(shape, 0, -radius, 0)];
		expect(Math.abs(middle - exact)).toBeLessThan(0.05 * Math.abs(exact) + 0.02);
	});
});

test("where the other diagonal would cut in, the ground is doubtful", () => {
	// A ridge along x: joined along it the cover holds, joined across it the ridge sticks out.
	const shape = flat(60, { edge: 1 });
	const positions = shape.mesh.positions.slice();
	for (let v = 0; v < positions.length; v += 3) positions[v + 2] = -0.35 * Math.abs(positions[v + 1]);
	const ridge: Shape = { ...shape, mesh: { positions, triangles: shape.mesh.triangles } };
	const points = [
		[-20, 0],
		[20, 0],
		[0, 20],
		[0, -20],
	].map(([x, y]) => nearestTo(ridge, x, y, -0.35 * Math.abs(y)));
	const join = joinOn(ridge, points, 3);
	const middle = nearestTo(ridge, 0, 1, -0.35);
	expect(join.facets.corners.length).toBe(12);
	expect(join.cover.state[middle] === DOUBTFUL || join.cover.cover[middle] < 0).toBe(true);
});

test("points entered or left out one by one leave the same join as all at once", () => {
	const shape = sphere(30, { edge: 1.5 });
	const vertices = [0, 40, 333, 800, 1200, 1500, 1900, 2100, 2500].filter((v) => v < shape.k1.length);
	const whole = joinOn(shape, vertices, 4);
	const step = joinOn(shape, vertices.slice(0, -2), 4);
	const normals = vertexNormals(shape.mesh);
	for (const v of vertices.slice(-2)) {
		step.enter(
			v,
			[...shape.mesh.positions.slice(3 * v, 3 * v + 3)] as unknown as Vec3,
			[...normals.slice(3 * v, 3 * v + 3)] as unknown as Vec3,
		);
		step.spreadAtOnce();
		finish(step.measure());
	}
	const last = vertices.length - 1;
	step.leaveOut([last]);
	finish(step.measure());
	step.putBack(last);
	step.spreadAtOnce();
	finish(step.measure());
	let other = 0;
	for (let v = 0; v < shape.k1.length; v++) if (Math.abs(step.cover.cover[v] - whole.cover.cover[v]) > 1e-4) other++;
	expect(other / shape.k1.length).toBeLessThan(0.03);
});
