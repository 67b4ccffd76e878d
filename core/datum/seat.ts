/** The seat in the stone that answers to a datum: where it lies and how it is reached (handbook 9). */

import type { Drill } from "../drilling/drill.ts";
import type { HoleGauge } from "../drilling/holeGauge.ts";
import { tanDegrees } from "../exactAngle.ts";
import { depthInStone, exitOf, faceCoordinates, lineWithLeans, type Stone, type StoneFace } from "../stone/block.ts";
import { along, dot, type Placement, place, turn, turnBack, type Vec3 } from "../vector.ts";

/** A place on the model's surface, model frame, mm; `normal` is unit length and points out. */
export interface DatumPlace {
	readonly position: Vec3;
	readonly normal: Vec3;
}

export interface Seat {
	/** Where the cross touches, model frame: the top of the stud. */
	readonly onModel: Vec3;
	/** The same place in the stone. */
	readonly inStone: Vec3;
	/** Height of the stud, mm: as asked for, or less so that the seat comes no farther than the stone's skin. */
	readonly stud: number;
	readonly face: StoneFace;
	readonly u: number;
	readonly v: number;
	/** Degrees from square to the face along u and v, multiples of 5. */
	readonly leanDeg: readonly [number, number];
	/** mm from the skin along the line to the seat. */
	readonly depth: number;
}

/** The hole for a seat is drilled oversize and the seat set in it (common practice, no source): 12 mm, flat. */
const SEAT_DRILL: Drill = {
	tip: "flat",
	holeRadius: 6,
	diameter: 12,
	pointAngleDeg: 180,
	reach: Number.POSITIVE_INFINITY,
	chuckRadius: 6,
	action: "carbide",
};
/** Stone between the seat's hole and the finished surface that a misplaced hole may cost, mm (common practice, no source). */
const SEAT_ALLOWANCE = 2;
/** Between the middle of the hole and an arris, mm: nearer, the arris breaks out (common practice, no source). */
const FROM_ARRIS = 12;
const LEAN_STEP = 5;
const LEAN_STEPS = 5;

/** Pairs of leans up to 25°, the smallest first; ties in a fixed order. */
const LEANS: readonly (readonly [number, number])[] = Array.from(
	{ length: (2 * LEAN_STEPS + 1) * (2 * LEAN_STEPS + 1) },
	(_, i) => {
		const n = 2 * LEAN_STEPS + 1;
		return [(Math.floor(i / n) - LEAN_STEPS) * LEAN_STEP, ((i % n) - LEAN_STEPS) * LEAN_STEP] as const;
	},
)
	.map((lean, i) => ({ lean, i, size: lean[0] * lean[0] + lean[1] * lean[1] }))
	.filter((entry) => entry.size <= LEAN_STEP * LEAN_STEPS * LEAN_STEP * LEAN_STEPS)
	.sort((a, b) => a.size - b.size || a.i - b.i)
	.map((entry) => entry.lean);

/**
 * The seat for a datum on a stud of `stud` mm, or null when no hole to it stays clear of the figure. Of all faces and leans
 * the least lean wins, then the shortest way. Seats are drilled before anything is sawn, so every face can be entered but
 * those in `shut`, on which the stone will lie while the cross has to rest in its seats.
 */
export function seatFor(
	at: DatumPlace,
	stud: number,
	stone: Stone,
	placement: Placement,
	gauge: HoleGauge,
	shut: ReadonlySet<string>,
): Seat | null {
	const foot = place(placement, at.position);
	if (depthInStone(stone, foot) < 0) return null;
	const out = turn(placement.rotation, at.normal);
	const toSkin = exitOf(stone, foot, out)?.distance ?? 0;
	const height = Math.min(stud, toSkin);
	const onModel = along(at.position, at.normal, height);
	const inStone = along(foot, out, height);
	let best: Seat | null = null;
	let bestSize = Number.POSITIVE_INFINITY;
	for (const face of stone.faces) {
		if (shut.has(face.name)) continue;
		for (const lean of LEANS) {
			const size = lean[0] * lean[0] + lean[1] * lean[1];
			if (size > bestSize) break;
			const line = lineWithLeans(face, tanDegrees(lean[0]), tanDegrees(lean[1]));
			const exit = exitOf(stone, inStone, line);
			if (exit === null || exit.face !== face) continue;
			if (nearArris(stone, face, inStone) || nearArris(stone, face, exit.point)) continue;
			if (best !== null && size === bestSize && exit.distance >= best.depth) break;
			const cosine = dot(line, face.normal);
			const hole = {
				target: onModel,
				direction: turnBack(placement.rotation, line),
				entry: exit.distance,
				leanSine: Math.sqrt(Math.max(0, 1 - cosine * cosine)),
			};
			if (gauge.clearance(hole, SEAT_DRILL, 0) < SEAT_ALLOWANCE) continue;
			const { u, v } = faceCoordinates(face, exit.point);
			best = { onModel, inStone, stud: height, face, u, v, leanDeg: lean, depth: exit.distance };
			bestSize = size;
			break;
		}
	}
	return best;
}

/** Whether a place of a hole that enters by `face` comes too near to any other face. */
function nearArris(stone: Stone, face: StoneFace, at: Vec3): boolean {
	return stone.faces.some((other) => other !== face && other.offset - dot(other.normal, at) < FROM_ARRIS);
}
