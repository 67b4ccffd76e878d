/** Which triangles face the wrong way. */

import type { Job } from "../job.ts";
import { type Edges, edgeCount, SLICE, toVertex, triangleOf } from "./edges.ts";
import { crossInto } from "./measures.ts";
import type { TriangleMesh } from "./mesh.ts";
import { nestedShells } from "./nesting.ts";
import type { Shells } from "./shells.ts";

const STAGE = "looking which way the triangles face";
const NONE = 0xffffffff;
/** Share of area^1.5 (a ball has 0.094 of it) below which a volume is rounding, as in a sheet with two sides. */
const NO_VOLUME = 1e-9;

/**
 * 1 for each triangle that must be turned over so that the surface faces one way, and outwards where there is an outside.
 *
 * Triangles that meet two at an edge should run it in opposite directions; in each patch joined that way the fewer turn
 * (on a tie the patch's first triangle stays). Then a shell without open edges, or with so few that
 * their length squared is less than its area, turns as a whole when its volume is negative; except one without that lies
 * within another, which is a hollow and rightly faces its own inside.
 */
export function* facing(mesh: TriangleMesh, edges: Edges, shells: Shells): Job<Uint8Array> {
	const turned = yield* turnMinorities(mesh.triangles, edges);
	const rims = yield* shellRims(mesh, edges, shells);
	const { volume, area } = yield* shellVolumes(mesh, shells, turned, rims.centre);
	const insideOut = new Uint8Array(shells.count);
	const closed = new Uint8Array(shells.count);
	const asked: number[] = [];
	for (let s = 0; s < shells.count; s++) {
		const open = rims.openLength[s];
		closed[s] = open === 0 ? 1 : 0;
		if (!(volume[s] < -NO_VOLUME * area[s] * Math.sqrt(area[s]))) continue;
		if (closed[s] === 1) asked.push(s);
		else if (open * open < area[s]) insideOut[s] = 1;
	}
	if (asked.length > 0) {
		const nested = yield* nestedShells(mesh, shells, closed, asked);
		asked.forEach((s, i) => {
			insideOut[s] = 1 - nested[i];
		});
	}
	for (let t = 0; t < turned.length; t++) turned[t] ^= insideOut[shells.of[t]];
	return turned;
}

/** Whether half-edge h runs from its lower to its higher vertex. */
const runsUp = (triangles: Uint32Array, h: number): boolean => triangles[h] < toVertex(triangles, h);

/** Turns the fewer triangles of each patch that is joined over edges of two triangles. */
function* turnMinorities(triangles: Uint32Array, edges: Edges): Job<Uint8Array> {
	const n = triangles.length / 3;
	const turned = new Uint8Array(n);
	const count = edgeCount(edges);
	let conflict = false;
	for (let from = 0; from < count && !conflict; from += SLICE) {
		conflict = anyConflict(triangles, edges, from, Math.min(from + SLICE, count));
		yield { stage: STAGE, share: (0.2 * from) / count };
	}
	if (!conflict) return turned;
	const mate = matesOf(triangles.length, edges);
	// A flood over each patch from its first triangle; the queue holds the patch, side[t] 2 or 3 once t has been reached.
	const side = new Uint8Array(n);
	const queue = new Uint32Array(n);
	for (let seed = 0, end = 0; seed < n; seed++) {
		if (side[seed] !== 0) continue;
		const begin = end;
		side[seed] = 2;
		queue[end++] = seed;
		let against = 0;
		for (let i = begin; i < end; i++) {
			const t = queue[i];
			against += side[t] & 1;
			for (let h = 3 * t; h < 3 * t + 3; h++) {
				const m = mate[h];
				if (m === NONE) continue;
				const other = triangleOf(m);
				if (side[other] !== 0) continue;
				side[other] = runsUp(triangles, h) === runsUp(triangles, m) ? side[t] ^ 1 : side[t];
				queue[end++] = other;
			}
			if (i % SLICE === SLICE - 1) yield { stage: STAGE, share: 0.2 + (0.3 * i) / n };
		}
		const wrong = 2 * against > end - begin ? 0 : 1;
		for (let i = begin; i < end; i++) if ((side[queue[i]] & 1) === wrong) turned[queue[i]] = 1;
	}
	return turned;
}

function anyConflict(triangles: Uint32Array, edges: Edges, from: number, to: number): boolean {
	const { halfEdges, start } = edges;
	for (let e = from; e < to; e++) {
		const i = start[e];
		if (start[e + 1] - i === 2 && runsUp(triangles, halfEdges[i]) === runsUp(triangles, halfEdges[i + 1])) return true;
	}
	return false;
}

/** The other half-edge of each half-edge whose edge has two; NONE for all others. */
function matesOf(halfEdgeCount: number, edges: Edges): Uint32Array {
	const { halfEdges, start } = edges;
	const mate = new Uint32Array(halfEdgeCount).fill(NONE);
	for (let e = 0; e + 1 < start.length; e++) {
		const i = start[e];
		if (start[e + 1] - i !== 2) continue;
		mate[halfEdges[i]] = halfEdges[i + 1];
		mate[halfEdges[i + 1]] = halfEdges[i];
	}
	return mate;
}

interface Rims {
	/** Length of the edges of one triangle, of each shell. */
	readonly openLength: Float64Array;
	/** x, y, z of the middle of the open edges of each shell; of any of its vertices where it has none. */
	readonly centre: Float64Array;
}

function* shellRims(mesh: TriangleMesh, edges: Edges, shells: Shells): Job<Rims> {
	const { positions: p, triangles } = mesh;
	const { halfEdges, start } = edges;
	const openLength = new Float64Array(shells.count);
	const centre = new Float64Array(3 * shells.count);
	const range = (from: number, to: number): void => {
		for (let e = from; e < to; e++) {
			if (start[e + 1] - start[e] > 1) continue;
			const first = halfEdges[start[e]];
			const s = shells.of[triangleOf(first)];
			const a = 3 * triangles[first];
			const b = 3 * toVertex(triangles, first);
			const x = p[b] - p[a];
			const y = p[b + 1] - p[a + 1];
			const z = p[b + 2] - p[a + 2];
			const length = Math.sqrt(x * x + y * y + z * z);
			openLength[s] += length;
			for (let k = 0; k < 3; k++) centre[3 * s + k] += (length * (p[a + k] + p[b + k])) / 2;
		}
	};
	const n = edgeCount(edges);
	for (let from = 0; from < n; from += SLICE) {
		range(from, Math.min(from + SLICE, n));
		yield { stage: STAGE, share: 0.5 + (0.2 * from) / n };
	}
	for (let t = triangles.length / 3 - 1; t >= 0; t--) {
		const s = shells.of[t];
		if (openLength[s] === 0) for (let k = 0; k < 3; k++) centre[3 * s + k] = p[3 * triangles[3 * t] + k];
	}
	for (let s = 0; s < shells.count; s++)
		if (openLength[s] > 0) for (let k = 0; k < 3; k++) centre[3 * s + k] /= openLength[s];
	return { openLength, centre };
}

/** Area of each shell, and the signed volume between it and the point `centre` of its own. */
function* shellVolumes(
	mesh: TriangleMesh,
	shells: Shells,
	turned: Uint8Array,
	centre: Float64Array,
): Job<{ volume: Float64Array; area: Float64Array }> {
	const { positions: p, triangles } = mesh;
	const volume = new Float64Array(shells.count);
	const area = new Float64Array(shells.count);
	const n = new Float64Array(3);
	const range = (from: number, to: number): void => {
		for (let t = from; t < to; t++) {
			const s = shells.of[t];
			const a = 3 * triangles[3 * t];
			area[s] += crossInto(n, p, triangles[3 * t], triangles[3 * t + 1], triangles[3 * t + 2]) / 2;
			const six =
				n[0] * (p[a] - centre[3 * s]) + n[1] * (p[a + 1] - centre[3 * s + 1]) + n[2] * (p[a + 2] - centre[3 * s + 2]);
			volume[s] += (turned[t] === 0 ? six : -six) / 6;
		}
	};
	const count = triangles.length / 3;
	for (let from = 0; from < count; from += SLICE) {
		range(from, Math.min(from + SLICE, count));
		yield { stage: STAGE, share: 0.7 + (0.3 * from) / count };
	}
	return { volume, area };
}
