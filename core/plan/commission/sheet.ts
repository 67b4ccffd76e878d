/** The printed sheet. */

import { z } from "zod";
import { LENGTH_UNITS } from "../../text/length.ts";
import { finiteNumber, PAPERS, positive } from "./basics.ts";

/** A view that the carver adds to the maps of the six sides. */
const sheetViewSchema = z.strictObject({
	/** As its map is headed. */
	name: z.string().min(1).max(40),
	/** From the stone towards the viewer, stone frame; any length but 0. */
	towards: z
		.tuple([finiteNumber, finiteNumber, finiteNumber])
		.refine((v) => v[0] * v[0] + v[1] * v[1] + v[2] * v[2] > 1e-12, "a direction has a length"),
});

export const sheetSchema = z
	.strictObject({
		paper: z.enum(PAPERS).default("A4"),
		units: z.enum(LENGTH_UNITS).default("mm"),
		/** Day printed on the sheet, ISO 8601; empty: none, because a plan knows no clock. */
		date: z.string().max(20).default(""),
		revision: z.string().max(4).default("A"),
		/** The revision whose sheets are no longer good; empty: none was given out. */
		supersedes: z.string().max(4).default(""),
		/** What is no longer as it was there, in the carver's words. */
		changes: z.string().max(400).default(""),
		/** Between two contour lines of the maps; null: the step that gives about thirty. */
		contour_mm: positive.max(1000).nullable().default(null),
		views: z.array(sheetViewSchema).max(12).default([]),
	})
	.prefault({});
