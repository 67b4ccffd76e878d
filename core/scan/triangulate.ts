/** Polygons of a scan cut into triangles, convex or not. */

import { distanceSquared } from "./measures.ts";

/** 2-D scratch, grown on demand: the polygon in its own plane. */
let flat = new Float64Array(2 * 64);
let next = new Int32Array(64);
let previous = new Int32Array(64);
let reflex = new Uint8Array(64);

/**
 * How many corners may still be looked at in search of ears, for all polygons of a file together, and what each corner
 * adds. Polygons of a real scan stay far below; a damaged file, whose polygons cross themselves a thousand times, ends in
 * about a second instead of never: what is left is then cut without looking.
 */
export interface Effort {
	looks: number;
}
export const MOST_LOOKS = 2e8;
const LOOKS_A_CORNER = 1000;

/**
 * Cuts the polygon whose corners are `ring[0, n)` (indices into positions; counter-clockwise seen from outside) into n − 2
 * triangles, written to `out` from `at` on with the same facing.
 * A quadrilateral that is convex either way is cut along its shorter diagonal; a convex polygon as a fan; any other by
 * clipping ears (Meisters 1975; reflex corners in a grid) in the plane of its normal (Newell's sum, from memory). A
 * polygon that crosses itself still gives triangles between its corners.
 * Returns how many triangles: n − 2, or fewer when a corner is named twice running.
 */
export function triangulate(
	positions: Float64Array,
	ring: ArrayLike<number>,
	n: number,
	out: Uint32Array,
	at: number,
	effort: Effort,
): number {
	if (n === 3) {
		out[at] = ring[0];
		out[at + 1] = ring[1];
		out[at + 2] = ring[2];
		return 1;
	}
	flatten(positions, ring, n);
	// A corner that does not turn may be one named twice, with the true turn hidden between the two.
	for (let i = 0; i < n; i++)
		if (turnAt(i === 0 ? n - 1 : i - 1, i, i === n - 1 ? 0 : i + 1) <= 0)
			return (clipEars(ring, n, out, at, effort) - at) / 3;
	const second =
		n === 4 && distanceSquared(positions, ring[1], ring[3]) < distanceSquared(positions, ring[0], ring[2]) ? 1 : 0;
	for (let k = 1; k < n - 1; k++) {
		out[at++] = ring[second];
		out[at++] = ring[(second + k) % n];
		out[at++] = ring[(second + k + 1) % n];
	}
	return n - 2;
}

/** Drops the coordinate along which the polygon's normal is largest, turned so that the polygon runs counter-clockwise. */
function flatten(p: Float64Array, ring: ArrayLike<number>, n: number): void {
	if (flat.length < 2 * n) {
		flat = new Float64Array(3 * n);
		next = new Int32Array(1.5 * n);
		previous = new Int32Array(1.5 * n);
		reflex = new Uint8Array(1.5 * n);
	}
	const o = 3 * ring[0];
	let nx = 0;
	let ny = 0;
	let nz = 0;
	for (let i = 0; i < n; i++) {
		const a = 3 * ring[i];
		const b = 3 * ring[i === n - 1 ? 0 : i + 1];
		// Measured from the first corner, so that a polygon far from the origin keeps its digits.
		nx += (p[a + 1] - p[b + 1]) * (p[a + 2] - p[o + 2] + (p[b + 2] - p[o + 2]));
		ny += (p[a + 2] - p[b + 2]) * (p[a] - p[o] + (p[b] - p[o]));
		nz += (p[a] - p[b]) * (p[a + 1] - p[o + 1] + (p[b + 1] - p[o + 1]));
	}
	const ax = Math.abs(nx);
	const ay = Math.abs(ny);
	const az = Math.abs(nz);
	let u = 0;
	let v = 1;
	let facing = nz;
	if (ax >= ay && ax >= az) {
		u = 1;
		v = 2;
		facing = nx;
	} else if (ay >= az) {
		u = 2;
		v = 0;
		facing = ny;
	}
	if (facing < 0) [u, v] = [v, u];
	for (let i = 0; i < n; i++) {
		flat[2 * i] = p[3 * ring[i] + u] - p[o + u];
		flat[2 * i + 1] = p[3 * ring[i] + v] - p[o + v];
	}
}

/** Twice the area of the triangle a b c in the plane; positive when it turns counter-clockwise. */
function turnAt(a: number, b: number, c: number): number {
	return (
		(flat[2 * b] - flat[2 * a]) * (flat[2 * c + 1] - flat[2 * a + 1]) -
		(flat[2 * b + 1] - flat[2 * a + 1]) * (flat[2 * c] - flat[2 * a])
	);
}

/** Full turns without an ear after which a polygon is taken to cross itself. */
const FRUITLESS_TURNS = 8;

function clipEars(ring: ArrayLike<number>, n: number, out: Uint32Array, at: number, effort: Effort): number {
	effort.looks += LOOKS_A_CORNER * n;
	for (let i = 0; i < n; i++) {
		next[i] = i === n - 1 ? 0 : i + 1;
		previous[i] = i === 0 ? n - 1 : i - 1;
	}
	for (let i = 0; i < n; i++) reflex[i] = turnAt(previous[i], i, next[i]) <= 0 ? 1 : 0;
	sortReflex(n);
	let fruitless = 0;
	let left = n;
	let corner = 0;
	let since = 0;
	while (left > 3) {
		const careful = fruitless < FRUITLESS_TURNS && effort.looks > 0;
		const twice = sameSpot(corner, next[corner]);
		const ear = twice || (reflex[corner] === 0 && (!careful || isEar(corner, effort)));
		// A full turn without an ear: the polygon crosses or touches itself. Any corner will do to go on.
		if (!ear && since <= left) {
			corner = next[corner];
			since++;
			continue;
		}
		if (!ear) fruitless++;
		const a = previous[corner];
		const b = next[corner];
		// A corner that the polygon names twice running is passed over, not made a triangle without area.
		if (ring[corner] !== ring[b] && ring[a] !== ring[corner]) {
			out[at++] = ring[a];
			out[at++] = ring[corner];
			out[at++] = ring[b];
		}
		reflex[corner] = 0;
		next[a] = b;
		previous[b] = a;
		left--;
		since = 0;
		if (reflex[a] === 1 && turnAt(previous[a], a, b) > 0) reflex[a] = 0;
		if (reflex[b] === 1 && turnAt(a, b, next[b]) > 0) reflex[b] = 0;
		// The far end next: clipping one side of a corner after another would leave slivers.
		corner = next[b];
	}
	out[at++] = ring[previous[corner]];
	out[at++] = ring[corner];
	out[at++] = ring[next[corner]];
	return at;
}

/** Reflex corners sorted into square cells of the plane, so that an ear is tested against those near it only. */
let cellStart = new Int32Array(2);
let cellItems = new Int32Array(64);
let columns = 1;
let rows = 1;
let lowU = 0;
let lowV = 0;
let cellSize = 1;

const column = (u: number): number => Math.min(columns - 1, Math.max(0, Math.floor((u - lowU) / cellSize)));
const row = (v: number): number => Math.min(rows - 1, Math.max(0, Math.floor((v - lowV) / cellSize)));

function sortReflex(n: number): void {
	let highU = flat[0];
	let highV = flat[1];
	lowU = highU;
	lowV = highV;
	for (let i = 1; i < n; i++) {
		lowU = Math.min(lowU, flat[2 * i]);
		highU = Math.max(highU, flat[2 * i]);
		lowV = Math.min(lowV, flat[2 * i + 1]);
		highV = Math.max(highV, flat[2 * i + 1]);
	}
	// About one corner a cell along a line, few in a small polygon.
	const wide = Math.max(highU - lowU, highV - lowV);
	const across = Math.max(1, Math.min(1024, Math.floor(Math.sqrt(n / 4))));
	cellSize = wide > 0 && wide - wide === 0 ? wide / across : 1;
	columns = wide > 0 ? Math.min(across, 1 + Math.floor((highU - lowU) / cellSize)) : 1;
	rows = wide > 0 ? Math.min(across, 1 + Math.floor((highV - lowV) / cellSize)) : 1;
	if (!(columns >= 1 && rows >= 1)) columns = rows = 1;
	const cells = columns * rows;
	if (cellStart.length < cells + 2) cellStart = new Int32Array(2 * cells + 2);
	if (cellItems.length < n) cellItems = new Int32Array(2 * n);
	cellStart.fill(0, 0, cells + 2);
	// Counts stand two places up, so that filling the cells leaves every start in its own place.
	for (let i = 0; i < n; i++)
		if (reflex[i] === 1) cellStart[row(flat[2 * i + 1]) * columns + column(flat[2 * i]) + 2]++;
	for (let c = 2; c < cells + 2; c++) cellStart[c] += cellStart[c - 1];
	for (let i = 0; i < n; i++)
		if (reflex[i] === 1) cellItems[cellStart[row(flat[2 * i + 1]) * columns + column(flat[2 * i]) + 1]++] = i;
}

/** Whether no other reflex corner lies in the triangle of `b` and its neighbours, its edges included. */
function isEar(b: number, effort: Effort): boolean {
	const a = previous[b];
	const c = next[b];
	const left = column(Math.min(flat[2 * a], flat[2 * b], flat[2 * c]));
	const right = column(Math.max(flat[2 * a], flat[2 * b], flat[2 * c]));
	const bottom = row(Math.min(flat[2 * a + 1], flat[2 * b + 1], flat[2 * c + 1]));
	const top = row(Math.max(flat[2 * a + 1], flat[2 * b + 1], flat[2 * c + 1]));
	for (let r = bottom; r <= top; r++) {
		// The cells of a row lie one behind the other, and so do their corners.
		const end = cellStart[r * columns + right + 1];
		const begin = cellStart[r * columns + left];
		effort.looks -= end - begin;
		for (let i = begin; i < end; i++) {
			const k = cellItems[i];
			if (reflex[k] === 0 || k === a || k === c) continue;
			if (turnAt(a, b, k) >= 0 && turnAt(b, c, k) >= 0 && turnAt(c, a, k) >= 0 && !sameSpot(k, a) && !sameSpot(k, c))
				return false;
		}
	}
	return true;
}

const sameSpot = (a: number, b: number): boolean => flat[2 * a] === flat[2 * b] && flat[2 * a + 1] === flat[2 * b + 1];
