/** Rounds, tools and how deep a hole goes. */

import { z } from "zod";
import { finiteNumber, positive } from "./basics.ts";

export const toolSchema = z.strictObject({
	/** Default: flat masonry tip or diamond core. */
	tip: z.enum(["ball", "pointed", "flat"]).default("flat"),
	/** Diameter of the drill; the hole is wider by the oversize. */
	drill_mm: positive.max(60).default(6),
	oversize_mm: finiteNumber.min(0).max(5).default(0.5),
	pointAngle_deg: finiteNumber.min(30).max(175).default(118),
	/** Longest way from the stone's skin to the tip. */
	reach_mm: positive.default(300),
	/** The chuck or hub behind the drill, which must stay clear of the stone and the model. */
	chuck_mm: positive.default(45),
	/** What the depth stop reads while the tip touches the skin: anything but 0 on a reground or changed drill. */
	setZero_mm: finiteNumber.min(-200).max(200).default(0),
	/** Least stone that the tool's bruise asks for under its tip: burr or diamond 1, rotary carbide 2, hammer 6. */
	action: z.enum(["diamond", "carbide", "hammer"]).default("carbide"),
});

export const roundSchema = z.strictObject({
	name: z.string().min(1).max(60),
	kind: z.enum(["high points", "net"]).default("net"),
	/** Stone left when the ground between the points is worked down. */
	join_mm: positive.max(100),
	/** 1 is the strict rule; over 1 the carver reads the curve from the model (handbook 6). */
	eyeFactor: finiteNumber.min(1).max(10).default(1),
	/** A number of points instead of a limit on the cover. */
	count: z.int().min(1).max(5000).nullable().default(null),
	/** Stone that the drill leaves over its target; null: from *holes* below, never under the bruise of the tool. */
	stop_mm: positive.max(100).nullable().default(null),
	tool: toolSchema.prefault({}),
});

export const DEFAULT_ROUNDS: readonly z.input<typeof roundSchema>[] = [
	{ name: "high points", kind: "high points", join_mm: 10 },
	{ name: "first net", join_mm: 6 },
	{ name: "close net", join_mm: 3.5, tool: { drill_mm: 4 } },
	{ name: "last net", join_mm: 2, eyeFactor: 2, tool: { drill_mm: 4 } },
];
