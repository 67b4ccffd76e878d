/** The convex hull of the figure: all that counts when a convex stone is to hold it (handbook 10). */

import { type Job, within } from "../job.ts";
import { Refusal } from "../refusal.ts";
import { crossInto } from "../scan/measures.ts";
import { orientation } from "./orientation.ts";
import { quickHull } from "./quickHull.ts";

/** A convex hull in the frame of the points that it was made from, mm. */
export interface Hull {
	/** x, y, z of the corners. */
	readonly vertices: Float64Array;
	/** Which input point each corner is. */
	readonly indices: Uint32Array;
	/** Three corners a triangle, counter-clockwise from outside; flat faces of more corners are cut into triangles. */
	readonly triangles: Uint32Array;
	/** mm³ */
	readonly volume: number;
	/** mm² */
	readonly area: number;
}

/** Fewer points than this are wrapped without sieving. */
const SIEVE_FROM = 3000;
/** Cells along each side of the six faces of the cube of directions. */
const CELLS = 20;
/** Points per slice in the sieve, some 2 ms. */
const SLICE = 100_000;
/** Points are dropped only when this far inside, relative to their distance from the centre: a thousand rounding errors. */
const INSIDE = 1 - 1e-12;

/**
 * Convex hull of points (x, y, z, in mm). Every point lies in the hull exactly, or within 1e-12 of the size where it was
 * dropped as interior; no corner lies inside a flat face.
 * Refuses fewer than four points and points that all lie in one plane.
 */
export function* convexHull(positions: Float64Array): Job<Hull> {
	const count = positions.length / 3;
	if (count < 4) throw new Refusal("stone.tooFewPoints", { points: count });
	let kept = yield* within(sieve(positions), 0, 0.4);
	let corners = yield* within(wrap(positions, kept), 0.4, 0.95);
	let indices = usedCorners(corners, count);
	const bent = cornersOffFaces(positions, corners);
	if (indices.some((v) => bent[v] === 0)) {
		// Climbing from corner to corner must not stop on a corner that is none: wrap again without them.
		kept = indices.filter((v) => bent[v] === 1);
		corners = yield* within(wrap(positions, kept), 0.95, 1);
		indices = usedCorners(corners, count);
	}
	const renumbered = new Uint32Array(count);
	const vertices = new Float64Array(3 * indices.length);
	for (let i = 0; i < indices.length; i++) {
		renumbered[indices[i]] = i;
		for (let k = 0; k < 3; k++) vertices[3 * i + k] = positions[3 * indices[i] + k];
	}
	const triangles = corners.map((v) => renumbered[v]);
	return { vertices, indices, triangles, ...measures(vertices, triangles) };
}

/** Triangles of the hull of the chosen points, as indices into all positions. */
function* wrap(positions: Float64Array, chosen: Uint32Array): Job<Uint32Array> {
	const at = new Float64Array(3 * chosen.length);
	for (let i = 0; i < chosen.length; i++) {
		at[3 * i] = positions[3 * chosen[i]];
		at[3 * i + 1] = positions[3 * chosen[i] + 1];
		at[3 * i + 2] = positions[3 * chosen[i] + 2];
	}
	const triangles = yield* quickHull(at, chosen.length);
	if (triangles === null) throw new Refusal("stone.flatFigure", { points: positions.length / 3 });
	return triangles.map((i) => chosen[i]);
}

/** The points that triangles use, in their order. */
function usedCorners(triangles: Uint32Array, count: number): Uint32Array {
	const used = new Uint8Array(count);
	for (let t = 0; t < triangles.length; t++) used[triangles[t]] = 1;
	const corners = new Uint32Array(used.reduce((sum, u) => sum + u, 0));
	for (let v = 0, k = 0; v < count; v++) if (used[v] === 1) corners[k++] = v;
	return corners;
}

/** 1 for each corner around which not all triangles lie in one plane. */
function cornersOffFaces(positions: Float64Array, triangles: Uint32Array): Uint8Array {
	const firstTriangle = new Int32Array(positions.length / 3).fill(-1);
	const bent = new Uint8Array(positions.length / 3);
	for (let t = 0; t < triangles.length; t += 3) {
		for (let i = 0; i < 3; i++) {
			const v = triangles[t + i];
			if (bent[v] === 1) continue;
			const f = firstTriangle[v];
			if (f < 0) {
				firstTriangle[v] = t;
				continue;
			}
			for (let j = 1; j < 3; j++) {
				const other = triangles[t + ((i + j) % 3)];
				if (orientation(positions, triangles[f], triangles[f + 1], triangles[f + 2], other) !== 0) bent[v] = 1;
			}
		}
	}
	return bent;
}

/** Volume and area, with the first corner as origin so that a figure far from zero loses no digits. */
function measures(vertices: Float64Array, triangles: Uint32Array): { volume: number; area: number } {
	let volume = 0;
	let area = 0;
	const [ox, oy, oz] = vertices;
	const n = new Float64Array(3);
	for (let t = 0; t < triangles.length; t += 3) {
		const a = 3 * triangles[t];
		area += crossInto(n, vertices, triangles[t], triangles[t + 1], triangles[t + 2]) / 2;
		volume += (n[0] * (vertices[a] - ox) + n[1] * (vertices[a + 1] - oy) + n[2] * (vertices[a + 2] - oz)) / 6;
	}
	return { volume, area };
}

/**
 * The points that may be corners of the hull: all but those well inside a smaller polyhedron.
 *
 * Directions from the mean are sorted into the cells of a cube's six faces. The furthest point of each cell is kept, those
 * points are wrapped, and each cell gets the greatest gauge of that polyhedron over its square; the gauge (by how much the
 * polyhedron must be scaled to hold a point) is convex, so its greatest value stands at a corner of the square. A point
 * whose gauge is below 1 by the cell's bound is inside. Two passes over the points and a table, whatever the figure.
 */
function* sieve(positions: Float64Array): Job<Uint32Array> {
	const count = positions.length / 3;
	const everything = (): Uint32Array => Uint32Array.from({ length: count }, (_, i) => i);
	if (count < SIEVE_FROM) return everything();
	let mx = 0;
	let my = 0;
	let mz = 0;
	for (let i = 0; i < 3 * count; i += 3) {
		mx += positions[i];
		my += positions[i + 1];
		mz += positions[i + 2];
	}
	mx /= count;
	my /= count;
	mz /= count;

	const cellOf = new Uint16Array(count);
	/** Greatest coordinate of each point, from the mean. */
	const reach = new Float64Array(count);
	const furthest = new Int32Array(6 * CELLS * CELLS).fill(-1);
	const furthestSquared = new Float64Array(6 * CELLS * CELLS);
	const half = CELLS / 2;
	for (let from = 0; from < count; from += SLICE) {
		for (let i = from; i < Math.min(count, from + SLICE); i++) {
			const x = positions[3 * i] - mx;
			const y = positions[3 * i + 1] - my;
			const z = positions[3 * i + 2] - mz;
			const ax = Math.abs(x);
			const ay = Math.abs(y);
			const az = Math.abs(z);
			let face: number;
			let m: number;
			let u: number;
			let v: number;
			if (ax >= ay && ax >= az) {
				face = x < 0 ? 1 : 0;
				m = ax;
				u = y;
				v = z;
			} else if (ay >= az) {
				face = y < 0 ? 3 : 2;
				m = ay;
				u = z;
				v = x;
			} else {
				face = z < 0 ? 5 : 4;
				m = az;
				u = x;
				v = y;
			}
			reach[i] = m;
			if (m === 0) continue;
			const perCell = half / m;
			const column = Math.min(CELLS - 1, Math.floor(u * perCell + half));
			const row = Math.min(CELLS - 1, Math.floor(v * perCell + half));
			const cell = (face * CELLS + row) * CELLS + column;
			cellOf[i] = cell;
			const squared = x * x + y * y + z * z;
			if (squared > furthestSquared[cell]) {
				furthestSquared[cell] = squared;
				furthest[cell] = i;
			}
		}
		yield { stage: "wrapping the figure", share: (0.4 * Math.min(count, from + SLICE)) / count };
	}

	const chosen = furthest.filter((i) => i >= 0);
	const at = new Float64Array(3 * chosen.length);
	for (let i = 0; i < chosen.length; i++) {
		at[3 * i] = positions[3 * chosen[i]] - mx;
		at[3 * i + 1] = positions[3 * chosen[i] + 1] - my;
		at[3 * i + 2] = positions[3 * chosen[i] + 2] - mz;
	}
	const core = yield* within(quickHull(at, chosen.length), 0.4, 0.6);
	if (core === null) return everything();
	const gauge = yield* within(cellGauges(at, core), 0.6, 0.8);
	if (gauge === null) return everything();

	const kept: number[] = [];
	for (let from = 0; from < count; from += SLICE) {
		for (let i = from; i < Math.min(count, from + SLICE); i++) {
			if (reach[i] * gauge[cellOf[i]] >= INSIDE) kept.push(i);
		}
		yield { stage: "wrapping the figure", share: 0.8 + (0.2 * Math.min(count, from + SLICE)) / count };
	}
	return Uint32Array.from(kept);
}

/** Greatest gauge of a polyhedron around the origin over each cell at reach 1; null when the origin is not well inside. */
function* cellGauges(at: Float64Array, triangles: Uint32Array): Job<Float64Array | null> {
	const faces = triangles.length / 3;
	const normals = new Float64Array(triangles.length);
	const n = new Float64Array(3);
	for (let f = 0; f < faces; f++) {
		const a = 3 * triangles[3 * f];
		crossInto(n, at, triangles[3 * f], triangles[3 * f + 1], triangles[3 * f + 2]);
		const [nx, ny, nz] = n;
		const offset = nx * at[a] + ny * at[a + 1] + nz * at[a + 2];
		const size = Math.sqrt(
			(nx * nx + ny * ny + nz * nz) * (at[a] * at[a] + at[a + 1] * at[a + 1] + at[a + 2] * at[a + 2]),
		);
		if (!(offset > 1e-3 * size)) return null;
		normals[3 * f] = nx / offset;
		normals[3 * f + 1] = ny / offset;
		normals[3 * f + 2] = nz / offset;
	}
	const gauge = new Float64Array(6 * CELLS * CELLS);
	for (let face = 0; face < 6; face++) {
		const sign = face % 2 === 0 ? 1 : -1;
		const axis = face >> 1;
		yield { stage: "wrapping the figure", share: face / 6 };
		for (let r = 0; r <= CELLS; r++) {
			for (let c = 0; c <= CELLS; c++) {
				const d = [0, 0, 0];
				d[axis] = sign;
				d[(axis + 1) % 3] = (2 * c) / CELLS - 1;
				d[(axis + 2) % 3] = (2 * r) / CELLS - 1;
				const [dx, dy, dz] = d;
				let g = 0;
				for (let k = 0; k < normals.length; k += 3) {
					const value = normals[k] * dx + normals[k + 1] * dy + normals[k + 2] * dz;
					if (value > g) g = value;
				}
				for (const row of [r - 1, r]) {
					for (const column of [c - 1, c]) {
						if (row < 0 || row >= CELLS || column < 0 || column >= CELLS) continue;
						const cell = (face * CELLS + row) * CELLS + column;
						if (g > gauge[cell]) gauge[cell] = g;
					}
				}
			}
		}
	}
	return gauge;
}
