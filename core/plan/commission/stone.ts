/** The stone as it stands in the yard, and how the figure may lie in it. */

import { z } from "zod";
import { finiteNumber, positive, TURNINGS } from "./basics.ts";

export const stoneSchema = z
	.strictObject({
		kind: z.string().min(1).max(60).default("marble"),
		/** The carver's own range instead of the published one. */
		density_kgm3: z.tuple([positive, positive]).nullable().default(null),
		/** Length, width, height; null: the smallest sawn block is assumed and said. */
		block_mm: z
			.tuple([positive.max(20000), positive.max(20000), positive.max(20000)])
			.nullable()
			.default(null),
		margins_mm: z
			.strictObject({
				bed: finiteNumber.min(0).max(1000).default(0),
				top: finiteNumber.min(0).max(1000).default(0),
				front: finiteNumber.min(0).max(1000).default(0),
				back: finiteNumber.min(0).max(1000).default(0),
				left: finiteNumber.min(0).max(1000).default(0),
				right: finiteNumber.min(0).max(1000).default(0),
			})
			.prefault({}),
		/** "as stood": square to the block as the model stands; "upright": turned about the vertical; "free": any way. */
		turning: z.enum(TURNINGS).default("upright"),
	})
	.prefault({});
