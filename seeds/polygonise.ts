/**
 * From a signed field to triangles: surface nets (S. Gibson 1998, "Constrained elastic surface nets"; from memory), with
 * the vertices drawn onto the field instead of relaxed.
 */
import { type Job, within } from "../core/job.ts";
import type { TriangleMesh } from "../core/scan/mesh.ts";
import { clamp, type Field } from "./field.ts";
import { EDGE_FROM, EDGE_TO, followSurface, type Lattice, type Net, SLICE } from "./lattice.ts";

/** How far a vertex goes in one step, and how far it may leave its cell, in cells. */
const STRIDE = 0.4;
const OUTSIDE = 0.1;
/** Least square of the slope that a step reckons with; a distance has 1. */
const LEAST_SLOPE = 0.2;

/**
 * Puts one vertex into each of the cells from … to: the middle of the crossings on its edges, then two steps down the
 * slope that its own corners give. Returns how many vertices there are.
 */
function placeVertices(
	lattice: Lattice,
	cells: readonly number[],
	from: number,
	to: number,
	vertexOf: Int32Array,
	positions: Float64Array,
	vertices: number,
): number {
	const { field, values, masks, corners, step, rowStride, layerStride, back } = lattice;
	const [ox, oy, oz] = lattice.origin;
	for (let q = from; q < to; q++) {
		const cell = cells[q];
		const mask = masks[cell];
		const k = Math.floor(cell / layerStride);
		const j = Math.floor((cell - k * layerStride) / rowStride);
		const i = cell - k * layerStride - j * rowStride;
		const rim = j === back;
		let x = 0;
		let y = 0;
		let z = 0;
		let n = 0;
		for (let e = 0; e < 12; e++) {
			const a = EDGE_FROM[e];
			const b = EDGE_TO[e];
			if (((mask >> a) & 1) === ((mask >> b) & 1)) continue;
			// On the rim only the crossings within the last layer of corners count.
			if (rim && (b & 2) !== 0) continue;
			const va = values[cell + corners[a]];
			const t = va / (va - values[cell + corners[b]]);
			const axis = e >> 2;
			x += (a & 1) + (axis === 0 ? t : 0);
			y += ((a >> 1) & 1) + (axis === 1 ? t : 0);
			z += ((a >> 2) & 1) + (axis === 2 ? t : 0);
			n++;
		}
		// A cell behind the cut face alone has no crossing that is kept.
		if (n === 0) continue;
		x /= n;
		y /= n;
		z /= n;
		let gx = 0;
		let gy = 0;
		let gz = 0;
		for (let c = 0; c < 8; c++) {
			const v = values[cell + corners[rim ? c & 5 : c]];
			const wx = c & 1 ? x : 1 - x;
			const wy = c & 2 ? y : 1 - y;
			const wz = c & 4 ? z : 1 - z;
			gx += (c & 1 ? v : -v) * wy * wz;
			gy += (c & 2 ? v : -v) * wx * wz;
			gz += (c & 4 ? v : -v) * wx * wy;
		}
		// Where the slope is nearly nothing the step stays short.
		const slope2 = Math.max(gx * gx + gy * gy + gz * gz, LEAST_SLOPE * step * step);
		if (rim) y = 0.5;
		for (let s = 0; s < 2; s++) {
			const v = field(ox + (i + x) * step, oy + (j + (rim ? 0 : y)) * step, oz + (k + z) * step);
			const move = v / slope2;
			x = clamp(x - clamp(move * gx, -STRIDE, STRIDE), -OUTSIDE, 1 + OUTSIDE);
			if (!rim) y = clamp(y - clamp(move * gy, -STRIDE, STRIDE), -OUTSIDE, 1 + OUTSIDE);
			z = clamp(z - clamp(move * gz, -STRIDE, STRIDE), -OUTSIDE, 1 + OUTSIDE);
		}
		positions[3 * vertices] = ox + (i + x) * step;
		positions[3 * vertices + 1] = oy + (j + y) * step;
		positions[3 * vertices + 2] = oz + (k + z) * step;
		vertexOf[cell] = vertices++;
	}
	return vertices;
}

/** One quadrilateral for each grid edge that the surface crosses, halved along its shorter diagonal; returns the indices used. */
function joinVertices(
	lattice: Lattice,
	cells: readonly number[],
	from: number,
	to: number,
	vertexOf: Int32Array,
	positions: Float64Array,
	triangles: Uint32Array,
	used: number,
): number {
	const { masks, rowStride, layerStride, back } = lattice;
	const gap2 = (a: number, b: number): number => {
		const x = positions[3 * a] - positions[3 * b];
		const y = positions[3 * a + 1] - positions[3 * b + 1];
		const z = positions[3 * a + 2] - positions[3 * b + 2];
		return x * x + y * y + z * z;
	};
	for (let q = from; q < to; q++) {
		const cell = cells[q];
		const mask = masks[cell];
		const inside = mask & 1;
		for (let axis = 0; axis < 3; axis++) {
			if (inside === ((mask >> (1 << axis)) & 1)) continue;
			// The cut face: crossings that leave the last layer of corners towards +y.
			if (axis === 1 && Math.floor((cell % layerStride) / rowStride) === back) continue;
			const u = axis === 0 ? rowStride : axis === 1 ? layerStride : 1;
			const v = axis === 0 ? layerStride : axis === 1 ? 1 : rowStride;
			const a = vertexOf[cell - u - v];
			const b = vertexOf[inside ? cell - v : cell - u];
			const c = vertexOf[cell];
			const d = vertexOf[inside ? cell - u : cell - v];
			const flat = gap2(a, c) <= gap2(b, d);
			triangles[used++] = a;
			triangles[used++] = b;
			triangles[used++] = flat ? c : d;
			triangles[used++] = flat ? a : b;
			triangles[used++] = c;
			triangles[used++] = d;
		}
	}
	return used;
}

/**
 * The surface where the field is zero, as one welded mesh that faces the air: closed, or with a single rim in the plane
 * y = openAtY. Throws when the box does not hold it.
 */
export function* polygonise(field: Field, net: Net): Job<TriangleMesh> {
	const { lattice, piece } = yield* within(followSurface(field, net), 0, 0.65);
	const vertexOf = new Int32Array(lattice.values.length).fill(-1);
	const positions = new Float64Array(3 * piece.length);
	let vertices = 0;
	for (let from = 0; from < piece.length; from += SLICE) {
		const to = Math.min(from + SLICE, piece.length);
		vertices = placeVertices(lattice, piece, from, to, vertexOf, positions, vertices);
		yield { stage: "shaping", share: 0.65 + (0.25 * to) / piece.length };
	}
	// At most three edges begin in a cell's lowest corner.
	const triangles = new Uint32Array(18 * piece.length);
	let used = 0;
	for (let from = 0; from < piece.length; from += SLICE) {
		const to = Math.min(from + SLICE, piece.length);
		used = joinVertices(lattice, piece, from, to, vertexOf, positions, triangles, used);
		yield { stage: "shaping", share: 0.9 + (0.1 * to) / piece.length };
	}
	return { positions: positions.slice(0, 3 * vertices), triangles: triangles.slice(0, used) };
}
