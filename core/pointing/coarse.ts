/**
 * The ground in patches of a few millimetres: points stand 10 mm apart and more, so choosing where they go needs no
 * finer surface, while a scan has vertices every half millimetre. Vertices are gathered by the cells of a grid (J. Rossignac
 * and P. Borrel 1993), but only those joined inside the cell, so that the two sides of a thin part stay apart.
 */

import { type TriangleMesh, triangleCount } from "../scan/mesh.ts";
import { buildAdjacency } from "../surface/adjacency.ts";
import type { Surface } from "./ground.ts";

export interface Coarse {
	/** Patches as vertices, at the mean of their ground; carries says whether any of it carries points. */
	readonly surface: Surface;
	/** Patch of every vertex of the fine surface, -1 where that has no triangles. */
	readonly patch: Int32Array;
	/** mm² of each patch. */
	readonly areas: Float64Array;
	/** Vertices of each patch, rising: rows as in `Adjacency`. */
	readonly memberStart: Uint32Array;
	readonly memberList: Uint32Array;
}

/** Patches in cells of `cell` mm. `areas` of the fine surface as from `vertexAreas`. */
export function gatherPatches(fine: Surface, areas: Float64Array, cell: number): Coarse {
	const patch = joinedInCells(fine, cell);
	const patches = numberPatches(fine, patch);
	const { positions } = fine.mesh;
	const at = new Float64Array(3 * patches);
	const area = new Float64Array(patches);
	const carries = new Uint8Array(patches);
	const memberStart = new Uint32Array(patches + 1);
	for (let v = 0; v < patch.length; v++) {
		const c = patch[v];
		if (c < 0) continue;
		memberStart[c + 1]++;
		area[c] += areas[v];
		for (let k = 0; k < 3; k++) at[3 * c + k] += areas[v] * positions[3 * v + k];
		if (fine.carries[v]) carries[c] = 1;
	}
	for (let c = 0; c < patches; c++) memberStart[c + 1] += memberStart[c];
	const fill = memberStart.slice(0, patches);
	const memberList = new Uint32Array(memberStart[patches]);
	for (let v = 0; v < patch.length; v++) if (patch[v] >= 0) memberList[fill[patch[v]]++] = v;
	for (let c = 0; c < patches; c++) {
		const v = memberList[memberStart[c]];
		for (let k = 0; k < 3; k++) at[3 * c + k] = area[c] > 0 ? at[3 * c + k] / area[c] : positions[3 * v + k];
	}
	const mesh: TriangleMesh = { positions: at, triangles: patchTriangles(fine, patch, patches) };
	const adjacency = buildAdjacency(mesh);
	// A patch is on the rim when its ground is, whatever the grid has made of the edges.
	const onRim = new Uint8Array(patches);
	for (let v = 0; v < patch.length; v++) if (patch[v] >= 0 && fine.adjacency.onRim[v]) onRim[patch[v]] = 1;
	return {
		surface: { mesh, adjacency: { ...adjacency, onRim }, carries },
		patch,
		areas: area,
		memberStart,
		memberList,
	};
}

/** Mean normals of the patches, 3 each, from unit normals of the vertices; shorter than 1 where the ground turns. */
export function patchNormals(coarse: Coarse, areas: Float64Array, normals: Float64Array): Float64Array {
	const mean = new Float64Array(3 * coarse.areas.length);
	for (let v = 0; v < coarse.patch.length; v++) {
		const c = coarse.patch[v];
		if (c < 0 || !(coarse.areas[c] > 0)) continue;
		for (let k = 0; k < 3; k++) mean[3 * c + k] += (areas[v] / coarse.areas[c]) * normals[3 * v + k];
	}
	return mean;
}

/** For every vertex the lowest vertex joined to it within its cell; -1 without triangles. */
function joinedInCells(fine: Surface, cell: number): Int32Array {
	const { positions: p } = fine.mesh;
	const { triangleStart, neighbourStart, neighbourList } = fine.adjacency;
	const vertices = fine.carries.length;
	const cells = new Int32Array(3 * vertices);
	for (let i = 0; i < cells.length; i++) cells[i] = Math.floor(p[i] / cell);
	const joined = new Int32Array(vertices).fill(-1);
	const waiting = new Int32Array(vertices);
	for (let v = 0; v < vertices; v++) {
		if (joined[v] >= 0 || triangleStart[v + 1] === triangleStart[v]) continue;
		joined[v] = v;
		waiting[0] = v;
		let end = 1;
		const x = cells[3 * v];
		const y = cells[3 * v + 1];
		const z = cells[3 * v + 2];
		for (let next = 0; next < end; next++) {
			const u = waiting[next];
			for (let i = neighbourStart[u]; i < neighbourStart[u + 1]; i++) {
				const w = neighbourList[i];
				if (joined[w] >= 0 || cells[3 * w] !== x || cells[3 * w + 1] !== y || cells[3 * w + 2] !== z) continue;
				joined[w] = v;
				waiting[end++] = w;
			}
		}
	}
	return joined;
}

/** Renumbers patches 0, 1, … by their lowest vertex, in place; returns how many there are. */
function numberPatches(fine: Surface, joined: Int32Array): number {
	const number = new Int32Array(fine.carries.length).fill(-1);
	let patches = 0;
	for (let v = 0; v < joined.length; v++) {
		if (joined[v] < 0) continue;
		if (joined[v] === v) number[v] = patches++;
		joined[v] = number[joined[v]];
	}
	return patches;
}

/**
 * Triangles between three patches, and for two patches that touch without one (a part thinner than a cell) a triangle
 * without area, which joins them as neighbours.
 */
function patchTriangles(fine: Surface, patch: Int32Array, patches: number): Uint32Array {
	const corner = fine.mesh.triangles;
	const triangles: number[] = [];
	const joined = new Set<number>();
	const loose: number[] = [];
	const edge = (a: number, b: number): number => (a < b ? a * patches + b : b * patches + a);
	for (let t = 0; t < triangleCount(fine.mesh); t++) {
		const a = patch[corner[3 * t]];
		const b = patch[corner[3 * t + 1]];
		const c = patch[corner[3 * t + 2]];
		if (a === b && b === c) continue;
		if (a !== b && b !== c && c !== a) {
			triangles.push(a, b, c);
			joined.add(edge(a, b)).add(edge(b, c)).add(edge(c, a));
		} else if (a === b) loose.push(a, c);
		else loose.push(a, b);
	}
	for (let i = 0; i < loose.length; i += 2) {
		const key = edge(loose[i], loose[i + 1]);
		if (joined.has(key)) continue;
		joined.add(key);
		triangles.push(loose[i], loose[i], loose[i + 1]);
	}
	return Uint32Array.from(triangles);
}
