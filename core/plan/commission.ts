/**
 * The commission: everything the carver entered, and nothing that can be computed (handbook 16, last paragraph).
 * The defaults stand here once; the window marks a value that differs from them and can put it back.
 */

import { z } from "zod";
import type { FACES, PAPERS } from "./commission/basics.ts";
import { finiteNumber, placeOnModel, positive, TRANSFERS } from "./commission/basics.ts";
import { bridgeSchema, cutsSchema } from "./commission/cuts.ts";
import { datumSetSchema, lieSchema } from "./commission/datums.ts";
import { finishSchema, fixingSchema, quoteSchema, workdaySchema } from "./commission/finish.ts";
import { linesSchema } from "./commission/lines.ts";
import { type logEntrySchema, logSchema } from "./commission/log.ts";
import { modelSchema } from "./commission/model.ts";
import { areaSchema, drilledSchema, middleSchema, SIDES_ORDER } from "./commission/points.ts";
import { DEFAULT_ROUNDS, roundSchema, type toolSchema } from "./commission/rounds.ts";
import { scanSchema } from "./commission/scan.ts";
import { sheetSchema } from "./commission/sheet.ts";
import { stoneSchema } from "./commission/stone.ts";

export { FACES, PAPERS, placeOnModel, TRANSFERS, TURNINGS } from "./commission/basics.ts";
export { DEFAULT_ROUNDS, roundSchema, toolSchema } from "./commission/rounds.ts";

export const commissionSchema = z.strictObject({
	format: z.literal("puntello-commission"),
	version: z.literal(1),
	name: z.string().min(1).max(120).default("commission"),
	scan: scanSchema,
	model: modelSchema,
	/** What stands on the bench; null until the carver has said it. */
	transfer: z.enum(TRANSFERS).nullable().default(null),
	stone: stoneSchema,
	/** Rough-out; nothing is sawn unless the carver asks for it. */
	cuts: cutsSchema,
	bridges: z.array(bridgeSchema).max(40).default([]),
	/** Empty: one set is suggested. */
	datumSets: z.array(datumSetSchema).max(8).default([]),
	/** Height of the studs on which datums stand, and of the bosses in the stone under their seats. */
	stud_mm: finiteNumber.min(0).max(200).default(20),
	/** Longest side that the machine's cross can bridge, stone mm. */
	span_mm: positive.default(1500),
	/** How far from the middle of the cross the machine's needle comes, stone mm (common practice, no source). */
	arm_mm: positive.default(1500),
	/** Places on the model that are only read, to see that nothing moved; empty: suggested. */
	proofMarks: z.array(placeOnModel).max(24).default([]),
	/** Root mean square error of a seat, three-dimensional, stone mm. */
	seatError_mm: positive.max(20).default(0.5),
	/** Places that the carver wants as points, whatever the spacing. */
	picks: z.array(placeOnModel).max(2000).default([]),
	/** Where more or fewer points are wanted, or none. */
	areas: z.array(areaSchema).max(60).default([]),
	/** Parts proper left from right; null: the middle of the model's bounds, the model facing −y. */
	middle: middleSchema,
	/** Which side is worked when, within a lie and a round. */
	sides: z.enum(SIDES_ORDER).default("together"),
	/** Points already drilled when something about the others was changed. */
	drilled: z.array(drilledSchema).max(20_000).default([]),
	rounds: z
		.array(roundSchema)
		.min(1)
		.max(12)
		.default(DEFAULT_ROUNDS.map((r) => roundSchema.parse(r))),
	/** "once": straight to the stop of the last round. "by rounds": to the round's own join. */
	holes: z.enum(["once", "by rounds"]).default("once"),
	/** Empty: proposed. */
	lies: z.array(lieSchema).max(6).default([]),
	lines: linesSchema,
	/** null: the usual values of the chosen transfer (handbook 8). */
	aim: z
		.strictObject({
			mark_mm: finiteNumber.min(0).max(20),
			lean_deg: finiteNumber.min(0).max(20),
			wander: finiteNumber.min(0).max(0.2),
		})
		.nullable()
		.default(null),
	sheet: sheetSchema,
	finish: finishSchema,
	fixing: fixingSchema,
	quote: quoteSchema,
	workday: workdaySchema,
	/** The work at the bench; the plan does not depend on it. */
	log: logSchema,
});

export type Commission = z.output<typeof commissionSchema>;
export type { Unit } from "../scan/unit.ts";
export type Transfer = (typeof TRANSFERS)[number];
export type FaceName = (typeof FACES)[number];
export type Paper = (typeof PAPERS)[number];
export type Tool = z.output<typeof toolSchema>;
export type Round = z.output<typeof roundSchema>;
export type DatumSetChoice = z.output<typeof datumSetSchema>;
export type Area = z.output<typeof areaSchema>;
export type LogEntry = z.output<typeof logEntrySchema>;
export type PlaceOnModel = z.output<typeof placeOnModel>;

/** A commission on the scan of that name with every default in place. */
export function newCommission(file: string): Commission {
	return commissionSchema.parse({ format: "puntello-commission", version: 1, scan: { file } });
}
