/** The next cut is the one that frees most stone within what the saw reaches from one or two sides (handbook 11). */

import type { Job } from "../job.ts";
import { add, cross, dot, scale, squareTo, unit, type Vec3 } from "../vector.ts";
import { type ConvexSolid, cutBy, type Plane, sectionOf, volumeBeyond } from "./convexSolid.ts";
import { type Saw, sidesNeeded } from "./saws.ts";
import type { Spared } from "./spared.ts";
import { standingOn, standsFirm } from "./standing.ts";
import { directions } from "./waste.ts";

export interface Bench {
	readonly spared: Spared;
	readonly saw: Saw;
	/** Faces on which the stone is to lie at one time or another: it must still stand on them after every cut. */
	readonly lieFaces: readonly string[];
	/** Unit normals of cuts that the carver does not want. */
	readonly unwanted: readonly Vec3[];
}

/** Edges of the octahedron of directions are divided into so many. */
const COARSE = 20;
/** The search goes on from so many of the best coarse directions that are not each other's neighbours. */
const STARTS = 8;
/** Cosine of the angle within which one direction stands for another while starting: about 8°. */
const APART = 0.99;
/** Cosine of the angle around an unwanted cut in which none is proposed: about 15°. */
const UNWANTED = 0.966;
/** Steps of the search on the sphere, as tangents: from the spacing of the coarse directions down to under a hundredth of a degree. */
const FIRST_STEP = 0.05;
const LAST_STEP = 1e-4;

/** Whether a cut can be made: within reach, leaving a stone that stands. */
function isSawable(solid: ConvexSolid, plane: Plane, { saw, lieFaces }: Bench): boolean {
	const section = sectionOf(solid, plane);
	if (section.length < 3 || sidesNeeded(section, plane.normal, saw.reach) === null) return false;
	const left = cutBy(solid, plane, "");
	return left !== null && lieFaces.every((face) => standsFirm(standingOn(left, face)));
}

/** The best next cut; null when none frees `least` mm³ or more. */
export function* nextCut(solid: ConvexSolid, bench: Bench, least: number): Job<Plane | null> {
	const { spared, unwanted } = bench;
	const planeAt = (normal: Vec3): Plane => ({ normal, offset: spared.limit(normal).offset });
	const tried = directions(COARSE)
		.map((normal, order) => ({ normal, order, freed: volumeBeyond(solid, planeAt(normal)) }))
		.filter(({ freed }) => freed > 0)
		.sort((a, b) => b.freed - a.freed || a.order - b.order);
	yield { stage: "looking for cuts", share: 0.3 };
	const starts: { normal: Vec3; freed: number }[] = [];
	for (const one of tried) {
		if (starts.length === STARTS) break;
		if (starts.some((s) => dot(s.normal, one.normal) > APART)) continue;
		if (unwanted.some((n) => dot(n, one.normal) > UNWANTED)) continue;
		if (isSawable(solid, planeAt(one.normal), bench)) starts.push(one);
	}
	let best: { normal: Vec3; freed: number } | null = null;
	for (const [i, start] of starts.entries()) {
		yield { stage: "looking for cuts", share: 0.4 + (0.6 * i) / starts.length };
		const found = climb(solid, bench, start, planeAt);
		if (best === null || found.freed > best.freed) best = found;
	}
	return best === null || best.freed < least ? null : planeAt(best.normal);
}

/** Better directions beside one, step by smaller step. */
function climb(
	solid: ConvexSolid,
	bench: Bench,
	start: { readonly normal: Vec3; readonly freed: number },
	planeAt: (normal: Vec3) => Plane,
): { normal: Vec3; freed: number } {
	let { normal, freed } = start;
	for (let step = FIRST_STEP; step > LAST_STEP; ) {
		const a = squareTo(normal);
		const b = cross(normal, a);
		let moved = false;
		for (let k = 0; k < 8; k++) {
			const [x, y] = EIGHT[k];
			const beside = unit(add(normal, add(scale(a, step * x), scale(b, step * y))));
			if (bench.unwanted.some((n) => dot(n, beside) > UNWANTED)) continue;
			const plane = planeAt(beside);
			const more = volumeBeyond(solid, plane);
			if (more > freed && isSawable(solid, plane, bench)) {
				normal = beside;
				freed = more;
				moved = true;
				break;
			}
		}
		if (!moved) step /= 2;
	}
	return { normal, freed };
}

const DIAGONAL = Math.sqrt(0.5);
const EIGHT = [
	[1, 0],
	[0, 1],
	[-1, 0],
	[0, -1],
	[DIAGONAL, DIAGONAL],
	[-DIAGONAL, DIAGONAL],
	[-DIAGONAL, -DIAGONAL],
	[DIAGONAL, -DIAGONAL],
] as const;
