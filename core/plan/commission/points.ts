/** What the carver says about points besides the rounds: brushed ground, middle plane, order, and holes that are drilled. */

import { z } from "zod";
import { finiteNumber, placeOnModel, positive, vec3 } from "./basics.ts";

export const SIDES_ORDER = ["together", "left first", "right first", "in pairs"] as const;

/** Ground brushed on the scan where more or fewer points are wanted, or none; where areas overlap the later one counts. */
export const areaSchema = z.strictObject({
	name: z.string().min(1).max(40),
	/** On the spacing: under 1 closer, over 1 wider, 0 no points at all. */
	factor: finiteNumber
		.min(0)
		.max(4)
		.refine((f) => f === 0 || f >= 0.25, "0, or from 0.25 up"),
	/** Rounds of ground, joined along the surface, within a radius of a place. */
	dabs: z
		.array(z.strictObject({ ...placeOnModel.shape, radius_mm: positive.max(2000) }))
		.min(1)
		.max(400),
});

/** The plane normal · x = offset of the model frame; the normal points to the model's own left. */
export const middleSchema = z
	.strictObject({
		normal: vec3.refine((n) => n.some((x) => x !== 0), "has no direction"),
		offset_mm: finiteNumber,
	})
	.nullable()
	.default(null);

/** A point whose hole is in the stone: it keeps its number and its place whatever else changes. */
export const drilledSchema = z.strictObject({
	number: z.int().min(1).max(1_000_000),
	round: z.int().min(0).max(11),
	kind: z.enum(["high point", "picked", "net", "added"]),
	...placeOnModel.shape,
	/** As it lies in the stone: the line out of it and the place of its floor; null where an older document does not say. */
	hole: z.strictObject({ line: vec3, floor_mm: vec3 }).nullable().default(null),
});
