/** Datum sets and lies. */

import { z } from "zod";
import { placeOnModel } from "./basics.ts";

export const datumSetSchema = z.strictObject({
	name: z.string().min(1).max(40),
	/** A, B and C in this order. */
	datums: z.tuple([placeOnModel, placeOnModel, placeOnModel]),
});

export const lieSchema = z.strictObject({
	name: z.string().min(1).max(40),
	/** The face that lies on the banker, so that no drill enters there: of a block by its name, of an offcut "face 3" and so on. */
	closedFace: z.string().min(1).max(60),
});
