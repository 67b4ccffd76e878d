/** The hole for a pin in the foot of a figure: how much stone stands all round it, and what resin fills it (handbook 13). */

import { type Drill, holeSolid } from "../drilling/drill.ts";
import type { Job } from "../job.ts";
import { type TriangleMesh, triangleCount } from "../scan/mesh.ts";
import type { Adjacency } from "../surface/adjacency.ts";
import { createHoleProbe, type HoleProbe } from "../surface/holeProbe.ts";
import type { SurfaceIndex } from "../surface/surfaceIndex.ts";
import type { Vec3 } from "../vector.ts";
import type { Place2 } from "./tipping.ts";

/** A round hole bored straight up from the foot, mm. */
export interface PinHole {
	readonly at: Place2;
	/** From where it enters the foot. */
	readonly depth: number;
	readonly radius: number;
}

export interface PinGauge {
	/** Height over the foot at which the line enters the stone; null where there is no stone over it. */
	mouth(at: Place2): number | null;
	/**
	 * Least stone between the hole, its end included, and any surface but the foot that it enters through, mm; 0 where it
	 * breaks out, null where no stone stands over it.
	 */
	cover(hole: PinHole): number | null;
}

const UP: Vec3 = [0, 0, 1];
const DOWN: Vec3 = [0, 0, -1];
/** Surface that faces down within 60° and hangs together with the mouth is the foot. */
const FOOT_FACES = 0.5;
/** How far over the mouth the foot may rise, mm: the noise and the hollow of a scanned foot. */
const FOOT_RISES = 10;
const SLICE = 200_000;

/** Model frame: z up, the foot at z = 0. `centre`: any place under the figure, to find the foot by. */
export function* createPinGauge(index: SurfaceIndex, adjacency: Adjacency, centre: Place2): Job<PinGauge> {
	const probe = createHoleProbe(index);
	const mouthOf = (at: Place2): { z: number; triangle: number } | null => {
		const hit = index.castRay([at[0], at[1], -1], UP);
		return hit && { z: hit.distance - 1, triangle: hit.triangle };
	};
	const first = mouthOf(centre);
	const foot = new Uint8Array(triangleCount(index.mesh));
	if (first) yield* markFoot(index.mesh, adjacency, first.triangle, first.z + FOOT_RISES, foot);
	return {
		mouth: (at) => mouthOf(at)?.z ?? null,
		cover(hole) {
			const mouth = mouthOf(hole.at);
			// Where the line enters a part that is not joined to the foot (a hanging hem), the hole would start in the air.
			if (!mouth || foot[mouth.triangle] !== 1) return null;
			return coverOf(probe, hole, mouth.z, foot);
		},
	};
}

function coverOf(probe: HoleProbe, { at, depth, radius }: PinHole, mouth: number, foot: Uint8Array): number {
	const drill: Drill = {
		tip: "flat",
		holeRadius: radius,
		diameter: 2 * radius,
		pointAngleDeg: 118,
		reach: depth,
		chuckRadius: 0,
		action: "diamond",
	};
	// The line runs out of the foot, so its tip stands `depth` before the mouth.
	probe.setLine([at[0], at[1], mouth], DOWN);
	probe.setSolids(holeSolid(drill, 0));
	return probe.clearance(-depth, foot);
}

/** Marks what faces down, is no higher than `highest`, and hangs together with triangle `from`. */
function* markFoot(
	{ positions: p, triangles }: TriangleMesh,
	adjacency: Adjacency,
	from: number,
	highest: number,
	foot: Uint8Array,
): Job<void> {
	const belongs = (t: number): boolean => {
		const [a, b, c] = [3 * triangles[3 * t], 3 * triangles[3 * t + 1], 3 * triangles[3 * t + 2]];
		if (Math.min(p[a + 2], p[b + 2], p[c + 2]) > highest) return false;
		const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
		const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
		const [nx, ny, nz] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
		return -nz >= FOOT_FACES * Math.sqrt(nx * nx + ny * ny + nz * nz);
	};
	foot[from] = 1;
	const list = [from];
	for (let k = 0; k < list.length; k++) {
		if (k % SLICE === SLICE - 1) yield { stage: "finding the foot", share: k / foot.length };
		for (let e = 0; e < 3; e++) {
			const v = triangles[3 * list[k] + e];
			for (let i = adjacency.triangleStart[v]; i < adjacency.triangleStart[v + 1]; i++) {
				const next = adjacency.triangleList[i];
				if (foot[next] === 1 || !belongs(next)) continue;
				foot[next] = 1;
				list.push(next);
			}
		}
	}
}

/** What a bar set in resin needs, mm and mm³. */
export interface PinSetting {
	readonly bar_mm: number;
	readonly hole_mm: number;
	/** Depth to which the bar goes in. */
	readonly embedded: number;
	/** Depth of the hole, with room for air and resin under the bar. */
	readonly depth: number;
	/** mm³ of resin that stays in the hole, without waste. */
	readonly resin: number;
}

/** A bar in a hole that is `clearance` mm wider and `extra` mm deeper. */
export function pinSetting(bar: number, embedded: number, clearance: number, extra: number): PinSetting {
	const hole = bar + clearance;
	const ring = (Math.PI / 4) * (hole * hole - bar * bar) * embedded;
	const end = (Math.PI / 4) * hole * hole * extra;
	return { bar_mm: bar, hole_mm: hole, embedded, depth: embedded + extra, resin: ring + end };
}
