/** The plan document, `plan.json` (handbook 16): what the program computed, as others read it. */

import { z } from "zod";
import { DATUM_SIDES } from "../datum/callipers.ts";
import { UNITS } from "../scan/unit.ts";
import { LENGTH_UNITS } from "../text/length.ts";
import { PAPERS, TRANSFERS } from "./commission.ts";

import {
	afterCutsSchema,
	planBridgeSchema,
	planCutSchema,
	planFaceSchema,
	planSawSchema,
	planStopCutsSchema,
} from "./plan/cuts.ts";
import { planFinishSchema } from "./plan/finish.ts";

const num = z.number();
const vec3 = z.tuple([num, num, num]);
const vec2 = z.tuple([num, num]);
const mat3 = z.tuple([num, num, num, num, num, num, num, num, num]);
const mat4 = z.tuple([num, num, num, num, num, num, num, num, num, num, num, num, num, num, num, num]);

const planPointSchema = z.strictObject({
	number: z.int().min(1),
	round: z.int().min(0),
	lie: z.int().min(0).nullable(),
	set: z.int().min(0),
	kind: z.enum(["high point", "picked", "net", "added"]),
	/** Proper left or right of the model's middle plane; "middle" within a smallest form of it. */
	side: z.enum(["left", "right", "middle"]),
	model_mm: vec3,
	normal: vec3,
	/** Stone behind the target when the figure is finished; null for an open shell with nothing behind. */
	thickness_mm: num.nullable(),
	line: vec3.nullable(),
	tilt_deg: num.nullable(),
	lean_deg: vec2.nullable(),
	entry_mm: vec3.nullable(),
	face: z.string().nullable(),
	u_mm: num.nullable(),
	v_mm: num.nullable(),
	stop_mm: num.nullable(),
	depth_mm: num.nullable(),
	clearance_mm: num.nullable(),
	aimSafe_deg: num.nullable(),
	stone_mm: num.nullable(),
	callipers_mm: z.strictObject({ model: vec3, stone: vec3 }).nullable(),
	/** Towards which face the target lies from the plane of the seats: the other place with the same three lengths is wrong. */
	calliperSide: z.enum(DATUM_SIDES).nullable(),
	/** Too near that plane for three lengths to hold its height. */
	calliperUnreliable: z.boolean(),
	/** By straightedge only: along AB from A, across towards C, below the edge; to the target and to the hole's floor. */
	straightedge_mm: z.strictObject({ model: vec3, stone: vec3 }).nullable(),
	toGo_mm: num.nullable(),
	error_mm: num,
	byEye: z.boolean(),
	undercut: z.boolean(),
	/** Why there is no line, or why the ground is by eye; empty otherwise. */
	reason: z.string(),
	/** Where the figure itself stands in the way of an undercut's lines, model frame; null where something else does. */
	blockedAt_mm: vec3.nullable(),
});

const planDatumSchema = z.strictObject({
	name: z.string(),
	/** Where the cross touches: the top of the stud. */
	model_mm: vec3,
	/** Height of the stud over the surface; less than was asked for where the stone's skin is nearer. */
	stud_mm: num,
	stone_mm: vec3,
	/** Where the boss under the seat stands on the figure, stone frame. */
	foot_mm: vec3,
	face: z.string(),
	u_mm: num,
	v_mm: num,
	lean_deg: vec2,
	depth_mm: num,
});

/** A point of a link: sunk while the earlier set's seats still stand, then read from both. */
const planLinkPointSchema = z.strictObject({ model_mm: vec3, stone_mm: vec3 });

const planProofMarkSchema = z.strictObject({
	name: z.string(),
	suggested: z.boolean(),
	model_mm: vec3,
	normal: vec3,
	/** Null where no open face sees the place. */
	line: vec3.nullable(),
	entry_mm: vec3.nullable(),
	face: z.string().nullable(),
	u_mm: num.nullable(),
	v_mm: num.nullable(),
	/** Stone along the line, from the skin to the target. */
	waste_mm: num.nullable(),
	/** On the skin, to the nearest hole; null where none enters. */
	fromHole_mm: num.nullable(),
});

export const planSchema = z.strictObject({
	format: z.literal("puntello-plan"),
	version: z.literal(1),
	name: z.string(),
	/** Short code of what is drilled, the same on every paper, on every page of the sheet, so that sheets of two plans are never mixed. */
	code: z.string(),
	model: z.strictObject({
		scan: z.string(),
		sha256: z.string(),
		unit: z.enum(UNITS),
		unitReason: z.string(),
		scale: num,
		benchScale: num,
		mirrored: z.boolean(),
		triangles: z.int(),
		area_mm2: num,
		volume_mm3: num.nullable(),
		size_mm: vec3,
		toModel: mat4,
	}),
	stone: z.strictObject({
		kind: z.string(),
		density_kgm3: vec2,
		/** Sides of a block, whether sawn, broken or measured; null for an offcut. */
		block_mm: vec3.nullable(),
		/** nx, ny, nz, b of every face with stone where n · x ≤ b; null for a plain sawn block. */
		planes: z.array(z.tuple([num, num, num, num])).nullable(),
		/** Extent along x, y and z from the origin. */
		extent_mm: vec3,
		/** In the order of `planes`: where u = v = 0, the directions in which they grow, and the corners, counter-clockwise from outside. */
		faces: z.array(planFaceSchema),
		/** True where the block was not given and the smallest sawn one is assumed. */
		blockAssumed: z.boolean(),
		placement: z.strictObject({ rotation: mat3, translation: vec3 }),
		fits: z.boolean(),
		clearance_mm: num,
		spare_mm: num,
		clearanceBound_mm: num,
		certified: z.boolean(),
		perFace: z.array(z.strictObject({ face: z.string(), gap_mm: num, margin_mm: num, touching_mm: vec3 })),
		stone_kg: vec2,
		/** After standing in the rain; null where the stone's absorption is not known. */
		stoneWet_kg: vec2.nullable(),
		figure_kg: vec2.nullable(),
		figureWet_kg: vec2.nullable(),
		/** Counted into the fit: stone under the figure's foot, and what the stone may be off its sizes. */
		holdingFoot_mm: num,
		outOfTrue_mm: num,
		/** Between the natural bed's normal and the model's direction; null where no bed is given. */
		bed_deg: num.nullable(),
		/** Square to the natural bed, stone frame, unit; null where no bed is given. */
		bed_normal: vec3.nullable(),
		/** Places of the figure that no flaw may come near, stone frame. */
		keepSound_mm: z.array(vec3),
		flaws: z.array(
			z.strictObject({
				name: z.string(),
				/** n · x = b in the stone frame. */
				plane: z.tuple([num, num, num, num]),
				thickness_mm: num,
				/** Area of the figure that it crosses; null for an open shell. */
				crossing_mm2: num.nullable(),
				/** It passes a thin part. */
				thin: z.boolean(),
				/** From its skin to each place to be kept sound. */
				sound_mm: z.array(num),
			}),
		),
	}),
	transfer: z.enum(TRANSFERS),
	aim: z.strictObject({ mark_mm: num, lean_deg: num, wander: num }),
	seatError_mm: num,
	datumSets: z.array(
		z.strictObject({
			name: z.string(),
			datums: z.tuple([planDatumSchema, planDatumSchema, planDatumSchema]),
			/** AB, BC, CA, stone mm. */
			sides_mm: vec3,
			worstError_mm: num,
			/** Null: the seats are marked from the block's faces. */
			link: z.strictObject({ to: z.int(), suggested: z.boolean(), points: z.array(planLinkPointSchema) }).nullable(),
			/** The seats stand where they were measured, not where they were planned. */
			measured: z.boolean(),
			/** How far each measured seat lies from where the refitted figure wants it; null where none was measured. */
			seatOff_mm: vec3.nullable(),
		}),
	),
	/** Only where a cross or callipers stand on the bench. */
	proofMarks: z.array(planProofMarkSchema),
	lies: z.array(
		z.strictObject({
			name: z.string(),
			up: vec3,
			openFaces: z.array(z.string()),
			/** Share of the figure's area within reach in this lie and those before it. */
			reachedShare: num,
			/** Points worked in it. */
			points: z.int(),
		}),
	),
	rounds: z.array(
		z.strictObject({
			name: z.string(),
			kind: z.enum(["high points", "net"]),
			allowance_mm: num,
			join_mm: num,
			eyeFactor: num,
			/** Over the claimed area; null for high points, which carry no limit. */
			leastCover_mm: num.nullable(),
			greatestCover_mm: num.nullable(),
			plannedCover_mm: num.nullable(),
			leastCoverAt_mm: vec3.nullable(),
			claimedShare: num.nullable(),
			points: z.int(),
			foreseen: num,
			/** Points of earlier rounds that count for this join too; foreseen counts them in. */
			earlier: z.int(),
			/** Of the points, those that the check on the scan added. */
			added: z.int(),
			/** Ground that is not claimed, by its reason, as shares of the area. */
			unclaimed: z.array(z.strictObject({ reason: z.string(), share: num })),
			tool: z.strictObject({
				tip: z.enum(["ball", "pointed", "flat"]),
				radius_mm: num,
				drill_mm: num,
				pointAngle_deg: num,
				reach_mm: num,
				/** Reading of the depth stop with the tip on the skin; the stop is set to depth and this together. */
				setZero_mm: num,
			}),
		}),
	),
	points: z.array(planPointSchema),
	/** Way of the arm through all drilled points, mm: in the order of work, always to the nearest point left, and by lot. */
	travel: z.strictObject({ order_mm: num, nearest_mm: num, random_mm: num }),
	/** Holes that run into each other, by number, where no other clear line parts them; web below 0 where they overlap. */
	crossings: z.array(z.strictObject({ points: z.tuple([z.int(), z.int()]), web_mm: num })),
	saw: planSawSchema.nullable(),
	cuts: z.array(planCutSchema),
	stopCuts: z.array(planStopCutsSchema),
	/** The stone after all cuts, from which depths are counted; null where nothing is sawn. */
	afterCuts: afterCutsSchema.nullable(),
	bridges: z.array(planBridgeSchema),
	/** After the last point; null in plans of before it was reckoned. */
	finish: planFinishSchema.nullable(),
	sheet: z.strictObject({
		paper: z.enum(PAPERS),
		units: z.enum(LENGTH_UNITS),
		date: z.string(),
		revision: z.string(),
		supersedes: z.string(),
		changes: z.string(),
		contour_mm: num.nullable(),
		/** Further maps; towards the viewer, stone frame. */
		views: z.array(z.strictObject({ name: z.string(), towards: vec3 })),
	}),
	cautions: z.array(z.string()),
});

export type Plan = z.output<typeof planSchema>;
export type PlanPoint = z.output<typeof planPointSchema>;
export type PlanDatum = z.output<typeof planDatumSchema>;
export type PlanProofMark = Plan["proofMarks"][number];
export type PlanCrossing = Plan["crossings"][number];
