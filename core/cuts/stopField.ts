/** A field of stop cuts: its kerfs on one face, and what is knocked off between them. */

import type { StoneFace } from "../stone/block.ts";
import type { MassRange } from "../stone/mass.ts";
import { along, dot, length, scale, sub, unit, type Vec3 } from "../vector.ts";
import { type ConvexSolid, cutBy, measuresOf, type Plane } from "./convexSolid.ts";

export interface Kerf {
	/** Across the kerfs, mm from the face's zero corner. */
	readonly at: number;
	/** mm under the face. */
	readonly depth: number;
}

export interface StopField {
	readonly name: string;
	readonly face: StoneFace;
	/** The axis of the face along which the kerfs run; they follow each other along the other one. */
	readonly runs: "u" | "v";
	/** Where every kerf has its full depth, along `runs`, mm. */
	readonly from: number;
	readonly to: number;
	readonly kerfs: readonly Kerf[];
	/** Of what is knocked off, mm³. */
	readonly volume: number;
	readonly mass: MassRange;
}

/** Axes of a field: `run` along the kerfs, `step` from kerf to kerf, `inwards` into the stone. */
export const fieldAxes = (face: StoneFace, runs: "u" | "v"): { run: Vec3; step: Vec3; inwards: Vec3 } => ({
	run: runs === "u" ? face.u : face.v,
	step: runs === "u" ? face.v : face.u,
	inwards: scale(face.normal, -1),
});

/** Around all that a field takes away, run-out apart. */
export function boxOf(field: StopField): { middle: Vec3; axes: [Vec3, Vec3, Vec3] } {
	const { kerfs } = field;
	return boxUnder(
		field.face,
		field.runs,
		kerfs[0].at,
		kerfs[kerfs.length - 1].at,
		field.from,
		field.to,
		Math.max(...kerfs.map((k) => k.depth)),
	);
}

/** From the face down to `depth`: middle and half axes. */
export function boxUnder(
	face: StoneFace,
	runs: "u" | "v",
	first: number,
	last: number,
	from: number,
	to: number,
	depth: number,
): { middle: Vec3; axes: [Vec3, Vec3, Vec3] } {
	const { run, step, inwards } = fieldAxes(face, runs);
	const middle = along(along(along(face.origin, step, (first + last) / 2), run, (from + to) / 2), inwards, depth / 2);
	return { middle, axes: [scale(step, (last - first) / 2), scale(run, (to - from) / 2), scale(inwards, depth / 2)] };
}

/** The planes around what is knocked off between each kerf and the next, the face apart; stone frame. */
function stripsOf({
	face,
	runs,
	from,
	to,
	kerfs,
}: Pick<StopField, "face" | "runs" | "from" | "to" | "kerfs">): Plane[][] {
	const { run, step, inwards } = fieldAxes(face, runs);
	const upTo = (normal: Vec3, at: number): Plane => ({ normal, offset: dot(normal, face.origin) + at });
	return kerfs.slice(1).map((b, i) => {
		const a = kerfs[i];
		const floor = along(along(face.origin, step, a.at), inwards, a.depth);
		const down = unit(along(scale(inwards, b.at - a.at), step, a.depth - b.depth));
		return [
			upTo(scale(run, -1), -from),
			upTo(run, to),
			upTo(scale(step, -1), -a.at),
			upTo(step, b.at),
			{ normal: down, offset: dot(down, floor) },
		];
	});
}

/** Volume over the floors from kerf to kerf, mm³. */
export function knockedOff(
	solid: ConvexSolid,
	field: Pick<StopField, "face" | "runs" | "from" | "to" | "kerfs">,
): number {
	let volume = 0;
	for (const strip of stripsOf(field)) {
		let piece: ConvexSolid | null = solid;
		for (const plane of strip) if (piece !== null) piece = cutBy(piece, plane, "");
		if (piece !== null) volume += measuresOf(piece).volume;
	}
	return volume;
}

/** How much of a straight way from the skin into the stone runs through fields that are knocked off, mm. */
export function airAlong(fields: readonly StopField[], entry: Vec3, tip: Vec3): number {
	const way = sub(tip, entry);
	let air = 0;
	for (const strip of fields.flatMap(stripsOf)) {
		let [from, until] = [0, 1];
		for (const { normal, offset } of strip) {
			const left = offset - dot(normal, entry);
			const speed = dot(normal, way);
			if (speed > 0) until = Math.min(until, left / speed);
			else if (speed < 0) from = Math.max(from, left / speed);
			else if (left < 0) until = -1;
		}
		if (until > from) air += (until - from) * length(way);
	}
	return air;
}
