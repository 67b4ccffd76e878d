/** What comes after the last point, as the plan document tells it. */

import { z } from "zod";
import { ABRASIVE_KINDS } from "../../finish/abrasives.ts";

const num = z.number();
const vec2 = z.tuple([num, num]);
const vec3 = z.tuple([num, num, num]);

export const planFinishSchema = z.strictObject({
	/** Ground to be finished, the foot not counted: open, and bent so tightly that it is worked by hand. */
	openArea_mm2: num,
	detailArea_mm2: num,
	/** Empty: left as carved, or the chain was refused. */
	grades: z.array(
		z.strictObject({
			kind: z.enum(ABRASIVE_KINDS),
			grit: z.int(),
			wet: z.boolean(),
			grain_mm: num,
			/** What it must take off: the marks of the tool, or the scratches of the grade before. */
			takes_mm: num,
			troubles: z.array(z.string()),
		}),
	),
	/** All removals and the last scratch. */
	gradesTake_mm: num,
	gilded: z.array(z.strictObject({ name: z.string(), area_mm2: num, leaves: z.int(), books: z.int() })),
	/** Null where the figure has no volume. */
	fixing: z
		.strictObject({
			/** Centre of mass, model frame. */
			centre_mm: vec3,
			mass_kg: vec2,
			/** Of the figure on its foot, and with its base; null where there is none. */
			tips_deg: num.nullable(),
			wholeTips_deg: num.nullable(),
			wholeMass_kg: vec2.nullable(),
			slopeLoad_N: num,
			topPush_N: num.nullable(),
			stands: z.boolean(),
			pin: z
				.strictObject({
					holds: z.boolean(),
					at_mm: vec2,
					bar_mm: num,
					hole_mm: num,
					depth_mm: num,
					baseDepth_mm: num.nullable(),
					barLength_mm: num.nullable(),
					cover_mm: num.nullable(),
					resin_mm3: num.nullable(),
				})
				.nullable(),
			/** Why it does not stand or hold, and why an engineer is to be asked. */
			reasons: z.array(z.string()),
			engineer: z.array(z.string()),
		})
		.nullable(),
	/** Hand–arm vibration of a day. */
	days: z.array(z.strictObject({ name: z.string(), points: num, a8_ms2: num, unknown: z.array(z.string()) })),
});
