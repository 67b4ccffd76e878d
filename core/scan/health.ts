/** What a scan is made of and what is wrong with it (handbook 4), each finding with its count and its places. */

import { type Job, type Progress, within } from "../job.ts";
import type { Vec3 } from "../vector.ts";
import { widen } from "./bounds.ts";
import { findDoubled } from "./doubled.ts";
import { type Edges, edgeCount, fromVertex, SLICE, sortEdges, toVertex, triangleOf } from "./edges.ts";
import { facing } from "./facing.ts";
import { type OpenLoops, openEdgesOf, openLoops } from "./loops.ts";
import { NO_AREA } from "./measures.ts";
import { type TriangleMesh, triangleCount, vertexCount } from "./mesh.ts";
import { findShells, type Shells } from "./shells.ts";

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
	/** Of the triangles on such edges. */
	readonly crowdedArea: number;
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

/** Told between the lists, so that none of them holds up a cancel for long. */
const LISTING: Progress = { stage: "listing what was found", share: 1 };

/** Examines a mesh whose equal coordinates are welded. */
export function* examine(mesh: TriangleMesh): Job<ScanHealth> {
	const { triangles } = mesh;
	const edges = yield* within(sortEdges(triangles, vertexCount(mesh)), 0, 0.4);
	const shells: Shells = yield* within(findShells(triangleCount(mesh), edges), 0.4, 0.55);
	const turned = yield* within(facing(mesh, edges, shells), 0.55, 0.7);
	const joints = yield* within(lookAtEdges(triangles, edges), 0.7, 0.8);
	const doubled = yield* within(findDoubled(triangles, edges), 0.8, 0.87);
	const sums = yield* within(measure(mesh, joints.beside), 0.87, 0.97);
	const openEdges = openEdgesOf(triangles, edges);
	yield LISTING;
	const loops = yield* within(openLoops(mesh.positions, openEdges), 0.97, 1);
	yield LISTING;
	const flippedTriangles = listOf(turned);
	yield LISTING;
	const duplicateTriangles = listOf(doubled.firstOf.map((first, t) => (first === t ? 0 : 1)));
	return {
		triangles: triangleCount(mesh),
		weldedVertices: vertexCount(mesh),
		shells: shells.count,
		openEdges: openEdges.length / 2,
		nonManifoldEdges: joints.crowded.length / 2,
		crowdedArea: sums.crowdedArea,
		flippedTriangles: flippedTriangles.length,
		degenerateTriangles: sums.degenerate.length,
		duplicateTriangles: duplicateTriangles.length,
		duplicateSameWay: doubled.sameWay,
		closed: joints.closed,
		area: sums.area,
		volume: joints.closed ? sums.volume : null,
		centroid: joints.closed && sums.volume !== 0 ? sums.centroid : null,
		bounds: sums.bounds,
		places: {
			shellOf: shells.of,
			openEdges,
			loops,
			nonManifoldEdges: joints.crowded,
			flippedTriangles,
			degenerateTriangles: sums.degenerate,
			duplicateTriangles,
		},
	};
}

/** Indices of the entries that are not 0. */
function listOf(flags: Uint8Array | Uint32Array): Uint32Array {
	let n = 0;
	for (let i = 0; i < flags.length; i++) if (flags[i] !== 0) n++;
	const list = new Uint32Array(n);
	for (let i = 0, to = 0; i < flags.length; i++) if (flags[i] !== 0) list[to++] = i;
	return list;
}

interface Joints {
	/** Two vertices of each edge of more than two triangles. */
	crowded: Uint32Array;
	/** 1 for each triangle on such an edge. */
	beside: Uint8Array;
	closed: boolean;
}

function* lookAtEdges(triangles: Uint32Array, edges: Edges): Job<Joints> {
	const { halfEdges, start } = edges;
	const n = edgeCount(edges);
	const crowd = new Uint8Array(n);
	const beside = new Uint8Array(triangles.length / 3);
	let crowds = 0;
	let closed = triangles.length > 0;
	for (let from = 0; from < n; from += SLICE) {
		const to = Math.min(from + SLICE, n);
		for (let e = from; e < to; e++) {
			let balance = 0;
			for (let i = start[e]; i < start[e + 1]; i++) {
				const h = halfEdges[i];
				balance += triangles[h] < triangles[h % 3 === 2 ? h - 2 : h + 1] ? 1 : -1;
			}
			if (balance !== 0) closed = false;
			if (start[e + 1] - start[e] <= 2) continue;
			crowd[e] = 1;
			for (let i = start[e]; i < start[e + 1]; i++) beside[triangleOf(halfEdges[i])] = 1;
			crowds++;
		}
		yield { stage: "looking at the edges", share: from / n };
	}
	const crowded = new Uint32Array(2 * crowds);
	for (let e = 0, c = 0; e < n; e++) {
		if (crowd[e] === 0) continue;
		crowded[c++] = fromVertex(triangles, halfEdges[start[e]]);
		crowded[c++] = toVertex(triangles, halfEdges[start[e]]);
	}
	return { crowded, beside, closed };
}

interface Sums {
	area: number;
	crowdedArea: number;
	volume: number;
	centroid: Vec3;
	bounds: { min: Vec3; max: Vec3 };
	degenerate: Uint32Array;
}

/** Area, volume and centroid from the middle of the bounds (M. Gauss's theorem on tetrahedra), and triangles without area. */
function* measure(mesh: TriangleMesh, crowded: Uint8Array): Job<Sums> {
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
	let crowdedArea = 0;
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
			if (crowded[t] === 1) crowdedArea += double / 2;
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
		crowdedArea,
		volume: six / 6,
		centroid: [ox + mx / (4 * six), oy + my / (4 * six), oz + mz / (4 * six)],
		bounds: { min: [min[0], min[1], min[2]], max: [max[0], max[1], max[2]] },
		degenerate: listOf(flat),
	};
}
