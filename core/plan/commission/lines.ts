/** Where drill lines are looked for. */

import { z } from "zod";
import { finiteNumber } from "./basics.ts";

export const linesSchema = z
	.strictObject({
		/** Half angle of the cone around the surface normal in which a line is looked for. */
		cone_deg: finiteNumber.min(0).max(45).default(30),
		/** Greatest lean from square to the face; over 25 a flat is cut first. */
		lean_deg: finiteNumber.min(0).max(45).default(25),
		/** Free length outside the stone for drill and hands. */
		outside_mm: finiteNumber.min(0).max(2000).default(300),
	})
	.prefault({});
