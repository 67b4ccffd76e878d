/** What the bench page gives back: entries of the log, and the plan that they were made with. */

import { z } from "zod";
import { logSchema } from "./commission/log.ts";

export const readingsSchema = z.strictObject({
	format: z.literal("puntello-readings"),
	version: z.literal(1),
	name: z.string(),
	/** Code and revision of the plan on the page. */
	plan: z.string(),
	revision: z.string(),
	entries: logSchema,
});

export type Readings = z.output<typeof readingsSchema>;
