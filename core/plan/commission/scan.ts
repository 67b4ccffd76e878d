/** The scan: which file, read in which unit, mended how. */

import { z } from "zod";
import { UNITS } from "../../scan/unit.ts";
import { BACKS, finiteNumber, positive } from "./basics.ts";

export const scanSchema = z.strictObject({
	/** File name; where it lies is known to the shell alone. */
	file: z.string().min(1),
	/** Lower-case hexadecimal SHA-256 of the file, empty until it has been read. */
	sha256: z
		.string()
		.regex(/^([0-9a-f]{64})?$/)
		.default(""),
	/** null: taken from the size when that leaves no doubt. */
	unit: z.enum(UNITS).nullable().default(null),
	mirrored: z.boolean().default(false),
	mend: z
		.strictObject({
			weldWithin_mm: finiteNumber.min(0).max(5).default(0),
			dropDoubled: z.boolean().default(false),
			dropArealess: z.boolean().default(false),
			faceOutward: z.boolean().default(false),
			keepLargestShell: z.boolean().default(false),
			/** Shells that stay, as counted when their turn comes; null: all, or the largest alone. */
			keepShells: z.array(z.int().min(0)).min(1).max(60).nullable().default(null),
			closeHolesUpTo_mm: finiteNumber.min(0).max(10000).default(0),
		})
		.prefault({}),
	/** The back that an open shell is given; null: it stays open. */
	back: z
		.strictObject({
			/** Which way the rim is carried: square to itself, or along the model as it stands. */
			towards: z.enum(BACKS).default("rim"),
			/** From the hindmost place of the scan to the flat back, stone mm. */
			distance_mm: positive.max(2000),
		})
		.nullable()
		.default(null),
});
