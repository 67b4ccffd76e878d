/** The printed sheet. */

import { z } from "zod";
import { PAPERS } from "./basics.ts";

export const sheetSchema = z
	.strictObject({
		paper: z.enum(PAPERS).default("A4"),
		units: z.enum(["mm", "in"]).default("mm"),
		/** Day printed on the sheet, ISO 8601; empty: none, because a plan knows no clock. */
		date: z.string().max(20).default(""),
		revision: z.string().max(4).default("A"),
	})
	.prefault({});
