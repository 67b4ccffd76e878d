/** What the carver has to know of one cut: where its line is drawn, what comes off, and how the two parts stand. */

import type { MassRange } from "../stone/mass.ts";
import { along, distance, dot, length, scale, sub, type Vec3 } from "../vector.ts";
import { type ConvexSolid, cutBy, faceOf, measuresOf, type Plane, sectionOf } from "./convexSolid.ts";
import { type Saw, type Sides, sidesNeeded } from "./saws.ts";
import { type Standing, standingOn, standsFirm } from "./standing.ts";

/** A place where the line of a cut crosses an edge of the stone as it stands. */
export interface EdgeMark {
	/** The two faces that meet in the edge, and the face at whose end of it the measure starts: the end nearer to the marked corner. */
	readonly faces: readonly [string, string];
	readonly from: string;
	/** From that end along the edge, mm. */
	readonly distance: number;
	/** Stone frame. */
	readonly at: Vec3;
}

/**
 * What the piece does when the last stone lets go, with the stone as it lies:
 * rests on the cut; slides down it; stands on the banker by itself; topples off its narrow foot; hangs free under the cut.
 */
export type Loose = "rests" | "slides" | "stands" | "topples" | "hangs";

export interface CutReport {
	readonly plane: Plane;
	/** Of the piece with its kerf, mm³. */
	readonly volume: number;
	readonly mass: MassRange;
	/** Outline of the cut, counter-clockwise seen from the piece. */
	readonly section: readonly Vec3[];
	readonly marks: readonly EdgeMark[];
	/** From how many sides it is sawn; null where the saw does not reach through. */
	readonly sides: Sides;
	readonly loose: Loose;
	/** On the face that the stone lies on while it is sawn, after the cut; null where that face is gone. */
	readonly standing: Standing | null;
	readonly stands: boolean;
	readonly left: ConvexSolid;
}

/** A piece slides on a cut steeper than 30°: friction of sawn stone on stone is about 0.6 (common practice, no source). */
const SLIDES_UNDER = 0.866;
/** Hardly anything of a piece lies on a cut steeper than this cosine: about 84°. */
const HANGS_UNDER = 0.1;

/** null where the plane takes nothing or everything. */
export function describeCut(
	solid: ConvexSolid,
	plane: Plane,
	name: string,
	lieFace: string,
	saw: Saw,
	density: readonly [number, number],
): CutReport | null {
	const left = cutBy(solid, plane, name);
	if (left === null || left === solid) return null;
	const section = sectionOf(solid, plane);
	const volume = measuresOf(solid).volume - measuresOf(left).volume;
	const standing = standingOn(left, lieFace);
	return {
		plane,
		volume,
		mass: [(volume / 1e9) * density[0], (volume / 1e9) * density[1]],
		section,
		marks: marksOf(solid, plane, section),
		sides: sidesNeeded(section, plane.normal, saw.reach),
		loose: looseOf(solid, plane, lieFace),
		standing,
		stands: standsFirm(standing),
		left,
	};
}

function looseOf(solid: ConvexSolid, plane: Plane, lieFace: string): Loose {
	const lie = solid.names.indexOf(lieFace);
	const piece = cutBy(solid, { normal: scale(plane.normal, -1), offset: -plane.offset }, "cut");
	if (piece === null || lie < 0) return "hangs";
	const foot = standingOn(piece, lieFace);
	if (foot !== null) return standsFirm(foot) ? "stands" : "topples";
	// The lie's face looks down.
	const rise = -dot(plane.normal, [solid.planes[4 * lie], solid.planes[4 * lie + 1], solid.planes[4 * lie + 2]]);
	return rise >= SLIDES_UNDER ? "rests" : rise > HANGS_UNDER ? "slides" : "hangs";
}

/** The marks in the order of the outline, from the one nearest to the marked corner on. Every edge has two faces, which run it in opposite directions. */
function marksOf(solid: ConvexSolid, { normal, offset }: Plane, section: readonly Vec3[]): EdgeMark[] {
	const { starts, loops, names } = solid;
	const facesAt = new Map<number, number[]>();
	const runBy = new Map<string, number>();
	for (let f = 0; f < names.length; f++) {
		for (let k = starts[f]; k < starts[f + 1]; k++) {
			const next = k + 1 < starts[f + 1] ? k + 1 : starts[f];
			runBy.set(`${loops[k]} ${loops[next]}`, f);
			facesAt.set(loops[k], [...(facesAt.get(loops[k]) ?? []), f]);
		}
	}
	const at = (i: number): Vec3 => [solid.corners[3 * i], solid.corners[3 * i + 1], solid.corners[3 * i + 2]];
	const marks: EdgeMark[] = [];
	for (const [run, f] of runBy) {
		const [i, j] = run.split(" ").map(Number);
		const g = runBy.get(`${j} ${i}`);
		if (g === undefined || f > g) continue;
		const s = dot(normal, at(i)) - offset;
		const t = dot(normal, at(j)) - offset;
		// One end beyond the plane, the other not: where it only touches an edge's end, the edges beyond carry the mark.
		if (s > 0 === t > 0) continue;
		const start = length(at(i)) <= length(at(j)) ? i : j;
		const place = along(at(i), sub(at(j), at(i)), s / (s - t));
		const others = (facesAt.get(start) ?? []).filter((face) => face !== f && face !== g);
		marks.push({
			faces: [names[f], names[g]],
			from: names[others[0] ?? f],
			distance: distance(at(start), place),
			at: place,
		});
	}
	const order = ({ at: place }: EdgeMark): number => {
		const away = section.map((corner) => distance(corner, place));
		return away.indexOf(Math.min(...away));
	};
	marks.sort((a, b) => order(a) - order(b));
	const away = marks.map((mark) => length(mark.at));
	const first = away.indexOf(Math.min(...away));
	return [...marks.slice(first), ...marks.slice(0, first)];
}

/** Faces of the solid as rings, for drawings. */
export const ringsOf = (solid: ConvexSolid): { name: string; ring: Vec3[] }[] =>
	solid.names.map((name, f) => ({ name, ring: faceOf(solid, f) }));
