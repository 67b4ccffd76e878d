/** An open shell (mask, relief) given a back, so that it has volume, weight and a foot. */

import { type Job, within } from "../job.ts";
import { Refusal } from "../refusal.ts";
import { add, cross, dot, length, scale, sub, type Vec3 } from "../vector.ts";
import { sortEdges } from "./edges.ts";
import { fillHoles } from "./holes.ts";
import { type OpenLoops, openEdgesOf, openLoops } from "./loops.ts";
import { type TriangleMesh, triangleCount, vertexCount } from "./mesh.ts";
import { findShells } from "./shells.ts";
import { MOST_LOOKS, triangulate } from "./triangulate.ts";

export interface BackedShell {
	/** The shell's own vertices and triangles first, unchanged; a closed figure. */
	readonly mesh: TriangleMesh;
	/** Triangles from this one on were added and are never targets. */
	readonly firstAddedTriangle: number;
}

/**
 * Carries the rim of every open shell along `direction` (any length; away from the carved side) to a flat back that
 * stands `distance` behind the scan's hindmost vertex, square to the direction. The rim is a shell's longest loop; other
 * holes are closed across. The surface must face one way (`mend` with faceOutward), against the direction at its rim.
 * Throws Refusal when there is no rim, when it cannot be followed, and when the back would lie on the carved side.
 */
export function* backShell(mesh: TriangleMesh, direction: Vec3, distance: number): Job<BackedShell> {
	const long = length(direction);
	if (!(long > 0) || long - long !== 0) throw new Refusal("back.direction", { found: direction.join(", ") });
	if (!(distance > 0)) throw new Refusal("back.distance", { found: distance });
	const n = scale(direction, 1 / long);
	const { positions: p, triangles } = mesh;
	const edges = yield* within(sortEdges(triangles, vertexCount(mesh)), 0, 0.5);
	const shells = yield* within(findShells(triangleCount(mesh), edges), 0.5, 0.7);
	const open = openEdgesOf(triangles, edges);
	const loops = yield* within(openLoops(p, open), 0.7, 0.8);
	if (loops.count === 0) throw new Refusal("back.closed", {});
	for (let i = 0; i < loops.count; i++)
		if (loops.closed[i] === 0) throw new Refusal("back.brokenRim", { vertices: loops.start[i + 1] - loops.start[i] });

	let plane = -Infinity;
	for (let i = 0; i < p.length; i += 3) plane = Math.max(plane, n[0] * p[i] + n[1] * p[i + 1] + n[2] * p[i + 2]);
	plane += distance;
	const rims = longestLoops(loops, shellsOfVertices(mesh, shells.of), shells.count);
	const parts = new BackParts(mesh, n, plane);
	for (const i of rims) parts.carry(loops.vertices.subarray(loops.start[i], loops.start[i + 1]));
	const holes = yield* within(fillHoles(p, triangles, edges, without(loops, rims), Infinity), 0.8, 1);
	return { mesh: parts.joined(holes.triangles), firstAddedTriangle: triangleCount(mesh) };
}

/**
 * The direction square to the rims (the longest loops), away from the surface that they bound: against the surface's own
 * area vector, which by Stokes's theorem is that of its rim. Not of unit length; (0, 0, 0) where there is no rim, or where
 * rims look against each other.
 */
export function rimDirection({ positions: p }: TriangleMesh, loops: OpenLoops): Vec3 {
	let sum: Vec3 = [0, 0, 0];
	let longest = 0;
	for (let i = 0; i < loops.count; i++) if (loops.length[i] > longest) longest = loops.length[i];
	for (let i = 0; i < loops.count; i++) {
		// Holes in the surface say nothing about where its back is; a second shell's rim is of the order of the first's.
		if (loops.closed[i] === 0 || loops.length[i] < longest / 2) continue;
		const ring = loops.vertices.subarray(loops.start[i], loops.start[i + 1]);
		sum = sub(sum, areaVector(p, ring));
	}
	return sum;
}

/** Half the sum of cross products of neighbouring corners, from the first corner. */
function areaVector(p: Float64Array, ring: Uint32Array): Vec3 {
	const corner = (i: number): Vec3 => [p[3 * ring[i]], p[3 * ring[i] + 1], p[3 * ring[i] + 2]];
	const from = corner(0);
	let sum: Vec3 = [0, 0, 0];
	for (let i = 1; i + 1 < ring.length; i++) sum = add(sum, cross(sub(corner(i), from), sub(corner(i + 1), from)));
	return scale(sum, 0.5);
}

/** A shell that each vertex belongs to (the last one where shells touch in a vertex). */
function shellsOfVertices(mesh: TriangleMesh, of: Uint32Array): Uint32Array {
	const shell = new Uint32Array(vertexCount(mesh));
	for (let i = 0; i < mesh.triangles.length; i++) shell[mesh.triangles[i]] = of[Math.floor(i / 3)];
	return shell;
}

/** The longest loop of each shell that has one, in the order of the shells. */
function longestLoops(loops: OpenLoops, shellOf: Uint32Array, shells: number): number[] {
	const longest = new Int32Array(shells).fill(-1);
	for (let i = 0; i < loops.count; i++) {
		const s = shellOf[loops.vertices[loops.start[i]]];
		if (longest[s] < 0 || loops.length[i] > loops.length[longest[s]]) longest[s] = i;
	}
	return [...longest].filter((i) => i >= 0);
}

/** The loops but those given, which are marked as not closed so that they are not filled. */
function without(loops: OpenLoops, rims: readonly number[]): OpenLoops {
	const closed = loops.closed.slice();
	for (const i of rims) closed[i] = 0;
	return { ...loops, closed };
}

/** Vertices and triangles added to a mesh. */
class BackParts {
	readonly #mesh: TriangleMesh;
	readonly #normal: Vec3;
	/** Place of the back along the normal. */
	readonly #plane: number;
	readonly #positions: number[] = [];
	readonly #colours: number[] = [];
	readonly #triangles: number[] = [];
	readonly #effort = { looks: MOST_LOOKS };

	constructor(mesh: TriangleMesh, normal: Vec3, plane: number) {
		this.#mesh = mesh;
		this.#normal = normal;
		this.#plane = plane;
	}

	/** Wall and back of one rim, given as its triangles run it. */
	carry(rim: Uint32Array): void {
		const { positions: p, colours } = this.#mesh;
		const [nx, ny, nz] = this.#normal;
		const count = rim.length;
		const first = vertexCount(this.#mesh) + this.#positions.length / 3;
		const back = new Float64Array(3 * count);
		for (let i = 0; i < count; i++) {
			const v = 3 * rim[i];
			const step = this.#plane - (nx * p[v] + ny * p[v + 1] + nz * p[v + 2]);
			back.set([p[v] + step * nx, p[v + 1] + step * ny, p[v + 2] + step * nz], 3 * i);
			if (colours) this.#colours.push(colours[v], colours[v + 1], colours[v + 2]);
		}
		for (const x of back) this.#positions.push(x);
		for (let i = 0; i < count; i++) {
			const next = (i + 1) % count;
			const [a, b] = [rim[i], rim[next]];
			// Against the rim's own triangle, which runs from a to b.
			this.#triangles.push(b, a, first + i, b, first + i, first + next);
		}
		// The back runs against the wall's lower edge, which runs with the rim.
		const ring = Uint32Array.from({ length: count }, (_, i) => count - 1 - i);
		if (!(dot(areaVector(back, ring), this.#normal) > 0)) throw new Refusal("back.side", { vertices: count });
		const cut = new Uint32Array(3 * count);
		const made = triangulate(back, ring, count, cut, 0, this.#effort);
		for (let i = 0; i < 3 * made; i++) this.#triangles.push(first + cut[i]);
	}

	joined(fill: Uint32Array): TriangleMesh {
		const { positions, triangles, colours } = this.#mesh;
		const all = new Float64Array(positions.length + this.#positions.length);
		all.set(positions);
		all.set(this.#positions, positions.length);
		const list = new Uint32Array(triangles.length + this.#triangles.length + fill.length);
		list.set(triangles);
		list.set(this.#triangles, triangles.length);
		list.set(fill, triangles.length + this.#triangles.length);
		if (!colours) return { positions: all, triangles: list };
		const painted = new Uint8Array(all.length);
		painted.set(colours);
		painted.set(this.#colours, colours.length);
		return { positions: all, triangles: list, colours: painted };
	}
}
