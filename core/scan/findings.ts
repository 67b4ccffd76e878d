/** Where each finding of a scan's health is, one place after another, for whoever steps through them. */

import type { Vec3 } from "../vector.ts";
import type { ScanHealth } from "./health.ts";
import type { TriangleMesh } from "./mesh.ts";

export const FINDING_KINDS = ["flipped", "crowded", "open", "doubled", "arealess"] as const;
export type FindingKind = (typeof FINDING_KINDS)[number];

/** One place: what hangs together there. Frame and unit of the mesh handed in. */
export interface FindingPlace {
	/** Edges or triangles at the place. */
	readonly count: number;
	/** Middle of the bounds. */
	readonly centre: Vec3;
	/** Half the diagonal of the bounds. */
	readonly radius: number;
	/** Mean of the surface's normals there, unit; (0, 0, 0) where they cancel. */
	readonly normal: Vec3;
	/** Ends of the edges to be drawn, x, y, z of both, at most `MOST_LINES` of them. */
	readonly lines: Float32Array<ArrayBuffer>;
	/** Length of the loop, only of open edges. */
	readonly length: number | null;
}

export interface Finding {
	readonly kind: FindingKind;
	/** Of edges or triangles, in all. */
	readonly count: number;
	/** In all; `places` are the largest of them. */
	readonly placeCount: number;
	/** Largest first: by count, for open edges by length; ties by order. */
	readonly places: readonly FindingPlace[];
}

/** Nobody steps through more; the words say how many there are. */
export const MOST_PLACES = 200;
const MOST_LINES = 3000;

/**
 * The findings of `health` that are there, the gravest first. `mesh` has the vertices and triangles that were examined, in
 * any frame; `normals` are those of its vertices, 3 each. Edges and triangles that share a vertex are one place.
 */
export function findingsOf(mesh: TriangleMesh, normals: ArrayLike<number>, health: ScanHealth): Finding[] {
	const { places } = health;
	const triangles = (list: Uint32Array): Items => {
		const vertices = new Uint32Array(3 * list.length);
		list.forEach((t, i) => {
			vertices.set(mesh.triangles.subarray(3 * t, 3 * t + 3), 3 * i);
		});
		return { vertices, corners: 3 };
	};
	const found: Finding[] = [];
	const add = (kind: FindingKind, items: Items): void => {
		const count = items.vertices.length / items.corners;
		if (count === 0) return;
		const groups = kind === "open" ? loopGroups(health) : hangingTogether(items);
		const largest = groups
			.map((group, order) => ({ group, order }))
			.sort((a, b) => b.group.weight - a.group.weight || a.order - b.order)
			.slice(0, MOST_PLACES);
		found.push({
			kind,
			count,
			placeCount: groups.length,
			places: largest.map(({ group }) => placeOf(mesh, normals, group)),
		});
	};
	add("flipped", triangles(places.flippedTriangles));
	add("crowded", { vertices: places.nonManifoldEdges, corners: 2 });
	add("open", { vertices: places.openEdges, corners: 2 });
	add("doubled", triangles(places.duplicateTriangles));
	add("arealess", triangles(places.degenerateTriangles));
	return found;
}

/** Edges (2 corners) or triangles (3), their vertices in turn. */
interface Items {
	readonly vertices: Uint32Array;
	readonly corners: 2 | 3;
}

/** Edges or triangles of one place: the vertices of the i-th are `vertices[corners · i] …`. */
interface Group extends Items {
	/** By which places are put in order. */
	readonly weight: number;
	readonly length: number | null;
}

/** Every loop of open edges is a place of its own. */
function loopGroups({ places: { loops } }: ScanHealth): Group[] {
	return Array.from({ length: loops.count }, (_, i) => {
		const ring = loops.vertices.subarray(loops.start[i], loops.start[i + 1]);
		const edges = ring.length - 1 + loops.closed[i];
		const vertices = new Uint32Array(2 * edges);
		for (let k = 0; k < edges; k++) {
			vertices[2 * k] = ring[k];
			vertices[2 * k + 1] = ring[(k + 1) % ring.length];
		}
		return { vertices, corners: 2, weight: loops.length[i], length: loops.length[i] };
	});
}

/** Items joined by the vertices that they share, in the order of their first items. */
function hangingTogether({ vertices, corners }: Items): Group[] {
	const items = vertices.length / corners;
	const parent = Uint32Array.from({ length: items }, (_, i) => i);
	const root = (i: number): number => {
		while (parent[i] !== i) {
			parent[i] = parent[parent[i]];
			i = parent[i];
		}
		return i;
	};
	const lastAt = new Map<number, number>();
	for (let h = 0; h < vertices.length; h++) {
		const item = Math.floor(h / corners);
		const other = lastAt.get(vertices[h]);
		if (other !== undefined) {
			const [a, b] = [root(item), root(other)];
			parent[Math.max(a, b)] = Math.min(a, b);
		}
		lastAt.set(vertices[h], item);
	}
	const members = new Map<number, number[]>();
	for (let i = 0; i < items; i++) {
		const r = root(i);
		const list = members.get(r);
		if (list) list.push(i);
		else members.set(r, [i]);
	}
	return [...members.values()].map((list) => {
		const own = new Uint32Array(corners * list.length);
		list.forEach((i, k) => {
			own.set(vertices.subarray(corners * i, corners * i + corners), corners * k);
		});
		return { vertices: own, corners, weight: list.length, length: null };
	});
}

function placeOf({ positions: p }: TriangleMesh, normals: ArrayLike<number>, group: Group): FindingPlace {
	const { vertices, corners } = group;
	const min = [Infinity, Infinity, Infinity];
	const max = [-Infinity, -Infinity, -Infinity];
	const sum = [0, 0, 0];
	for (const v of vertices)
		for (let k = 0; k < 3; k++) {
			min[k] = Math.min(min[k], p[3 * v + k]);
			max[k] = Math.max(max[k], p[3 * v + k]);
			sum[k] += normals[3 * v + k];
		}
	const count = vertices.length / corners;
	const shown = Math.min(count, Math.floor(MOST_LINES / corners));
	// An edge is one line, a triangle three.
	const sides = corners === 2 ? 1 : 3;
	const lines = new Float32Array(6 * sides * shown);
	for (let i = 0, to = 0; i < shown; i++)
		for (let k = 0; k < sides; k++)
			for (const v of [vertices[corners * i + k], vertices[corners * i + ((k + 1) % corners)]])
				for (let d = 0; d < 3; d++) lines[to++] = p[3 * v + d];
	const [dx, dy, dz] = [max[0] - min[0], max[1] - min[1], max[2] - min[2]];
	const long = Math.sqrt(sum[0] * sum[0] + sum[1] * sum[1] + sum[2] * sum[2]);
	return {
		count,
		centre: [(min[0] + max[0]) / 2, (min[1] + max[1]) / 2, (min[2] + max[2]) / 2],
		radius: Math.sqrt(dx * dx + dy * dy + dz * dz) / 2,
		normal: long > 1e-6 * count ? [sum[0] / long, sum[1] / long, sum[2] / long] : [0, 0, 0],
		lines,
		length: group.length,
	};
}
