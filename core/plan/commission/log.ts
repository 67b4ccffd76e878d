/**
 * The log of the work: what was done, read and noted at the bench. Entries are only ever added, so that what a tablet brings
 * back joins what the planner has by their ids; an entry that was wrong is taken back by another.
 */

import { z } from "zod";
import { MARK_MOMENTS } from "../../bench/moments.ts";
import { finiteNumber } from "./basics.ts";

const common = {
	/** Made where the entry was made, and never again. */
	id: z.string().regex(/^[0-9a-z]{8,40}$/),
	/** The bench's own clock, local, without a zone: its first ten letters are the working day. */
	at: z.string().regex(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d$/),
	/** Who did it; empty where one carver works alone. */
	hand: z.string().max(40).default(""),
};
const pointNumber = z.int().min(1).max(1_000_000);
const length = finiteNumber.min(-20000).max(20000);

export const logEntrySchema = z.discriminatedUnion("kind", [
	z.strictObject({
		...common,
		kind: z.literal("done"),
		point: pointNumber,
		/** From the moment when the point was shown until it was done; null where nobody measured. */
		seconds: finiteNumber.min(0).max(1e6).nullable().default(null),
	}),
	z.strictObject({
		...common,
		kind: z.literal("reading"),
		point: pointNumber,
		/** From the tip to the finished surface along the point's line; below 0 where the tip lies under it. */
		over_mm: length,
	}),
	z.strictObject({
		...common,
		kind: z.literal("mark"),
		/** Name of the proof mark. */
		mark: z.string().min(1).max(40),
		moment: z.enum(MARK_MOMENTS),
		/** Where the needle stands on its own scale when it touches the mark. */
		read_mm: length,
	}),
	z.strictObject({
		...common,
		kind: z.literal("note"),
		/** null: about the whole work. */
		point: pointNumber.nullable().default(null),
		text: z.string().min(1).max(2000),
	}),
	z.strictObject({
		...common,
		kind: z.literal("taken back"),
		/** Id of the entry that no longer counts. */
		of: common.id,
	}),
]);

export const logSchema = z.array(logEntrySchema).max(50_000).default([]);
