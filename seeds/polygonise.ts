/**
 * From a signed field to triangles: surface nets (S. Gibson 1998, "Constrained elastic surface nets"; from memory) on a
 * cubic grid, followed from one place on the surface so that only cells on it are asked and one shell comes out.
 *
 * Two changes make every edge belong to exactly two triangles and every vertex to one fan: cells whose corners could be
 * read in two ways are filled with stone, corner by corner, until none is left; and vertices are drawn onto the field.
 */
import type { Job } from "../core/job.ts";
import type { TriangleMesh } from "../core/scan/mesh.ts";
import type { Vec3 } from "../core/vector.ts";
import { type Box, clamp, type Field } from "./field.ts";

export interface Net {
	/** Where the surface lies, with at least two steps to spare on every side, in mm. */
	readonly box: Box;
	/** Side of a cell in mm. */
	readonly step: number;
	/** A place inside the stone; the surface is first met from here along +x. */
	readonly inside: Vec3;
	/** Where the stone ends towards +y: beyond is air, and the cut face is left open. */
	readonly openAtY?: number;
}

/** Cells handled between two reports of progress: a few milliseconds. */
const SLICE = 4096;
/** How far a vertex goes in one step, and how far it may leave its cell, in cells. */
const STRIDE = 0.4;
const OUTSIDE = 0.1;
/** Least square of the slope that a step reckons with; a distance has 1. */
const LEAST_SLOPE = 0.2;

// The corners of a cell are numbered x + 2y + 4z; its twelve edges run from EDGE_FROM along EDGE_AXIS.
const EDGES: readonly (readonly [number, number])[] = [0, 1, 2].flatMap((axis) =>
	[0, 1, 2, 3, 4, 5, 6, 7].filter((c) => (c & (1 << axis)) === 0).map((c) => [c, c | (1 << axis)] as const),
);
const EDGE_FROM = Uint8Array.from(EDGES, (e) => e[0]);
const EDGE_TO = Uint8Array.from(EDGES, (e) => e[1]);
/** Faces of a cell: −x, +x, −y, +y, −z, +z, each as a bit mask of its corners. */
const FACE_MASKS = [0, 1, 2].flatMap((axis) =>
	[0, 1].map((side) => [0, 1, 2, 3, 4, 5, 6, 7].reduce((m, c) => (((c >> axis) & 1) === side ? m | (1 << c) : m), 0)),
);
/** For every set of corners in the stone: 1 when the surface crosses the cell as one disc that can be read in one way. */
const PLAIN = Uint8Array.from({ length: 256 }, (_, mask) => (crossings(mask) === 1 ? 1 : 0));
const EMPTY = 0;
const FULL = 255;

/** How many closed curves the surface draws on the cell's faces; 99 when a face can be read in two ways. */
function crossings(mask: number): number {
	const cut = EDGES.map(([a, b]) => ((mask >> a) & 1) !== ((mask >> b) & 1));
	const curve = EDGES.map((_, e) => e);
	const root = (e: number): number => (curve[e] === e ? e : root(curve[e]));
	for (const face of FACE_MASKS) {
		const on = EDGES.flatMap(([a, b], e) => (cut[e] && (face >> a) & 1 && (face >> b) & 1 ? [e] : []));
		if (on.length > 2) return 99;
		if (on.length === 2) curve[root(on[0])] = root(on[1]);
	}
	return EDGES.filter((_, e) => cut[e] && root(e) === e).length;
}

/** The grid, cell (i, j, k) and its lowest corner both numbered i + j·rowStride + k·layerStride. */
interface Lattice {
	readonly field: Field;
	readonly step: number;
	readonly origin: Vec3;
	/** Cells along x, y, z. */
	readonly counts: Vec3;
	readonly rowStride: number;
	readonly layerStride: number;
	/** Offsets from a cell to its eight corners, and to its six neighbours in the order of the faces. */
	readonly corners: Int32Array;
	readonly neighbours: Int32Array;
	/** The layer of cells in which an open back ends; beyond all layers when there is none. */
	readonly back: number;
	/** The field at each corner, NaN where it was not asked. */
	readonly values: Float32Array;
	/** For each cell that was looked at, which of its corners are in the stone. */
	readonly masks: Uint8Array;
	readonly seen: Uint8Array;
	/** The cells that the surface crosses, in the order in which it was followed. */
	readonly cells: number[];
}

function makeLattice(field: Field, { box, step, openAtY }: Net): Lattice {
	const counts = [0, 1, 2].map((a) => Math.ceil((box[a + 3] - box[a]) / step)) as unknown as Vec3;
	const rowStride = counts[0] + 1;
	const layerStride = rowStride * (counts[1] + 1);
	const size = layerStride * (counts[2] + 1);
	// With an open back the grid is shifted so that its plane runs through the middle of a layer of cells.
	const back = openAtY === undefined ? counts[1] + 1 : Math.floor((openAtY - box[1]) / step);
	return {
		field,
		step,
		origin: [box[0], openAtY === undefined ? box[1] : openAtY - (back + 0.5) * step, box[2]],
		counts,
		rowStride,
		layerStride,
		corners: Int32Array.from(
			[0, 1, 2, 3, 4, 5, 6, 7],
			(c) => (c & 1) + ((c >> 1) & 1) * rowStride + (c >> 2) * layerStride,
		),
		neighbours: Int32Array.of(-1, 1, -rowStride, rowStride, -layerStride, layerStride),
		back,
		values: new Float32Array(size).fill(Number.NaN),
		masks: new Uint8Array(size),
		seen: new Uint8Array(size),
		cells: [],
	};
}

/** Asks the field where it must and says which corners of a cell are in the stone. */
function look(lattice: Lattice, cell: number): number {
	const { values, corners, origin, step, rowStride, layerStride } = lattice;
	let mask = 0;
	for (let c = 0; c < 8; c++) {
		const at = cell + corners[c];
		let v = values[at];
		if (Number.isNaN(v)) {
			const k = Math.floor(at / layerStride);
			const j = Math.floor((at - k * layerStride) / rowStride);
			const i = at - k * layerStride - j * rowStride;
			v = j > lattice.back ? step : lattice.field(origin[0] + i * step, origin[1] + j * step, origin[2] + k * step);
			values[at] = v;
		}
		if (v < 0) mask |= 1 << c;
	}
	return mask;
}

/** Looks at a cell for the first time and keeps it when the surface crosses it. */
function take(lattice: Lattice, cell: number): void {
	const { seen, masks, counts, rowStride, layerStride } = lattice;
	if (seen[cell] === 1) return;
	seen[cell] = 1;
	const mask = look(lattice, cell);
	masks[cell] = mask;
	if (mask === EMPTY || mask === FULL) return;
	const k = Math.floor(cell / layerStride);
	const j = Math.floor((cell - k * layerStride) / rowStride);
	const i = cell - k * layerStride - j * rowStride;
	if (i < 1 || j < 1 || k < 1 || i > counts[0] - 2 || j > counts[1] - 2 || k > counts[2] - 2) {
		throw new Error(`the box cuts the surface in cell ${i}, ${j}, ${k}`);
	}
	lattice.cells.push(cell);
}

/** Goes on from the cells numbered from … to into those that share a cut face with them. */
function follow(lattice: Lattice, from: number, to: number): void {
	const { cells, masks, neighbours } = lattice;
	for (let q = from; q < to; q++) {
		const cell = cells[q];
		const mask = masks[cell];
		for (let f = 0; f < 6; f++) {
			const cut = mask & FACE_MASKS[f];
			if (cut !== 0 && cut !== FACE_MASKS[f]) take(lattice, cell + neighbours[f]);
		}
	}
}

/** Fills what can be read in two ways, the corner nearest to stone first. Stone only grows, so this ends. */
function fillDoubtful(lattice: Lattice): void {
	const { cells, masks, values, corners, seen } = lattice;
	const doubtful = cells.filter((cell) => PLAIN[masks[cell]] === 0);
	for (let cell = doubtful.pop(); cell !== undefined; cell = doubtful.pop()) {
		if (PLAIN[masks[cell]] === 1 || masks[cell] === FULL) continue;
		let nearest = -1;
		for (let c = 0; c < 8; c++) {
			const at = cell + corners[c];
			if (((masks[cell] >> c) & 1) === 0 && (nearest < 0 || values[at] < values[nearest])) nearest = at;
		}
		values[nearest] = -0.01 * lattice.step;
		for (let c = 0; c < 8; c++) {
			const touched = nearest - corners[c];
			if (masks[touched] === EMPTY) {
				seen[touched] = 0;
				take(lattice, touched);
			} else masks[touched] |= 1 << c;
			if (masks[touched] !== FULL && PLAIN[masks[touched]] === 0) doubtful.push(touched);
		}
	}
}

/** The largest piece of surface: filling may have walled up a bubble. */
function largestPiece({ cells, masks, neighbours, seen }: Lattice): number[] {
	let largest: number[] = [];
	for (const start of cells) {
		if (seen[start] === 2 || masks[start] === FULL) continue;
		const piece = [start];
		seen[start] = 2;
		for (let q = 0; q < piece.length; q++) {
			for (let f = 0; f < 6; f++) {
				const cut = masks[piece[q]] & FACE_MASKS[f];
				const beyond = piece[q] + neighbours[f];
				if (cut === 0 || cut === FACE_MASKS[f] || seen[beyond] === 2) continue;
				seen[beyond] = 2;
				piece.push(beyond);
			}
		}
		if (piece.length > largest.length) largest = piece;
	}
	return largest;
}

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
	const lattice = makeLattice(field, net);
	const { step, origin, rowStride, layerStride, cells, values } = lattice;
	const [i, j, k] = [0, 1, 2].map((a) => Math.floor((net.inside[a] - origin[a]) / step));
	let first = i + j * rowStride + k * layerStride;
	while (look(lattice, first) === FULL) first++;
	take(lattice, first);
	// How many cells there will be is not known, so the share only comes closer to what this part is worth.
	for (let done = 0; done < cells.length; ) {
		const to = Math.min(done + SLICE, cells.length);
		follow(lattice, done, to);
		done = to;
		yield { stage: "shaping", share: 0.6 * (1 - 1 / (1 + done / 65536)) };
	}
	fillDoubtful(lattice);
	const piece = largestPiece(lattice);

	const vertexOf = new Int32Array(values.length).fill(-1);
	const positions = new Float64Array(3 * piece.length);
	let vertices = 0;
	for (let from = 0; from < piece.length; from += SLICE) {
		const to = Math.min(from + SLICE, piece.length);
		vertices = placeVertices(lattice, piece, from, to, vertexOf, positions, vertices);
		yield { stage: "shaping", share: 0.6 + (0.3 * to) / piece.length };
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
