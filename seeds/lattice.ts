/**
 * A cubic grid on which the surface of a field is followed from one place, so that only cells on it are asked.
 * Cells whose corners could be read in two ways are filled with stone, corner by corner, until none is left: then every
 * cell holds one disc of surface, and one vertex a cell makes a mesh without crowded edges or pinched vertices.
 */
import { type Job, within } from "../core/job.ts";
import type { Vec3 } from "../core/vector.ts";
import type { Box, Field } from "./field.ts";

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
export const SLICE = 2048;

// The corners of a cell are numbered x + 2y + 4z; its twelve edges run from EDGE_FROM along EDGE_AXIS.
const EDGES: readonly (readonly [number, number])[] = [0, 1, 2].flatMap((axis) =>
	[0, 1, 2, 3, 4, 5, 6, 7].filter((c) => (c & (1 << axis)) === 0).map((c) => [c, c | (1 << axis)] as const),
);
export const EDGE_FROM = Uint8Array.from(EDGES, (e) => e[0]);
export const EDGE_TO = Uint8Array.from(EDGES, (e) => e[1]);
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
export interface Lattice {
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
function* largestPiece({ cells, masks, neighbours, seen }: Lattice): Job<number[]> {
	let largest: number[] = [];
	let met = 0;
	for (const start of cells) {
		if (seen[start] === 2 || masks[start] === FULL) continue;
		const piece = [start];
		seen[start] = 2;
		for (let q = 0; q < piece.length; q++) {
			const mask = masks[piece[q]];
			for (let f = 0; f < 6; f++) {
				const cut = mask & FACE_MASKS[f];
				const beyond = piece[q] + neighbours[f];
				if (cut === 0 || cut === FACE_MASKS[f] || seen[beyond] === 2) continue;
				seen[beyond] = 2;
				piece.push(beyond);
			}
			if (++met % (8 * SLICE) === 0) yield { stage: "shaping", share: met / cells.length };
		}
		if (piece.length > largest.length) largest = piece;
	}
	return largest;
}

/** Lays the grid and follows the surface over it; the cells of its one piece, every one of them plain. */
export function* followSurface(field: Field, net: Net): Job<{ lattice: Lattice; piece: number[] }> {
	const lattice = makeLattice(field, net);
	const { step, origin, rowStride, layerStride, cells } = lattice;
	const [i, j, k] = [0, 1, 2].map((a) => Math.floor((net.inside[a] - origin[a]) / step));
	let first = i + j * rowStride + k * layerStride;
	while (look(lattice, first) === FULL) first++;
	take(lattice, first);
	// Filling may touch ground that was not followed yet, so the two take turns. How many cells there will be is not
	// known, so the share only comes closer to what this part is worth.
	for (let done = 0; done < cells.length; ) {
		while (done < cells.length) {
			const to = Math.min(done + SLICE, cells.length);
			follow(lattice, done, to);
			done = to;
			yield { stage: "shaping", share: 0.9 * (1 - 1 / (1 + done / 65536)) };
		}
		fillDoubtful(lattice);
	}
	return { lattice, piece: yield* within(largestPiece(lattice), 0.9, 1) };
}
