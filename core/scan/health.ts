/** What a scan is made of and what is wrong with it (handbook 4), each finding with its count and its places. */

import { type Job, within } from "../job.ts";
import type { Vec3 } from "../vector.ts";
import { widen } from "./bounds.ts";
import { type Edges, edgeCount, SLICE, sortEdges, toVertex, triangleOf } from "./edges.ts";
import { facing } from "./facing.ts";
import { type OpenLoops, openLoops } from "./loops.ts";
import { type TriangleMesh, triangleCount, vertexCount } from "./mesh.ts";
import { findShells, type Shells } from "./shells.ts";

/** Twice the area of a triangle over its longest edge squared, at and below which it counts as having no area. */
const NO_AREA = 1e-12;

/** Lengths, areas and volumes are in the units of the mesh's positions, places in their frame. */
export interface ScanHealth {
	readonly triangles: number;
	readonly weldedVertices: number;
	/** Sets of triangles that are joined over edges. */
	readonly shells: number;
	/** Edges of one triangle only. */
	readonly openEdges: number;
	/** Edges of more than two triangles. */
	readonly nonManifoldEdges: number;
	/** Triangles that must be turned over for the surface to face one way, outwards; see `facing`. */
	readonly flippedTriangles: number;
	/** Triangles without area: a vertex twice, or three in a line. */
	readonly degenerateTriangles: number;
	/** Triangles with the same three vertices as an earlier one, either way round. */
	readonly duplicateTriangles: number;
	/** Those of them that also run the same way round as an earlier one. */
	readonly duplicateSameWay: number;
	/** Every edge is run equally often in both directions. */
	readonly closed: boolean;
	readonly area: number;
	/** By the divergence theorem; null when not closed. Negative when the surface faces inwards. */
	readonly volume: number | null;
	/** Centre of the enclosed volume; null when not closed, or when the volume is nought. */
	readonly centroid: Vec3 | null;
	readonly bounds: { readonly min: Vec3; readonly max: Vec3 };
	readonly places: HealthPlaces;
}

/** Where the findings are, in rising order. */
export interface HealthPlaces {
	/** Shell of each triangle. */
	readonly shellOf: Uint32Array;
	/** Two vertices an edge, as its triangle runs it. */
	readonly openEdges: Uint32Array;
	/** The open edges in chains, each a hole, a rim or, in a surface that faces both ways, a piece of one. */
	readonly loops: OpenLoops;
	/** Two vertices an edge. */
	readonly nonManifoldEdges: Uint32Array;
	/** Triangle numbers. */
	readonly flippedTriangles: Uint32Array;
	readonly degenerateTriangles: Uint32Array;
	readonly duplicateTriangles: Uint32Array;
}

/** Examines a mesh whose equal coordinates are welded. */
export function* examine(mesh: TriangleMesh): Job<ScanHealth> {
	const { triangles } = mesh;
	const edges = yield* within(sortEdges(triangles, vertexCount(mesh)), 0, 0.4);
	const shells: Shells = yield* within(findShells(triangleCount(mesh), edges), 0.4, 0.55);
	const turned = yield* within(facing(mesh, edges, shells), 0.55, 0.7);
	const joints = yield* within(lookAtEdges(triangles, edges), 0.7, 0.85);
	const sums = yield* within(measure(mesh), 0.85, 0.97);
	const loops = yield* within(openLoops(mesh.positions, joints.open), 0.97, 1);
	const flippedTriangles = listOf(turned);
	return {
		triangles: triangleCount(mesh),
		weldedVertices: vertexCount(mesh),
		shells: shells.count,
		openEdges: joints.open.length / 2,
		nonManifoldEdges: joints.crowded.length / 2,
		flippedTriangles: flippedTriangles.length,
		degenerateTriangles: sums.degenerate.length,
		duplicateTriangles: joints.duplicates.length,
		duplicateSameWay: joints.sameWay,
		closed: joints.closed,
		area: sums.area,
		volume: joints.closed ? sums.volume : null,
		centroid: joints.closed && sums.volume !== 0 ? sums.centroid : null,
		bounds: sums.bounds,
		places: {
			shellOf: shells.of,
			openEdges: joints.open,
			loops,
			nonManifoldEdges: joints.crowded,
			flippedTriangles,
			degenerateTriangles: sums.degenerate,
			duplicateTriangles: joints.duplicates,
		},
	};
}

/** Indices of the entries that are not 0. */
function listOf(flags: Uint8Array): Uint32Array {
	let n = 0;
	for (let i = 0; i < flags.length; i++) if (flags[i] !== 0) n++;
	const list = new Uint32Array(n);
	for (let i = 0, to = 0; i < flags.length; i++) if (flags[i] !== 0) list[to++] = i;
	return list;
}

interface Joints {
	/** Vertex pairs. */
	open: Uint32Array;
	crowded: Uint32Array;
	/** Triangle numbers. */
	duplicates: Uint32Array;
	sameWay: number;
	closed: boolean;
}

function* lookAtEdges(triangles: Uint32Array, edges: Edges): Job<Joints> {
	const { halfEdges, start } = edges;
	const stage = "looking at the edges";
	const n = edgeCount(edges);
	let opens = 0;
	let crowds = 0;
	for (let e = 0; e < n; e++) {
		const uses = start[e + 1] - start[e];
		if (uses === 1) opens++;
		else if (uses > 2) crowds++;
		if (e % SLICE === SLICE - 1) yield { stage, share: (0.1 * e) / n };
	}
	const open = new Uint32Array(2 * opens);
	const crowded = new Uint32Array(2 * crowds);
	const duplicate = new Uint8Array(triangles.length / 3);
	let sameWay = 0;
	let closed = triangles.length > 0;
	let o = 0;
	let c = 0;
	const range = (from: number, to: number): void => {
		for (let e = from; e < to; e++) {
			const uses = start[e + 1] - start[e];
			const first = halfEdges[start[e]];
			if (uses === 1) {
				closed = false;
				open[o++] = triangles[first];
				open[o++] = toVertex(triangles, first);
				continue;
			}
			if (uses > 2) {
				crowded[c++] = triangles[first];
				crowded[c++] = toVertex(triangles, first);
			}
			let balance = 0;
			for (let i = start[e]; i < start[e + 1]; i++) {
				const h = halfEdges[i];
				balance += triangles[h] < toVertex(triangles, h) ? 1 : -1;
			}
			if (balance !== 0) closed = false;
			sameWay += markDuplicates(triangles, halfEdges, start[e], start[e + 1], duplicate);
		}
	};
	for (let from = 0; from < n; from += SLICE) {
		range(from, Math.min(from + SLICE, n));
		yield { stage, share: 0.1 + (0.9 * from) / n };
	}
	return { open, crowded, duplicates: listOf(duplicate), sameWay, closed };
}

/** The vertex of half-edge h's triangle that is not on h. */
const apex = (triangles: Uint32Array, h: number): number => triangles[h % 3 === 0 ? h + 2 : h - 1];

/**
 * Marks, among the triangles of one edge, those with the same third vertex as an earlier one; of the triangles that have
 * the edge, only those whose third vertex is above both ends are looked at, so that each triangle is looked at once.
 * Returns how many of them run the same way as an earlier one.
 */
function markDuplicates(
	triangles: Uint32Array,
	halfEdges: Uint32Array,
	from: number,
	to: number,
	duplicate: Uint8Array,
): number {
	let sameWay = 0;
	// A sort for the rare edge of very many triangles keeps the pairs below in bounds.
	let group = halfEdges.subarray(from, to);
	if (to - from > 16) group = group.slice().sort((g, h) => apex(triangles, g) - apex(triangles, h) || g - h);
	const sorted = to - from > 16;
	for (let i = 0; i < group.length; i++) {
		const h = group[i];
		const third = apex(triangles, h);
		const b = toVertex(triangles, h);
		if (third <= triangles[h] || third <= b) continue;
		let same = false;
		for (let k = i - 1; k >= 0; k--) {
			if (apex(triangles, group[k]) !== third) {
				if (sorted) break;
				continue;
			}
			duplicate[triangleOf(h)] = 1;
			if (toVertex(triangles, group[k]) === b) {
				same = true;
				break;
			}
		}
		if (same) sameWay++;
	}
	return sameWay;
}

interface Sums {
	area: number;
	volume: number;
	centroid: Vec3;
	bounds: { min: Vec3; max: Vec3 };
	degenerate: Uint32Array;
}

/** Area, volume and centroid from the middle of the bounds (M. Gauss's theorem on tetrahedra), and triangles without area. */
function* measure(mesh: TriangleMesh): Job<Sums> {
	const { positions: p, triangles } = mesh;
	const min = [Infinity, Infinity, Infinity];
	const max = [-Infinity, -Infinity, -Infinity];
	for (let from = 0; from < p.length; from += 3 * SLICE) {
		widen(p, from, Math.min(from + 3 * SLICE, p.length), min, max);
		yield { stage: "measuring the scan", share: 0 };
	}
	const [ox, oy, oz] = [min[0] / 2 + max[0] / 2, min[1] / 2 + max[1] / 2, min[2] / 2 + max[2] / 2];
	const flat = new Uint8Array(triangles.length / 3);
	let area = 0;
	let six = 0;
	let mx = 0;
	let my = 0;
	let mz = 0;
	const range = (from: number, to: number): void => {
		for (let t = from; t < to; t++) {
			const a = 3 * triangles[3 * t];
			const b = 3 * triangles[3 * t + 1];
			const c = 3 * triangles[3 * t + 2];
			const ax = p[a] - ox;
			const ay = p[a + 1] - oy;
			const az = p[a + 2] - oz;
			const ux = p[b] - p[a];
			const uy = p[b + 1] - p[a + 1];
			const uz = p[b + 2] - p[a + 2];
			const vx = p[c] - p[a];
			const vy = p[c + 1] - p[a + 1];
			const vz = p[c + 2] - p[a + 2];
			const nx = uy * vz - uz * vy;
			const ny = uz * vx - ux * vz;
			const nz = ux * vy - uy * vx;
			const double = Math.sqrt(nx * nx + ny * ny + nz * nz);
			area += double / 2;
			const wx = vx - ux;
			const wy = vy - uy;
			const wz = vz - uz;
			const longest = Math.max(ux * ux + uy * uy + uz * uz, vx * vx + vy * vy + vz * vz, wx * wx + wy * wy + wz * wz);
			if (double <= NO_AREA * longest) flat[t] = 1;
			const det = nx * ax + ny * ay + nz * az;
			six += det;
			mx += det * (3 * ax + ux + vx);
			my += det * (3 * ay + uy + vy);
			mz += det * (3 * az + uz + vz);
		}
	};
	const n = triangles.length / 3;
	for (let from = 0; from < n; from += SLICE) {
		range(from, Math.min(from + SLICE, n));
		yield { stage: "measuring the scan", share: from / n };
	}
	return {
		area,
		volume: six / 6,
		centroid: [ox + mx / (4 * six), oy + my / (4 * six), oz + mz / (4 * six)],
		bounds: { min: [min[0], min[1], min[2]], max: [max[0], max[1], max[2]] },
		degenerate: listOf(flat),
	};
}
