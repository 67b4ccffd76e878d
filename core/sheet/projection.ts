/** The figure as it stands in the stone, seen square on from one side. */

import type { Job } from "../job.ts";
import type { TriangleMesh } from "../scan/mesh.ts";
import { dot, type Mat3, type Placement, turnBack, type Vec3 } from "../vector.ts";
import type { ViewAxes } from "./faces.ts";

/** Coordinates of every vertex in a view: x to the viewer's right, y up, z towards the viewer; mm of the stone frame. */
export interface Projection {
	readonly xs: Float64Array;
	readonly ys: Float64Array;
	readonly zs: Float64Array;
}

/** A view's three axes, turned back into the model frame, with what the translation adds to each. */
export function modelAxes(view: ViewAxes, placement: Placement): { axes: [Vec3, Vec3, Vec3]; shift: Vec3 } {
	const r: Mat3 = placement.rotation;
	const t = placement.translation;
	return {
		axes: [turnBack(r, view.right), turnBack(r, view.up), turnBack(r, view.towards)],
		shift: [dot(view.right, t), dot(view.up, t), dot(view.towards, t)],
	};
}

/** Projects positions (x, y, z of each vertex, model frame) into a view. */
export function project(positions: Float64Array, view: ViewAxes, placement: Placement): Projection {
	const { axes, shift } = modelAxes(view, placement);
	const [[ax, ay, az], [bx, by, bz], [cx, cy, cz]] = axes;
	const n = positions.length / 3;
	const xs = new Float64Array(n);
	const ys = new Float64Array(n);
	const zs = new Float64Array(n);
	for (let i = 0, p = 0; i < n; i++, p += 3) {
		const x = positions[p];
		const y = positions[p + 1];
		const z = positions[p + 2];
		xs[i] = ax * x + ay * y + az * z + shift[0];
		ys[i] = bx * x + by * y + bz * z + shift[1];
		zs[i] = cx * x + cy * y + cz * z + shift[2];
	}
	return { xs, ys, zs };
}

/** A place in a view: x right, y up, z towards the viewer; mm. */
export const inView = (view: ViewAxes, stone: Vec3): Vec3 => [
	dot(view.right, stone),
	dot(view.up, stone),
	dot(view.towards, stone),
];

/**
 * Triples given at the vertices (positions, normals) after `passes` averages of each vertex with its neighbours. One pass spreads
 * about an edge length, so that a few take scan noise out of what lines are read from; the figure itself is never drawn from it.
 */
export function* smoothTriples(mesh: TriangleMesh, triples: Float64Array, passes: number): Job<Float64Array> {
	const t = mesh.triangles;
	const n = mesh.positions.length / 3;
	const neighbours = new Float64Array(n);
	for (let i = 0; i < t.length; i++) neighbours[t[i]] += 2;
	let from = triples;
	for (let pass = 0; pass < passes; pass++) {
		const to = new Float64Array(3 * n);
		addNeighbours(from, t, to);
		meetHalfway(from, neighbours, to);
		from = to;
		yield { stage: "smoothing what lines are read from", share: (pass + 1) / passes };
	}
	return from;
}

/** Adds to the triple of every corner of every triangle those of the other two. */
function addNeighbours(from: Float64Array, t: Uint32Array, to: Float64Array): void {
	for (let i = 0; i < t.length; i += 3) {
		const a = 3 * t[i];
		const b = 3 * t[i + 1];
		const c = 3 * t[i + 2];
		for (let k = 0; k < 3; k++) {
			to[a + k] += from[b + k] + from[c + k];
			to[b + k] += from[c + k] + from[a + k];
			to[c + k] += from[a + k] + from[b + k];
		}
	}
}

/** Half of each triple of `from` and half of the mean of its neighbours, whose sum stands in `to`. */
function meetHalfway(from: Float64Array, neighbours: Float64Array, to: Float64Array): void {
	for (let v = 0, p = 0; v < neighbours.length; v++)
		for (let k = 0; k < 3; k++, p++)
			if (neighbours[v] > 0) to[p] = 0.5 * from[p] + (0.5 * to[p]) / neighbours[v];
			else to[p] = from[p];
}
