/**
 * How far two surfaces lie apart: the least distance between any two of their triangles, by their two trees walked together.
 * Two triangles are nearest at a corner of one, between an edge of each, or where an edge runs through the other (Ericson,
 * "Real-Time Collision Detection", 2005, 5.1.9 and 5.3.6).
 */

import type { Job } from "../job.ts";
import type { Vec3 } from "../vector.ts";
import { closestOnTriangle } from "./closestPoint.ts";
import type { SurfaceIndex } from "./surfaceIndex.ts";
import { NODE_COUNT, NODE_LINK, NODE_WORDS } from "./triangleTree.ts";

export interface SurfaceGap {
	/** mm; 0 where the surfaces meet. */
	readonly distance: number;
	/** The nearest places of either surface. */
	readonly onFirst: Vec3;
	readonly onSecond: Vec3;
}

/** Pairs of nodes between two yields, some milliseconds. */
const SLICE = 20_000;

/** The gap between two surfaces in one frame; null when it is not less than `within` mm. */
export function* surfaceGap(
	first: SurfaceIndex,
	second: SurfaceIndex,
	within = Number.POSITIVE_INFINITY,
): Job<SurfaceGap | null> {
	const a = first.tree;
	const b = second.tree;
	const pair = new TrianglePair();
	let best = within * within;
	let found: { onFirst: Vec3; onSecond: Vec3 } | null = null;
	const stack: number[] = [0, 0];
	const distances: number[] = [boxGap(a.bounds, 0, b.bounds, 0)];
	let visited = 0;
	while (distances.length > 0) {
		const gap = distances.pop() as number;
		const nodeB = stack.pop() as number;
		const nodeA = stack.pop() as number;
		if (++visited % SLICE === 0) yield { stage: "measuring what is left around the figure", share: 0 };
		if (gap >= best) continue;
		const atA = nodeA * NODE_WORDS;
		const atB = nodeB * NODE_WORDS;
		const countA = a.words[atA + NODE_COUNT];
		const countB = b.words[atB + NODE_COUNT];
		if (countA > 0 && countB > 0) {
			for (let i = a.words[atA + NODE_LINK], endA = i + countA; i < endA; i++) {
				pair.takeFirst(first, a.order[i]);
				for (let j = b.words[atB + NODE_LINK], endB = j + countB; j < endB; j++) {
					pair.takeSecond(second, b.order[j]);
					const square = pair.square(best);
					if (square < best) {
						best = square;
						found = pair.places();
					}
				}
			}
			continue;
		}
		// The larger box is opened; the nearer half is looked at first.
		const openA = countB > 0 || (countA === 0 && boxSize(a.bounds, atA) >= boxSize(b.bounds, atB));
		const words = openA ? a.words : b.words;
		const at = openA ? atA : atB;
		const near = (openA ? nodeA : nodeB) + 1;
		const far = words[at + NODE_LINK];
		const gapOf = (node: number): number =>
			openA ? boxGap(a.bounds, node * NODE_WORDS, b.bounds, atB) : boxGap(a.bounds, atA, b.bounds, node * NODE_WORDS);
		const [gapNear, gapFar] = [gapOf(near), gapOf(far)];
		const order = gapNear <= gapFar ? ([far, gapFar, near, gapNear] as const) : ([near, gapNear, far, gapFar] as const);
		for (let k = 0; k < 4; k += 2) {
			if (order[k + 1] >= best) continue;
			stack.push(openA ? order[k] : nodeA, openA ? nodeB : order[k]);
			distances.push(order[k + 1]);
		}
	}
	return found && { distance: Math.sqrt(best), ...(found as { onFirst: Vec3; onSecond: Vec3 }) };
}

/** Square of the distance between two boxes. */
function boxGap(a: Float32Array, i: number, b: Float32Array, j: number): number {
	const dx = Math.max(a[i] - b[j + 3], 0, b[j] - a[i + 3]);
	const dy = Math.max(a[i + 1] - b[j + 4], 0, b[j + 1] - a[i + 4]);
	const dz = Math.max(a[i + 2] - b[j + 5], 0, b[j + 2] - a[i + 5]);
	return dx * dx + dy * dy + dz * dz;
}

const boxSize = (bounds: Float32Array, at: number): number =>
	bounds[at + 3] - bounds[at] + (bounds[at + 4] - bounds[at + 1]) + (bounds[at + 5] - bounds[at + 2]);

/** Two triangles and where they come nearest, in memory that is kept. */
class TrianglePair {
	private readonly p = new Float64Array(9);
	private readonly q = new Float64Array(9);
	private readonly weights = { u: 0, v: 0, w: 0 };
	private readonly onP = new Float64Array(3);
	private readonly onQ = new Float64Array(3);

	takeFirst(index: SurfaceIndex, triangle: number): void {
		take(index, triangle, this.p);
	}

	takeSecond(index: SurfaceIndex, triangle: number): void {
		take(index, triangle, this.q);
	}

	places(): { onFirst: Vec3; onSecond: Vec3 } {
		const [px, py, pz] = this.onP;
		const [qx, qy, qz] = this.onQ;
		return { onFirst: [px, py, pz], onSecond: [qx, qy, qz] };
	}

	/** Square of the distance, with its places, where it is less than `best`; otherwise anything not less. */
	square(best: number): number {
		const { p, q } = this;
		let least = best;
		for (let i = 0; i < 3; i++) {
			least = this.cornerOver(p, i, q, least, this.onP, this.onQ);
			least = this.cornerOver(q, i, p, least, this.onQ, this.onP);
		}
		for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) least = this.edges(i, j, least);
		if (least > 0 && (this.runsThrough(p, q) || this.runsThrough(q, p))) least = 0;
		return least;
	}

	private cornerOver(
		of: Float64Array,
		i: number,
		over: Float64Array,
		least: number,
		onOf: Float64Array,
		onOver: Float64Array,
	): number {
		const [ax, ay, az] = [over[0], over[1], over[2]];
		const x = of[3 * i];
		const y = of[3 * i + 1];
		const z = of[3 * i + 2];
		const ux = over[3] - ax;
		const uy = over[4] - ay;
		const uz = over[5] - az;
		const vx = over[6] - ax;
		const vy = over[7] - ay;
		const vz = over[8] - az;
		const { weights } = this;
		closestOnTriangle(ux, uy, uz, vx, vy, vz, x - ax, y - ay, z - az, weights);
		if (!(weights.w < least)) return least;
		onOf[0] = x;
		onOf[1] = y;
		onOf[2] = z;
		onOver[0] = ax + weights.u * ux + weights.v * vx;
		onOver[1] = ay + weights.u * uy + weights.v * vy;
		onOver[2] = az + weights.u * uz + weights.v * vz;
		return weights.w;
	}

	private edges(i: number, j: number, least: number): number {
		const { p, q, onP, onQ } = this;
		const a = 3 * i;
		const b = 3 * ((i + 1) % 3);
		const c = 3 * j;
		const d = 3 * ((j + 1) % 3);
		const ux = p[b] - p[a];
		const uy = p[b + 1] - p[a + 1];
		const uz = p[b + 2] - p[a + 2];
		const vx = q[d] - q[c];
		const vy = q[d + 1] - q[c + 1];
		const vz = q[d + 2] - q[c + 2];
		const rx = p[a] - q[c];
		const ry = p[a + 1] - q[c + 1];
		const rz = p[a + 2] - q[c + 2];
		const uu = ux * ux + uy * uy + uz * uz;
		const vv = vx * vx + vy * vy + vz * vz;
		const uv = ux * vx + uy * vy + uz * vz;
		const ur = ux * rx + uy * ry + uz * rz;
		const vr = vx * rx + vy * ry + vz * rz;
		const across = uu * vv - uv * uv;
		// Inside both edges only: an end of an edge is a corner, which is looked at on its own.
		if (!(across > 1e-14 * uu * vv)) return least;
		const s = (uv * vr - vv * ur) / across;
		const t = (uu * vr - uv * ur) / across;
		if (!(s > 0 && s < 1 && t > 0 && t < 1)) return least;
		const dx = rx + s * ux - t * vx;
		const dy = ry + s * uy - t * vy;
		const dz = rz + s * uz - t * vz;
		const square = dx * dx + dy * dy + dz * dz;
		if (!(square < least)) return least;
		onP[0] = p[a] + s * ux;
		onP[1] = p[a + 1] + s * uy;
		onP[2] = p[a + 2] + s * uz;
		onQ[0] = q[c] + t * vx;
		onQ[1] = q[c + 1] + t * vy;
		onQ[2] = q[c + 2] + t * vz;
		return square;
	}

	/** Whether an edge of the one runs through the other; the place is kept as that of both. */
	private runsThrough(of: Float64Array, through: Float64Array): boolean {
		const [ax, ay, az] = [through[0], through[1], through[2]];
		const ux = through[3] - ax;
		const uy = through[4] - ay;
		const uz = through[5] - az;
		const vx = through[6] - ax;
		const vy = through[7] - ay;
		const vz = through[8] - az;
		const nx = uy * vz - uz * vy;
		const ny = uz * vx - ux * vz;
		const nz = ux * vy - uy * vx;
		const heights = [0, 3, 6].map((k) => nx * (of[k] - ax) + ny * (of[k + 1] - ay) + nz * (of[k + 2] - az));
		for (let i = 0; i < 3; i++) {
			const j = (i + 1) % 3;
			if (heights[i] > 0 === heights[j] > 0) continue;
			const s = heights[i] / (heights[i] - heights[j]);
			const x = of[3 * i] + s * (of[3 * j] - of[3 * i]);
			const y = of[3 * i + 1] + s * (of[3 * j + 1] - of[3 * i + 1]);
			const z = of[3 * i + 2] + s * (of[3 * j + 2] - of[3 * i + 2]);
			const { weights } = this;
			closestOnTriangle(ux, uy, uz, vx, vy, vz, x - ax, y - ay, z - az, weights);
			const size = ux * ux + uy * uy + uz * uz + vx * vx + vy * vy + vz * vz;
			if (weights.w > 1e-24 * size) continue;
			for (const on of [this.onP, this.onQ]) {
				on[0] = x;
				on[1] = y;
				on[2] = z;
			}
			return true;
		}
		return false;
	}
}

function take({ mesh: { positions, triangles } }: SurfaceIndex, triangle: number, into: Float64Array): void {
	for (let i = 0; i < 3; i++) {
		const at = 3 * triangles[3 * triangle + i];
		into[3 * i] = positions[at];
		into[3 * i + 1] = positions[at + 1];
		into[3 * i + 2] = positions[at + 2];
	}
}
