/**
 * A piece of a surface that the carver has marked: kept as the strokes that marked it, and found anew on the mesh, so that it
 * survives a file, another stance of the program and a mended scan. Areas are those of the surface itself, with the
 * triangles at the edge of a stroke counted in part.
 */

import type { Job } from "../job.ts";
import { areaBetween } from "../scan/measures.ts";
import { type TriangleMesh, triangleCount } from "../scan/mesh.ts";
import { along, cross, dot, length, sub, type Vec3 } from "../vector.ts";
import type { Adjacency } from "./adjacency.ts";
import { coveredShare } from "./coveredShare.ts";
import type { SurfaceIndex } from "./surfaceIndex.ts";

/** One touch of the brush, or one fill; frame of the mesh, mm. */
export interface SurfaceStroke {
	readonly at: Vec3;
	/** Straight from `at`; the surface farther off, or joined to it only by way of such surface, is not meant. null: a fill. */
	readonly radius: number | null;
	/**
	 * Radius of curvature of what counts as a crease, bulging or hollow: the stroke does not run across ground that is bent
	 * more tightly. null: it runs across everything.
	 */
	readonly crease: number | null;
	/** false: takes away what earlier strokes marked. */
	readonly adds: boolean;
}

/** What the surface is bent by at every vertex, 1/mm; `CurvatureField` is one. */
export interface Bent {
	readonly k1: ArrayLike<number>;
	readonly k2: ArrayLike<number>;
}

export interface SurfaceRegion {
	/** Share of every triangle that is marked, 0 to 1. */
	readonly shares: Float32Array;
	/** mm² */
	readonly area: number;
	/** Strokes, by index, with no surface within `SEED_WITHIN` of their place: the surface has been changed under them. */
	readonly lost: readonly number[];
}

/** A stroke's place was on the surface when it was made; farther off than this (mm), it is another surface. */
const SEED_WITHIN = 1;
/** Cosine over which two triangles count as one plane: no crease runs between them however sharp their corners are. */
const ONE_PLANE = 1 - 1e-9;
const SLICE = 20_000;
const STAGE = "finding the marked areas";

/** The surface that the strokes have marked, the later ones over the earlier. */
export function* surfaceRegion(
	index: SurfaceIndex,
	adjacency: Adjacency,
	bent: Bent,
	strokes: readonly SurfaceStroke[],
): Job<SurfaceRegion> {
	const { mesh } = index;
	const count = triangleCount(mesh);
	const shares = new Float32Array(count);
	/** Strokes that end within a triangle, and what it was before the first of them. */
	const partly = new Map<number, { readonly before: number; readonly strokes: SurfaceStroke[] }>();
	const seen = new Uint32Array(count);
	const lost: number[] = [];
	for (const [i, stroke] of strokes.entries()) {
		yield { stage: STAGE, share: (0.9 * i) / strokes.length };
		const seed = index.closestPoint(stroke.at, SEED_WITHIN);
		if (seed === null) {
			lost.push(i);
			continue;
		}
		const walk = reached(mesh, adjacency, bent, stroke, seed.triangle, seen, i + 1);
		for (;;) {
			const step = walk.next();
			if (step.done) break;
			for (const t of step.value) {
				if (coversWhole(mesh, stroke, t)) {
					shares[t] = stroke.adds ? 1 : 0;
					partly.delete(t);
				} else {
					const known = partly.get(t);
					if (known) known.strokes.push(stroke);
					else partly.set(t, { before: shares[t], strokes: [stroke] });
				}
			}
			yield { stage: STAGE, share: (0.9 * i) / strokes.length };
		}
	}
	let done = 0;
	for (const [t, { before, strokes: over }] of partly) {
		shares[t] = coveredShare(mesh, t, before, over);
		if (++done % 500 === 0) yield { stage: STAGE, share: 0.9 + (0.1 * done) / partly.size };
	}
	return { shares, area: regionArea(mesh, shares), lost };
}

/** mm² of the marked surface. */
function regionArea({ positions, triangles }: TriangleMesh, shares: Float32Array): number {
	let area = 0;
	for (let t = 0; t < shares.length; t++)
		if (shares[t] > 0)
			area += shares[t] * areaBetween(positions, triangles[3 * t], triangles[3 * t + 1], triangles[3 * t + 2]);
	return area;
}

/** Share of every vertex's own ground that is marked, 0 to 1: what colours and spacings at vertices are read from. */
export function vertexShares(adjacency: Adjacency, shares: Float32Array): Float32Array {
	const { triangleStart: start, triangleList: list } = adjacency;
	const at = new Float32Array(start.length - 1);
	for (let v = 0; v < at.length; v++) {
		let sum = 0;
		for (let i = start[v]; i < start[v + 1]; i++) sum += shares[list[i]];
		at[v] = start[v + 1] > start[v] ? sum / (start[v + 1] - start[v]) : 0;
	}
	return at;
}

/** Triangles of the stroke, the nearest neighbours first, handed out in slices. */
function* reached(
	mesh: TriangleMesh,
	adjacency: Adjacency,
	bent: Bent,
	stroke: SurfaceStroke,
	seed: number,
	seen: Uint32Array,
	mark: number,
): Generator<readonly number[], void, void> {
	const { triangles } = mesh;
	const limit = stroke.crease === null ? Number.POSITIVE_INFINITY : 1 / stroke.crease;
	const creased = (v: number): boolean => Math.max(bent.k1[v], -bent.k2[v]) > limit;
	let queue: number[] = [seed];
	seen[seed] = mark;
	let slice: number[] = [];
	while (queue.length > 0) {
		const next: number[] = [];
		for (const t of queue) {
			slice.push(t);
			for (let e = 0; e < 3; e++) {
				const a = triangles[3 * t + e];
				const b = triangles[3 * t + ((e + 1) % 3)];
				const stops = creased(a) && creased(b);
				for (let i = adjacency.triangleStart[a]; i < adjacency.triangleStart[a + 1]; i++) {
					const over = adjacency.triangleList[i];
					if (seen[over] === mark || !names(triangles, over, b)) continue;
					if (stops && !inOnePlane(mesh, t, over)) continue;
					if (!touches(mesh, stroke, over)) continue;
					seen[over] = mark;
					next.push(over);
				}
			}
			if (slice.length >= SLICE) {
				yield slice;
				slice = [];
			}
		}
		queue = next;
	}
	yield slice;
}

const names = (triangles: ArrayLike<number>, t: number, v: number): boolean =>
	triangles[3 * t] === v || triangles[3 * t + 1] === v || triangles[3 * t + 2] === v;

/** Square of the distance from the stroke's place to a vertex. */
function offSquared({ positions: p, triangles }: TriangleMesh, { at }: SurfaceStroke, corner: number): number {
	const v = 3 * triangles[corner];
	const x = p[v] - at[0];
	const y = p[v + 1] - at[1];
	const z = p[v + 2] - at[2];
	return x * x + y * y + z * z;
}

/** All three corners lie in the ball, and so does what is between them. */
function coversWhole(mesh: TriangleMesh, stroke: SurfaceStroke, t: number): boolean {
	if (stroke.radius === null) return true;
	const r2 = stroke.radius * stroke.radius;
	return [0, 1, 2].every((k) => offSquared(mesh, stroke, 3 * t + k) <= r2);
}

/** Does the ball reach the triangle? */
function touches(mesh: TriangleMesh, { at, radius }: SurfaceStroke, t: number): boolean {
	if (radius === null) return true;
	const { positions: p, triangles } = mesh;
	const corner = (k: number): Vec3 => {
		const v = 3 * triangles[3 * t + k];
		return [p[v], p[v + 1], p[v + 2]];
	};
	return offTriangle(at, corner(0), corner(1), corner(2)) <= radius;
}

/** Whether two triangles lie in one plane and face the same way. */
function inOnePlane(mesh: TriangleMesh, s: number, t: number): boolean {
	const a = spanOf(mesh, s);
	const b = spanOf(mesh, t);
	return dot(a, b) > ONE_PLANE * length(a) * length(b);
}

/** Along the normal of a triangle, twice its area long. */
function spanOf({ positions: p, triangles }: TriangleMesh, t: number): Vec3 {
	const [a, b, c] = [0, 1, 2].map((k): Vec3 => {
		const v = 3 * triangles[3 * t + k];
		return [p[v], p[v + 1], p[v + 2]];
	});
	return cross(sub(b, a), sub(c, a));
}

/** From a place to a triangle: to its plane where the foot falls within, else to the nearest edge. */
function offTriangle(q: Vec3, a: Vec3, b: Vec3, c: Vec3): number {
	const normal = cross(sub(b, a), sub(c, a));
	const size = length(normal);
	const corners = [a, b, c];
	if (size > 0 && corners.every((p, k) => dot(cross(sub(corners[(k + 1) % 3], p), sub(q, p)), normal) >= 0))
		return Math.abs(dot(sub(q, a), normal)) / size;
	return corners.reduce(
		(least, p, k) => Math.min(least, offEdge(q, p, corners[(k + 1) % 3])),
		Number.POSITIVE_INFINITY,
	);
}

function offEdge(q: Vec3, a: Vec3, b: Vec3): number {
	const ab = sub(b, a);
	const long = dot(ab, ab);
	const share = long > 0 ? Math.max(0, Math.min(1, dot(sub(q, a), ab) / long)) : 0;
	return length(sub(q, along(a, ab, share)));
}
