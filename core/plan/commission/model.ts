/** The model: size, stance, smallest form, the cast beside it. */

import { z } from "zod";
import { finiteNumber, positive, vec3 } from "./basics.ts";

export const modelSchema = z
	.strictObject({
		/** Stone ÷ scan. */
		scale: positive.max(1000).default(1),
		/** Stone ÷ bench model. */
		benchScale: positive.max(1000).default(1),
		/** Quaternion x, y, z, w that turns the scan's axes so that up is z; need not be of unit length. */
		stance: z.tuple([finiteNumber, finiteNumber, finiteNumber, finiteNumber]).default([0, 0, 0, 1]),
		/** Whether the carver has said that it stands as `stance` has it; a scan says nothing of it. The plan does not ask. */
		stanceSaid: z.boolean().default(true),
		/** Width below which form is not read from the scan. */
		smallestForm_mm: finiteNumber.min(0.2).max(50).default(3),
		/** Calliper pairs: two places on the model, model frame, and the length between them as read on the cast. */
		castPairs: z
			.array(z.strictObject({ a_mm: vec3, b_mm: vec3, read_mm: positive.max(20000) }))
			.max(200)
			.default([]),
	})
	.prefault({});
