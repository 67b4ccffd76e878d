/** Rough-out cuts and bridges: what the carver saws with, how many cuts are proposed, which ones are the carver's own. */

import { z } from "zod";
import { SAWS } from "../../cuts/saws.ts";
import { finiteNumber, positive, vec3 } from "./basics.ts";

export const MOST_CUTS = 24;
export const MOST_STOP_CUTS = 12;

export const cutsSchema = z
	.strictObject({
		saw: z.enum(SAWS).default("bridge saw"),
		/** Stone that stays over figure, bosses and bridges; null: the saw's usual value. */
		allowance_mm: finiteNumber.min(5).max(300).nullable().default(null),
		kerf_mm: finiteNumber.min(0.5).max(30).nullable().default(null),
		/** How deep the saw reaches from one side; null: the saw's usual value. */
		reach_mm: positive.max(5000).nullable().default(null),
		/** Diameter of the disc, for the ends of stop cuts; null: the saw's usual value. */
		disc_mm: finiteNumber.min(80).max(4000).nullable().default(null),
		/** How many through cuts are proposed after the carver's own; 0: none. */
		count: z.int().min(0).max(MOST_CUTS).default(0),
		/** How many fields of stop cuts are proposed; 0: none. */
		stopCuts: z.int().min(0).max(MOST_STOP_CUTS).default(0),
		/** False once the axes have been scribed elsewhere, so that the marked corner may go. */
		spareCorner: z.boolean().default(true),
		/** The carver's own cuts, made before the proposed ones: stone is kept where normal · x ≤ offset, stone frame. */
		own: z
			.array(
				z.strictObject({
					normal: vec3,
					offset_mm: finiteNumber,
					/** Not sawn, and nothing like it is proposed. */
					skipped: z.boolean().default(false),
				}),
			)
			.max(MOST_CUTS)
			.default([]),
	})
	.prefault({});

/** Stone left between two places of the model until a round. */
export const bridgeSchema = z.strictObject({
	name: z.string().min(1).max(40),
	/** Model frame. */
	from_mm: vec3,
	to_mm: vec3,
	radius_mm: positive.max(500),
	/** Cut away when this round begins; rounds are counted from 0. */
	round: z.int().min(0).max(12),
});
