/** Polygons of a scan cut into triangles, convex or not. */

/** 2-D scratch, grown on demand: the polygon in its own plane. */
let flat = new Float64Array(2 * 64);
let next = new Int32Array(64);
let previous = new Int32Array(64);
let reflex = new Uint8Array(64);

/**
 * Cuts the polygon whose corners are `ring[0, n)` (indices into positions; counter-clockwise seen from outside) into n − 2
 * triangles, written to `out` from `at` on with the same facing.
 * A quadrilateral that is convex either way is cut along its shorter diagonal; a convex polygon as a fan; any other by
 * clipping ears (Meisters 1975) in the plane of its normal (Newell's sum, from memory). A polygon that crosses itself still
 * gives n − 2 triangles between its corners.
 */
export function triangulate(
	positions: Float64Array,
	ring: ArrayLike<number>,
	n: number,
	out: Uint32Array,
	at: number,
): void {
	if (n === 3) {
		out[at] = ring[0];
		out[at + 1] = ring[1];
		out[at + 2] = ring[2];
		return;
	}
	flatten(positions, ring, n);
	let bends = 0;
	for (let i = 0; i < n; i++) if (turnAt(i === 0 ? n - 1 : i - 1, i, i === n - 1 ? 0 : i + 1) < 0) bends++;
	if (bends > 0) {
		clipEars(ring, n, out, at);
		return;
	}
	const second = n === 4 && diagonal(positions, ring[1], ring[3]) < diagonal(positions, ring[0], ring[2]) ? 1 : 0;
	for (let k = 1; k < n - 1; k++) {
		out[at++] = ring[second];
		out[at++] = ring[(second + k) % n];
		out[at++] = ring[(second + k + 1) % n];
	}
}

function diagonal(p: Float64Array, a: number, b: number): number {
	const x = p[3 * b] - p[3 * a];
	const y = p[3 * b + 1] - p[3 * a + 1];
	const z = p[3 * b + 2] - p[3 * a + 2];
	return x * x + y * y + z * z;
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

function clipEars(ring: ArrayLike<number>, n: number, out: Uint32Array, at: number): void {
	for (let i = 0; i < n; i++) {
		next[i] = i === n - 1 ? 0 : i + 1;
		previous[i] = i === 0 ? n - 1 : i - 1;
	}
	let bent = 0;
	for (let i = 0; i < n; i++) {
		reflex[i] = turnAt(previous[i], i, next[i]) <= 0 ? 1 : 0;
		bent += reflex[i];
	}
	let left = n;
	let corner = 0;
	let since = 0;
	while (left > 3) {
		const ear = reflex[corner] === 0 && (bent === 0 || isEar(corner, left));
		// A full turn without an ear: the polygon crosses or touches itself. Any corner will do to go on.
		if (ear || since > left) {
			const a = previous[corner];
			const b = next[corner];
			out[at++] = ring[a];
			out[at++] = ring[corner];
			out[at++] = ring[b];
			bent -= reflex[corner];
			next[a] = b;
			previous[b] = a;
			left--;
			since = 0;
			for (const k of [a, b]) {
				bent -= reflex[k];
				reflex[k] = turnAt(previous[k], k, next[k]) <= 0 ? 1 : 0;
				bent += reflex[k];
			}
			// The far end next: clipping one side of a corner after another would leave slivers.
			corner = next[b];
		} else {
			corner = next[corner];
			since++;
		}
	}
	out[at++] = ring[previous[corner]];
	out[at++] = ring[corner];
	out[at++] = ring[next[corner]];
}

/** Whether no other reflex corner lies in the triangle of `b` and its neighbours, its edges included. */
function isEar(b: number, left: number): boolean {
	const a = previous[b];
	const c = next[b];
	let k = next[c];
	for (let i = 3; i < left; i++, k = next[k]) {
		if (reflex[k] === 0) continue;
		if (turnAt(a, b, k) >= 0 && turnAt(b, c, k) >= 0 && turnAt(c, a, k) >= 0 && !sameSpot(k, a) && !sameSpot(k, c))
			return false;
	}
	return true;
}

const sameSpot = (a: number, b: number): boolean => flat[2 * a] === flat[2 * b] && flat[2 * a + 1] === flat[2 * b + 1];
