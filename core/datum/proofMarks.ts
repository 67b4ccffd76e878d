/**
 * Proof marks: places on model and waste that are only read, at the start and end of a day, to see that nothing moved
 * (handbook 1). A mark is a needle's line, square to a face, from the model's surface to the skin of the stone, where
 * nothing is drilled; the waste there stands as long as no hole opens near it.
 */

import type { Job } from "../job.ts";
import { exitOf, faceCoordinates, type Stone, type StoneFace } from "../stone/block.ts";
import type { RayHit, SurfaceIndex } from "../surface/surfaceIndex.ts";
import {
	along,
	cross,
	distance,
	dot,
	type Placement,
	place,
	scale,
	sub,
	turn,
	turnBack,
	type Vec3,
} from "../vector.ts";
import type { DatumPlace } from "./seat.ts";

export interface ProofMark {
	readonly place: DatumPlace;
	/** Unit, stone frame, from the target out of the stone. */
	readonly line: Vec3;
	/** On the skin, stone frame, and on its face. */
	readonly entry: Vec3;
	readonly face: StoneFace;
	readonly u: number;
	readonly v: number;
	/** mm of stone along the line, skin to target: what the needle reads beyond the model's length. */
	readonly waste: number;
	/** mm on the skin to the nearest hole; infinite where no hole enters. */
	readonly fromHole: number;
}

export interface MarkGround {
	readonly index: SurfaceIndex;
	readonly stone: Stone;
	readonly placement: Placement;
	/** Faces on which the stone lies at one time or another. */
	readonly closedFaces: ReadonlySet<string>;
	/** Where drills and seats enter, stone frame, mm. */
	readonly entries: readonly Vec3[];
}

/** A needle's end slides on ground that leans more than 45° from square to it (common practice, no source). */
const LEAST_COSINE = Math.SQRT1_2;
/** The ray starts this far over the surface, mm, past the scan's own noise. */
const OVER_SKIN = 0.05;
/** A hole breaks the skin up to here around it, mm: drill, burr and hand (common practice, no source). */
const FROM_HOLE = 15;
const hit: RayHit = { distance: 0, triangle: 0 };

/** The mark over a place by the open face that lies squarest to it, or null when none sees it. */
export function proofMarkAt(
	at: DatumPlace,
	{ index, stone, placement, closedFaces, entries }: MarkGround,
): ProofMark | null {
	const out = turn(placement.rotation, at.normal);
	const target = place(placement, at.position);
	const faces = stone.faces
		.map((face, i) => ({ face, i, cosine: dot(face.normal, out) }))
		.filter(({ face, cosine }) => cosine >= LEAST_COSINE && !closedFaces.has(face.name))
		.sort((a, b) => b.cosine - a.cosine || a.i - b.i);
	for (const { face } of faces) {
		const exit = exitOf(stone, target, face.normal);
		if (exit === null || exit.face !== face) continue;
		const inModel = turnBack(placement.rotation, face.normal);
		if (index.castRay(along(at.position, inModel, OVER_SKIN), inModel, exit.distance, hit)) continue;
		const fromHole = entries.reduce((least, e) => Math.min(least, distance(e, exit.point)), Number.POSITIVE_INFINITY);
		const { u, v } = faceCoordinates(face, exit.point);
		return { place: at, line: face.normal, entry: exit.point, face, u, v, waste: exit.distance, fromHole };
	}
	return null;
}

/** As many as a motion has freedoms, so that none can hide. */
export const WANTED_MARKS = 6;
/** Marks are chosen among this share of the places that see the skin, those farthest from any hole. */
const LONGEST_STANDING = 0.5;

/**
 * Marks among `places` where the waste stays longest: of the half that lies farthest from every hole, the six whose
 * readings together hold a motion of the cross best (greatest determinant of the information, D-optimal by exchange as in
 * Fedorov 1972, from memory). Fewer where there are not so many places.
 */
export function* suggestProofMarks(places: readonly DatumPlace[], ground: MarkGround): Job<readonly ProofMark[]> {
	const seen: ProofMark[] = [];
	for (const [i, at] of places.entries()) {
		const mark = proofMarkAt(at, ground);
		if (mark && mark.fromHole >= FROM_HOLE) seen.push(mark);
		if (i % 16 === 15) yield { stage: "choosing proof marks", share: (0.8 * i) / places.length };
	}
	seen.sort((a, b) => b.fromHole - a.fromHole || b.waste - a.waste);
	const kept = seen.slice(0, Math.max(2 * WANTED_MARKS, Math.ceil(LONGEST_STANDING * seen.length)));
	if (kept.length <= WANTED_MARKS) return kept;
	const rows = readingRows(kept);
	yield { stage: "choosing proof marks", share: 0.9 };
	return bestRows(rows, WANTED_MARKS).map((i) => kept[i]);
}

/** What a reading along each mark's line says about a small motion: shift, and turn in units of the figure's own size. */
function readingRows(marks: readonly ProofMark[]): number[][] {
	const targets = marks.map((mark) => along(mark.entry, mark.line, -mark.waste));
	const middle = scale(
		targets.reduce((a, b): Vec3 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]]),
		1 / targets.length,
	);
	const size = Math.max(1, ...targets.map((t) => distance(t, middle)));
	return marks.map(({ line }, i) => [...line, ...scale(cross(sub(targets[i], middle), line), 1 / size)]);
}

/** Indices of the `wanted` rows with the greatest determinant of Σ aaᵀ, in ascending order: greedy, then by exchange. */
function bestRows(rows: readonly (readonly number[])[], wanted: number): number[] {
	const chosen: number[] = [];
	const worth = (set: readonly number[]): number => information(set.map((i) => rows[i]));
	const best = (others: readonly number[]): number => {
		let pick = -1;
		let most = -1;
		for (let i = 0; i < rows.length; i++) {
			if (others.includes(i)) continue;
			const w = worth([...others, i]);
			if (w > most) {
				most = w;
				pick = i;
			}
		}
		return pick;
	};
	while (chosen.length < wanted) chosen.push(best(chosen));
	for (let pass = 0; pass < 5; pass++) {
		let changed = false;
		for (let k = 0; k < wanted; k++) {
			const others = chosen.filter((_, j) => j !== k);
			const pick = best(others);
			if (worth([...others, pick]) > worth(chosen)) {
				chosen[k] = pick;
				changed = true;
			}
		}
		if (!changed) break;
	}
	return chosen.sort((a, b) => a - b);
}

/** Ground that no reading holds counts this little, so that few rows can be compared too. */
const WEAK = 1e-3;

/** Determinant of WEAK·I + Σ aaᵀ, by elimination (symmetric, positive definite: no pivoting needed). */
function information(rows: readonly (readonly number[])[]): number {
	const n = 6;
	const m = Array.from({ length: n }, (_, i) =>
		Array.from({ length: n }, (__, j) => rows.reduce((sum, a) => sum + a[i] * a[j], i === j ? WEAK : 0)),
	);
	let det = 1;
	for (let p = 0; p < n; p++) {
		det *= m[p][p];
		for (let r = p + 1; r < n; r++) {
			const f = m[r][p] / m[p][p];
			for (let c = p; c < n; c++) m[r][c] -= f * m[p][c];
		}
	}
	return det;
}
