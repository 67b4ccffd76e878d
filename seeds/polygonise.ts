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

/** The surface where the field is zero, as a welded mesh facing the air. Throws when the box does not hold it. */
export function* polygonise(field: Field, net: Net): Job<TriangleMesh> {
	const { box, step, openAtY } = net;
	const nx = Math.ceil((box[3] - box[0]) / step);
	const ny = Math.ceil((box[4] - box[1]) / step);
	const nz = Math.ceil((box[5] - box[2]) / step);
	const sy = nx + 1;
	const sz = sy * (ny + 1);
	const values = new Float32Array(sz * (nz + 1)).fill(Number.NaN);
	const masks = new Uint8Array(values.length);
	const seen = new Uint8Array(values.length);
	// With an open back the grid is shifted so that the plane runs through the middle of a layer of cells.
	const back = openAtY === undefined ? ny + 1 : Math.floor((openAtY - box[1]) / step);
	const ox = box[0];
	const oy = openAtY === undefined ? box[1] : openAtY - (back + 0.5) * step;
	const oz = box[2];

	const corner = new Int32Array([0, 1, sy, sy + 1, sz, sz + 1, sz + sy, sz + sy + 1]);
	const neighbour = new Int32Array([-1, 1, -sy, sy, -sz, sz]);
	const cells: number[] = [];

	const ask = (at: number): number => {
		const k = Math.floor(at / sz);
		const j = Math.floor((at - k * sz) / sy);
		const i = at - k * sz - j * sy;
		const v = j > back ? step : field(ox + i * step, oy + j * step, oz + k * step);
		values[at] = v;
		return v;
	};
	const maskOf = (cell: number): number => {
		let mask = 0;
		for (let c = 0; c < 8; c++) {
			const at = cell + corner[c];
			let v = values[at];
			if (Number.isNaN(v)) v = ask(at);
			if (v < 0) mask |= 1 << c;
		}
		return mask;
	};
	const take = (cell: number): void => {
		if (seen[cell] === 1) return;
		seen[cell] = 1;
		const mask = maskOf(cell);
		masks[cell] = mask;
		if (mask === 0 || mask === 255) return;
		const k = Math.floor(cell / sz);
		const j = Math.floor((cell - k * sz) / sy);
		const i = cell - k * sz - j * sy;
		if (i < 1 || j < 1 || k < 1 || i > nx - 2 || j > ny - 2 || k > nz - 2) throw new Error("the box cuts the surface");
		cells.push(cell);
	};
	/** Follows the surface on from cells[from]. */
	const follow = (from: number, to: number): void => {
		for (let q = from; q < to; q++) {
			const cell = cells[q];
			const mask = masks[cell];
			for (let f = 0; f < 6; f++) {
				const face = FACE_MASKS[f];
				if ((mask & face) !== 0 && (mask & face) !== face) take(cell + neighbour[f]);
			}
		}
	};

	let first = Math.floor((net.inside[0] - ox) / step);
	first += sy * Math.floor((net.inside[1] - oy) / step) + sz * Math.floor((net.inside[2] - oz) / step);
	while (maskOf(first) === 255) first++;
	take(first);
	let done = 0;
	while (done < cells.length) {
		const to = Math.min(done + SLICE, cells.length);
		follow(done, to);
		done = to;
		yield { stage: "shaping", share: 0.6 * (1 - 1 / (1 + done / 65536)) };
	}

	// Fill what can be read in two ways. Stone only grows, so this ends.
	const doubtful = cells.filter((cell) => PLAIN[masks[cell]] === 0);
	while (doubtful.length > 0) {
		const cell = doubtful.pop()!;
		if (PLAIN[masks[cell]] === 1 || masks[cell] === 255) continue;
		let nearest = -1;
		for (let c = 0; c < 8; c++) {
			const at = cell + corner[c];
			if (((masks[cell] >> c) & 1) === 0 && (nearest < 0 || values[at] < values[nearest])) nearest = at;
		}
		values[nearest] = -0.01 * step;
		for (let c = 0; c < 8; c++) {
			const touched = nearest - corner[c];
			if (seen[touched] === 0) take(touched);
			else if (masks[touched] === 0) {
				seen[touched] = 0;
				take(touched);
			} else masks[touched] |= 1 << c;
			if (masks[touched] !== 255 && PLAIN[masks[touched]] === 0) doubtful.push(touched);
		}
	}

	// One vertex a cell, in the order in which the surface was followed.
	const vertexOf = new Int32Array(values.length).fill(-1);
	const positions = new Float64Array(3 * cells.length);
	let vertices = 0;
	const place = (from: number, to: number): void => {
		for (let q = from; q < to; q++) {
			const cell = cells[q];
			const mask = masks[cell];
			if (mask === 255) continue;
			const k = Math.floor(cell / sz);
			const j = Math.floor((cell - k * sz) / sy);
			const i = cell - k * sz - j * sy;
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
				const va = values[cell + corner[a]];
				const t = va / (va - values[cell + corner[b]]);
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
			// The slope of the field from the cell's own corners, then two steps along it onto the surface.
			let gx = 0;
			let gy = 0;
			let gz = 0;
			for (let c = 0; c < 8; c++) {
				const v = rim && c & 2 ? values[cell + corner[c & 5]] : values[cell + corner[c]];
				const wx = c & 1 ? x : 1 - x;
				const wy = c & 2 ? y : 1 - y;
				const wz = c & 4 ? z : 1 - z;
				gx += (c & 1 ? v : -v) * wy * wz;
				gy += (c & 2 ? v : -v) * wx * wz;
				gz += (c & 4 ? v : -v) * wx * wy;
			}
			const g2 = Math.max((gx * gx + gy * gy + gz * gz) / step, 0.2 * step);
			if (rim) y = 0.5;
			for (let s = 0; s < 2; s++) {
				const v = field(ox + (i + x) * step, oy + (j + (rim ? 0 : y)) * step, oz + (k + z) * step);
				const move = v / g2;
				x = clamp(x - clamp((move * gx) / step, -0.4, 0.4), -0.1, 1.1);
				if (!rim) y = clamp(y - clamp((move * gy) / step, -0.4, 0.4), -0.1, 1.1);
				z = clamp(z - clamp((move * gz) / step, -0.4, 0.4), -0.1, 1.1);
			}
			positions[3 * vertices] = ox + (i + x) * step;
			positions[3 * vertices + 1] = oy + (j + y) * step;
			positions[3 * vertices + 2] = oz + (k + z) * step;
			vertexOf[cell] = vertices++;
		}
	};
	for (let from = 0; from < cells.length; from += SLICE) {
		place(from, Math.min(from + SLICE, cells.length));
		yield { stage: "shaping", share: 0.6 + (0.3 * from) / cells.length };
	}

	// One quadrilateral an edge that the surface crosses, halved along its shorter diagonal.
	const triangles = new Uint32Array(18 * cells.length);
	let used = 0;
	const gap2 = (a: number, b: number): number => {
		const x = positions[3 * a] - positions[3 * b];
		const y = positions[3 * a + 1] - positions[3 * b + 1];
		const z = positions[3 * a + 2] - positions[3 * b + 2];
		return x * x + y * y + z * z;
	};
	const triangle = (a: number, b: number, c: number): void => {
		triangles[used++] = a;
		triangles[used++] = b;
		triangles[used++] = c;
	};
	const join = (from: number, to: number): void => {
		for (let q = from; q < to; q++) {
			const cell = cells[q];
			const mask = masks[cell];
			for (let axis = 0; axis < 3; axis++) {
				const inside = mask & 1;
				if (inside === ((mask >> (1 << axis)) & 1)) continue;
				// The cut face: crossings that leave the last layer of corners towards +y.
				if (axis === 1 && Math.floor((cell % sz) / sy) === back) continue;
				const u = axis === 0 ? sy : axis === 1 ? sz : 1;
				const v = axis === 0 ? sz : axis === 1 ? 1 : sy;
				const a = vertexOf[cell - u - v];
				const b = vertexOf[inside ? cell - v : cell - u];
				const c = vertexOf[cell];
				const d = vertexOf[inside ? cell - u : cell - v];
				if (gap2(a, c) <= gap2(b, d)) {
					triangle(a, b, c);
					triangle(a, c, d);
				} else {
					triangle(a, b, d);
					triangle(b, c, d);
				}
			}
		}
	};
	for (let from = 0; from < cells.length; from += SLICE) {
		join(from, Math.min(from + SLICE, cells.length));
		yield { stage: "shaping", share: 0.9 + (0.1 * from) / cells.length };
	}
	return { positions: positions.slice(0, 3 * vertices), triangles: triangles.slice(0, used) };
}
