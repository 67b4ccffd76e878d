/** Rough-out in the plan document (handbook 16: `cuts`). */

import { z } from "zod";
import { SAWS } from "../../cuts/saws.ts";

const num = z.number();
const vec3 = z.tuple([num, num, num]);
const vec2 = z.tuple([num, num]);

/** A face of the stone: where u = v = 0, the directions in which they grow, and the corners, counter-clockwise from outside. */
export const planFaceSchema = z.strictObject({
	name: z.string(),
	normal: vec3,
	origin_mm: vec3,
	u: vec3,
	v: vec3,
	outline_mm: z.array(vec3),
});

export const planSawSchema = z.strictObject({
	kind: z.enum(SAWS),
	allowance_mm: num,
	kerf_mm: num,
	/** From one side; null for a wire, which goes through. */
	reach_mm: num.nullable(),
	/** Stone less the hull of all that is kept, grown by the allowance and half the kerf. */
	removableWaste_mm3: num,
});

export const planCutSchema = z.strictObject({
	/** Also the name of the face that it leaves. */
	name: z.string(),
	by: z.enum(["proposed", "hand"]),
	/** nx, ny, nz, b: stone is kept where n · x ≤ b. The plane is the face that is left; the saw runs beyond it. */
	plane: z.tuple([num, num, num, num]),
	/** Off the stone as it stands before this cut, kerf included. */
	removed_mm3: num,
	/** At the upper end of the density; both ends in `removedRange_kg`. */
	removed_kg: num,
	removedRange_kg: vec2,
	/** From the edge's end at face `from`, the one nearer to the marked corner, along the edge where the two faces meet. */
	marks: z.array(z.strictObject({ edge: z.string(), from: z.string(), distance_mm: num, at_mm: vec3 })),
	/** Outline of the cut, stone frame. */
	outline_mm: z.array(vec3),
	/** Stone that stays beyond what must, and over what. */
	spare_mm: num,
	nearest: z.string(),
	/** From how many sides it is sawn; null: the saw does not reach through. */
	sides: z.int().nullable(),
	/** What the piece does when the last stone lets go. */
	loose: z.enum(["rests", "slides", "stands", "topples", "hangs"]),
	/** Of the removable waste, gone after this cut. */
	wasteShare: num,
	/** Whether the stone still stands in its lie: way from under its centre of gravity to the edge that it would tip over. */
	stands: z.boolean(),
	tipping_mm: num.nullable(),
});

export const planStopCutsSchema = z.strictObject({
	name: z.string(),
	/** The face of the stone after the through cuts that they are sawn into. */
	face: z.string(),
	/** The axis of the face along which the kerfs run; `at_mm` counts along the other one. */
	runs: z.enum(["u", "v"]),
	/** Where every kerf has its full depth, along `runs`. */
	from_mm: num,
	to_mm: num,
	kerfs: z.array(z.strictObject({ at_mm: num, depth_mm: num })),
	/** With stop cuts alone: the saw that makes them. */
	saw: z.strictObject({ kind: z.enum(SAWS), allowance_mm: num, kerf_mm: num, disc_mm: num }),
	removed_mm3: num,
	removedRange_kg: vec2,
});

export const afterCutsSchema = z.strictObject({
	/** With the stop cuts knocked off. */
	volume_mm3: num,
	mass_kg: vec2,
	/**
	 * Faces that drill lines enter: those of the stone that are left, and one for each cut. Over a field of stop cuts depths
	 * count from the face as if it were whole; what is air there is left out of a point's `stone_mm`.
	 */
	faces: z.array(planFaceSchema),
});

export const planBridgeSchema = z.strictObject({
	name: z.string(),
	/** Stone frame. */
	from_mm: vec3,
	to_mm: vec3,
	radius_mm: num,
	/** Stands until this round begins. */
	round: z.int(),
});
