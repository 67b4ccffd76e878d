/** Datum sets and lies. */

import { z } from "zod";
import { placeOnModel, vec3 } from "./basics.ts";

export const datumSetSchema = z.strictObject({
	name: z.string().min(1).max(40),
	/** A, B and C in this order. */
	datums: z.tuple([placeOnModel, placeOnModel, placeOnModel]),
	/** The earlier set that it hangs on (its place in the list), by points that both read; no points: they are suggested. */
	link: z
		.strictObject({ to: z.int().min(0).max(7), points: z.array(placeOnModel).max(12).default([]) })
		.nullable()
		.default(null),
	/** Where its seats A, B, C were found after setting, stone frame: from the left, front and bed faces. */
	measured_mm: z.tuple([vec3, vec3, vec3]).nullable().default(null),
});

export const lieSchema = z.strictObject({
	name: z.string().min(1).max(40),
	/** The face that lies on the banker, so that no drill enters there: of a block by its name, of an offcut "face 3" and so on. */
	closedFace: z.string().min(1).max(60),
});
