/**
 * The commission: everything the carver entered, and nothing that can be computed (handbook 16, last paragraph).
 * The defaults stand here once; the window marks a value that differs from them and can put it back.
 */

import { z } from "zod";
import { UNITS } from "../scan/unit.ts";

// A strict content security policy forbids `new Function`, which zod otherwise probes for.
z.config({ jitless: true });

const finiteNumber = z.number();
const positive = finiteNumber.positive();
const vec3 = z.tuple([finiteNumber, finiteNumber, finiteNumber]);

export const TRANSFERS = ["machine", "callipers", "faces", "straightedge"] as const;
export const TURNINGS = ["as stood", "upright", "free"] as const;
export const FACES = ["bed", "top", "front", "back", "left", "right"] as const;
export const PAPERS = ["A4", "A3", "Letter", "Tabloid"] as const;

/** A place on the model's surface: where it is and which way the surface faces there; model frame, mm. */
export const placeOnModel = z.strictObject({ position_mm: vec3, normal: vec3 });

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

export const datumSetSchema = z.strictObject({
	name: z.string().min(1).max(40),
	/** A, B and C in this order. */
	datums: z.tuple([placeOnModel, placeOnModel, placeOnModel]),
});

export const lieSchema = z.strictObject({
	name: z.string().min(1).max(40),
	/** The face of the block that lies on the banker, so that no drill enters there. */
	closedFace: z.enum(FACES),
});

export const commissionSchema = z.strictObject({
	format: z.literal("puntello-commission"),
	version: z.literal(1),
	name: z.string().min(1).max(120).default("commission"),
	scan: z.strictObject({
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
				closeHolesUpTo_mm: finiteNumber.min(0).max(10000).default(0),
			})
			.prefault({}),
	}),
	model: z
		.strictObject({
			/** Stone ÷ scan. */
			scale: positive.max(1000).default(1),
			/** Stone ÷ bench model. */
			benchScale: positive.max(1000).default(1),
			/** Quaternion x, y, z, w that turns the scan's axes so that up is z; need not be of unit length. */
			stance: z.tuple([finiteNumber, finiteNumber, finiteNumber, finiteNumber]).default([0, 0, 0, 1]),
			/** Width below which form is not read from the scan. */
			smallestForm_mm: finiteNumber.min(0.2).max(50).default(3),
			/** Calliper pairs: two places on the model, model frame, and the length between them as read on the cast. */
			castPairs: z
				.array(z.strictObject({ a_mm: vec3, b_mm: vec3, read_mm: positive.max(20000) }))
				.max(200)
				.default([]),
		})
		.prefault({}),
	/** What stands on the bench; null until the carver has said it. */
	transfer: z.enum(TRANSFERS).nullable().default(null),
	stone: z
		.strictObject({
			kind: z.string().min(1).max(60).default("marble"),
			/** The carver's own range instead of the published one. */
			density_kgm3: z.tuple([positive, positive]).nullable().default(null),
			/** Length, width, height; null: the smallest sawn block is assumed and said. */
			block_mm: z
				.tuple([positive.max(20000), positive.max(20000), positive.max(20000)])
				.nullable()
				.default(null),
			margins_mm: z
				.strictObject({
					bed: finiteNumber.min(0).max(1000).default(0),
					top: finiteNumber.min(0).max(1000).default(0),
					front: finiteNumber.min(0).max(1000).default(0),
					back: finiteNumber.min(0).max(1000).default(0),
					left: finiteNumber.min(0).max(1000).default(0),
					right: finiteNumber.min(0).max(1000).default(0),
				})
				.prefault({}),
			/** "as stood": square to the block as the model stands; "upright": turned about the vertical; "free": any way. */
			turning: z.enum(TURNINGS).default("upright"),
		})
		.prefault({}),
	/** Empty: one set is suggested. */
	datumSets: z.array(datumSetSchema).max(8).default([]),
	/** Height of the studs on which datums stand, and of the bosses in the stone under their seats. */
	stud_mm: finiteNumber.min(0).max(200).default(20),
	/** Longest side that the machine's cross can bridge, stone mm. */
	span_mm: positive.default(1500),
	/** Root mean square error of a seat, three-dimensional, stone mm. */
	seatError_mm: positive.max(20).default(0.5),
	/** Places that the carver wants as points, whatever the spacing. */
	picks: z.array(placeOnModel).max(2000).default([]),
	rounds: z
		.array(roundSchema)
		.min(1)
		.max(12)
		.default(DEFAULT_ROUNDS.map((r) => roundSchema.parse(r))),
	/** "once": straight to the stop of the last round. "by rounds": to the round's own join. */
	holes: z.enum(["once", "by rounds"]).default("once"),
	/** Empty: proposed. */
	lies: z.array(lieSchema).max(6).default([]),
	lines: z
		.strictObject({
			/** Half angle of the cone around the surface normal in which a line is looked for. */
			cone_deg: finiteNumber.min(0).max(45).default(30),
			/** Greatest lean from square to the face; over 25 a flat is cut first. */
			lean_deg: finiteNumber.min(0).max(45).default(25),
			/** Free length outside the stone for drill and hands. */
			outside_mm: finiteNumber.min(0).max(2000).default(300),
		})
		.prefault({}),
	/** null: the usual values of the chosen transfer (handbook 8). */
	aim: z
		.strictObject({
			mark_mm: finiteNumber.min(0).max(20),
			lean_deg: finiteNumber.min(0).max(20),
			wander: finiteNumber.min(0).max(0.2),
		})
		.nullable()
		.default(null),
	sheet: z
		.strictObject({
			paper: z.enum(PAPERS).default("A4"),
			units: z.enum(["mm", "in"]).default("mm"),
			/** Day printed on the sheet, ISO 8601; empty: none, because a plan knows no clock. */
			date: z.string().max(20).default(""),
			revision: z.string().max(4).default("A"),
		})
		.prefault({}),
});

export type Commission = z.output<typeof commissionSchema>;
export type { Unit } from "../scan/unit.ts";
export type Transfer = (typeof TRANSFERS)[number];
export type FaceName = (typeof FACES)[number];
export type Paper = (typeof PAPERS)[number];
export type Tool = z.output<typeof toolSchema>;
export type Round = z.output<typeof roundSchema>;
export type DatumSetChoice = z.output<typeof datumSetSchema>;
export type PlaceOnModel = z.output<typeof placeOnModel>;

/** A commission on the scan of that name with every default in place. */
export function newCommission(file: string): Commission {
	return commissionSchema.parse({ format: "puntello-commission", version: 1, scan: { file } });
}
