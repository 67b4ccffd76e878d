/**
 * Quickhull on flat arrays (Barber, Dobkin and Huhdanpaa 1996), with triangles only and every decision exact.
 *
 * Points in the plane of a triangle do not see it. With exact decisions the triangles that a point sees then always form
 * a disc whose rim no new triangle lies flat on, so that no merging of faces and no tolerance is needed.
 */
import type { Job } from "../job.ts";
import { ORIENTATION_ERROR, orientation } from "./orientation.ts";

/** Per triangle: normal (not of unit length) and the error bound of its product with a difference of two points. */
const PLANE_STRIDE = 4;
/** Points added between two yields; an addition costs some 20 µs early, when it hands on many points, and 2 µs later. */
const SLICE = 400;

/** Three points (a, b, c) and a fourth off their plane, or null when all points lie in one plane. */
function firstTetrahedron(at: Float64Array, count: number): [number, number, number, number] | null {
	const extremes: number[] = [];
	for (let axis = 0; axis < 3; axis++) {
		let low = 0;
		let high = 0;
		for (let i = 1; i < count; i++) {
			if (at[3 * i + axis] < at[3 * low + axis]) low = i;
			if (at[3 * i + axis] > at[3 * high + axis]) high = i;
		}
		extremes.push(low, high);
	}
	const x = (i: number, j: number): number => at[3 * i] - at[3 * j];
	const y = (i: number, j: number): number => at[3 * i + 1] - at[3 * j + 1];
	const z = (i: number, j: number): number => at[3 * i + 2] - at[3 * j + 2];
	let a = 0;
	let b = 0;
	let longest = 0;
	for (const p of extremes) {
		for (const q of extremes) {
			const l = x(p, q) * x(p, q) + y(p, q) * y(p, q) + z(p, q) * z(p, q);
			if (l > longest) {
				longest = l;
				a = p;
				b = q;
			}
		}
	}
	if (longest === 0) return null;
	let c = a;
	let widest = 0;
	const ux = x(b, a);
	const uy = y(b, a);
	const uz = z(b, a);
	for (let i = 0; i < count; i++) {
		const cx = uy * z(i, a) - uz * y(i, a);
		const cy = uz * x(i, a) - ux * z(i, a);
		const cz = ux * y(i, a) - uy * x(i, a);
		const w = cx * cx + cy * cy + cz * cz;
		if (w > widest) {
			widest = w;
			c = i;
		}
	}
	if (c === a) return null;
	const nx = uy * z(c, a) - uz * y(c, a);
	const ny = uz * x(c, a) - ux * z(c, a);
	const nz = ux * y(c, a) - uy * x(c, a);
	let d = a;
	let deepest = 0;
	for (let i = 0; i < count; i++) {
		const h = Math.abs(nx * x(i, a) + ny * y(i, a) + nz * z(i, a));
		if (h > deepest) {
			deepest = h;
			d = i;
		}
	}
	// The furthest point in doubles may be a rounding error away from a plane that holds all points.
	if (orientation(at, a, b, c, d) !== 0) return [a, b, c, d];
	for (let i = 0; i < count; i++) if (orientation(at, a, b, c, i) !== 0) return [a, b, c, i];
	return null;
}

/**
 * Triangles of the convex hull of `count` points (x, y, z in `at`), counter-clockwise from outside, as point indices;
 * null when all points lie in one plane. Points inside faces may be among the corners, points strictly inside never.
 */
export function* quickHull(at: Float64Array, count: number): Job<Uint32Array | null> {
	const first = firstTetrahedron(at, count);
	if (first === null) return null;

	let room = 256;
	let corners = new Int32Array(3 * room);
	/** Triangle across the edge from corner i to corner i + 1. */
	let across = new Int32Array(3 * room);
	let planes = new Float64Array(PLANE_STRIDE * room);
	/** Head of the list of points that see the triangle, −1 when none; −2 when the triangle is not in use. */
	let outside = new Int32Array(room);
	let furthest = new Int32Array(room);
	let furthestHeight = new Float64Array(room);
	/** 2·round + 1: the point of this round sees the triangle; 2·round: it does not. */
	let seen = new Int32Array(room);
	let used = 0;
	const free: number[] = [];
	const nextOutside = new Int32Array(count);
	/** The new triangle whose edge on the rim starts at this point. */
	const rimStart = new Int32Array(count);

	const extent = [0, 0, 0];
	for (let axis = 0; axis < 3; axis++) {
		let low = Number.POSITIVE_INFINITY;
		let high = Number.NEGATIVE_INFINITY;
		for (let i = 0; i < count; i++) {
			if (at[3 * i + axis] < low) low = at[3 * i + axis];
			if (at[3 * i + axis] > high) high = at[3 * i + axis];
		}
		extent[axis] = high - low;
	}

	const grow = (): void => {
		room *= 2;
		const int = (old: Int32Array<ArrayBuffer>, size: number): Int32Array<ArrayBuffer> => {
			const grown = new Int32Array(size);
			grown.set(old);
			return grown;
		};
		const double = (old: Float64Array<ArrayBuffer>, size: number): Float64Array<ArrayBuffer> => {
			const grown = new Float64Array(size);
			grown.set(old);
			return grown;
		};
		corners = int(corners, 3 * room);
		across = int(across, 3 * room);
		outside = int(outside, room);
		furthest = int(furthest, room);
		seen = int(seen, room);
		planes = double(planes, PLANE_STRIDE * room);
		furthestHeight = double(furthestHeight, room);
	};

	const newTriangle = (a: number, b: number, c: number): number => {
		const recycled = free.pop();
		if (recycled === undefined && used === room) grow();
		const f = recycled ?? used++;
		corners[3 * f] = a;
		corners[3 * f + 1] = b;
		corners[3 * f + 2] = c;
		const bx = at[3 * b] - at[3 * a];
		const by = at[3 * b + 1] - at[3 * a + 1];
		const bz = at[3 * b + 2] - at[3 * a + 2];
		const cx = at[3 * c] - at[3 * a];
		const cy = at[3 * c + 1] - at[3 * a + 1];
		const cz = at[3 * c + 2] - at[3 * a + 2];
		planes[4 * f] = by * cz - bz * cy;
		planes[4 * f + 1] = bz * cx - bx * cz;
		planes[4 * f + 2] = bx * cy - by * cx;
		planes[4 * f + 3] =
			ORIENTATION_ERROR *
			1.001 *
			((Math.abs(by * cz) + Math.abs(bz * cy)) * extent[0] +
				(Math.abs(bz * cx) + Math.abs(bx * cz)) * extent[1] +
				(Math.abs(bx * cy) + Math.abs(by * cx)) * extent[2]);
		outside[f] = -1;
		furthest[f] = -1;
		furthestHeight[f] = 0;
		seen[f] = 0;
		return f;
	};

	/** Twice the area times the height of p over triangle f; exact in its sign, and 1e-300 stands for "just over it". */
	const heightOver = (f: number, p: number): number => {
		const a = corners[3 * f];
		const h =
			planes[4 * f] * (at[3 * p] - at[3 * a]) +
			planes[4 * f + 1] * (at[3 * p + 1] - at[3 * a + 1]) +
			planes[4 * f + 2] * (at[3 * p + 2] - at[3 * a + 2]);
		const error = planes[4 * f + 3];
		if (h > error || h < -error) return h;
		const sign = orientation(at, a, corners[3 * f + 1], corners[3 * f + 2], p);
		return sign > 0 ? Math.max(h, 1e-300) : Math.min(h, sign * 1e-300);
	};

	/** Triangles to look at again, oldest first: growing evenly buries points sooner than working one corner to its end. */
	let queue: number[] = [];
	let queueStart = 0;

	/** Hands each point of a list to the first of the triangles that it sees; a point that sees none is inside. */
	const handOn = (list: number, triangles: readonly number[]): void => {
		for (let p = list; p >= 0; ) {
			const next = nextOutside[p];
			for (let k = 0; k < triangles.length; k++) {
				const f = triangles[k];
				const h = heightOver(f, p);
				if (h > 0) {
					nextOutside[p] = outside[f];
					outside[f] = p;
					if (h > furthestHeight[f]) {
						furthestHeight[f] = h;
						furthest[f] = p;
					}
					break;
				}
			}
			p = next;
		}
		for (const f of triangles) if (outside[f] >= 0) queue.push(f);
	};

	const link = (f: number, i: number, g: number, j: number): void => {
		across[3 * f + i] = g;
		across[3 * g + j] = f;
	};
	const edgeTowards = (g: number, f: number): number => (across[3 * g] === f ? 0 : across[3 * g + 1] === f ? 1 : 2);

	{
		let [a, b, c, d] = first;
		if (orientation(at, a, b, c, d) > 0) [b, c] = [c, b];
		const base = newTriangle(a, b, c);
		const ab = newTriangle(b, a, d);
		const bc = newTriangle(c, b, d);
		const ca = newTriangle(a, c, d);
		link(base, 0, ab, 0);
		link(base, 1, bc, 0);
		link(base, 2, ca, 0);
		link(ab, 1, ca, 2);
		link(ab, 2, bc, 1);
		link(bc, 2, ca, 1);
		let list = -1;
		for (let i = count - 1; i >= 0; i--) {
			if (i === a || i === b || i === c || i === d) continue;
			nextOutside[i] = list;
			list = i;
		}
		handOn(list, [base, ab, bc, ca]);
	}

	let round = 0;
	const visible: number[] = [];
	const rim: number[] = [];
	const fresh: number[] = [];
	/** Adds the furthest point of triangle `start` to the hull. */
	const addFurthest = (start: number): void => {
		const p = furthest[start];
		round++;
		visible.length = 0;
		rim.length = 0;
		fresh.length = 0;
		visible.push(start);
		seen[start] = 2 * round + 1;
		for (let k = 0; k < visible.length; k++) {
			const f = visible[k];
			for (let i = 0; i < 3; i++) {
				const g = across[3 * f + i];
				if (seen[g] < 2 * round) {
					if (heightOver(g, p) > 0) {
						seen[g] = 2 * round + 1;
						visible.push(g);
					} else seen[g] = 2 * round;
				}
				if (seen[g] === 2 * round) rim.push(f, i, g);
			}
		}
		// The points that saw what goes away are gathered before the triangles are used again.
		let orphans = -1;
		for (const f of visible) {
			for (let q = outside[f]; q >= 0; ) {
				const next = nextOutside[q];
				if (q !== p) {
					nextOutside[q] = orphans;
					orphans = q;
				}
				q = next;
			}
		}
		for (let k = 0; k < rim.length; k += 3) {
			const u = corners[3 * rim[k] + rim[k + 1]];
			const v = corners[3 * rim[k] + ((rim[k + 1] + 1) % 3)];
			const f = newTriangle(u, v, p);
			link(f, 0, rim[k + 2], edgeTowards(rim[k + 2], rim[k]));
			rimStart[u] = f;
			fresh.push(f);
		}
		for (const f of fresh) link(f, 1, rimStart[corners[3 * f + 1]], 2);
		for (const f of visible) {
			outside[f] = -2;
			free.push(f);
		}
		handOn(orphans, fresh);
	};

	let reported = 0;
	for (let steps = 1; queueStart < queue.length; steps++) {
		const f = queue[queueStart++];
		if (outside[f] >= 0) addFurthest(f);
		if (queueStart > 4096 && 2 * queueStart > queue.length) {
			queue = queue.slice(queueStart);
			queueStart = 0;
		}
		if (steps % SLICE === 0) {
			// The queue may grow faster than it is worked off, and a share that falls back would be a lie the other way.
			reported = Math.max(reported, steps / (steps + queue.length - queueStart));
			yield { stage: "wrapping the figure", share: reported };
		}
	}

	const triangles = new Uint32Array(3 * (used - free.length));
	let t = 0;
	for (let f = 0; f < used; f++) {
		if (outside[f] === -2) continue;
		triangles[t++] = corners[3 * f];
		triangles[t++] = corners[3 * f + 1];
		triangles[t++] = corners[3 * f + 2];
	}
	return triangles;
}
