/** The stone as it stands in the yard, and how the figure may lie in it. */

import { z } from "zod";
import { UNITS } from "../../scan/unit.ts";
import { FACES, finiteNumber, placeOnModel, positive, TURNINGS, vec3 } from "./basics.ts";

/** How the stone is described. What was entered of the other ways stays where it is. */
export const STONES = ["sides", "measured", "planes", "scan"] as const;

const side = positive.max(20000);
const sides = z.tuple([side, side, side]);

const breakSchema = z.discriminatedUnion("kind", [
	/** A corner (three faces that meet) or an edge (two) broken off; mm from each face into the block. */
	z.strictObject({
		kind: z.literal("off"),
		faces: z.array(z.enum(FACES)).min(2).max(3),
		reach_mm: z.array(positive.max(20000)).min(2).max(3),
	}),
	/** A flat break through three places on it, stone frame. */
	z.strictObject({ kind: z.literal("plane"), through_mm: z.tuple([vec3, vec3, vec3]) }),
]);

const readings = z.array(side.nullable());

export const stoneSchema = z
	.strictObject({
		kind: z.string().min(1).max(60).default("marble"),
		/** The carver's own range instead of the published one. */
		density_kgm3: z.tuple([positive, positive]).nullable().default(null),
		/** Length, width, height; null: the smallest sawn block is assumed and said. */
		block_mm: sides.nullable().default(null),
		given: z.enum(STONES).default("sides"),
		/** Corners and edges broken off the block, sawn or measured. */
		breaks: z.array(breakSchema).max(24).default([]),
		/** A delivered block by tape: twelve edges and twelve face diagonals in the order of `BLOCK_READINGS`; null: not read yet. */
		measured_mm: readings.length(24).nullable().default(null),
		/** A leftover piece by its faces: nx, ny, nz, b with stone where n · x ≤ b, mm. */
		planes: z
			.array(z.tuple([finiteNumber, finiteNumber, finiteNumber, finiteNumber]))
			.min(4)
			.max(200)
			.nullable()
			.default(null),
		/** The stone's own scan; its coordinates × unit are the stone frame, up to the move that brings its bounds to 0. */
		scan: z
			.strictObject({
				file: z.string().min(1),
				sha256: z.string().regex(/^([0-9a-f]{64})?$/),
				unit: z.enum(UNITS).nullable().default(null),
			})
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
		/** Margin of breaks and of an offcut's faces. */
		otherMargin_mm: finiteNumber.min(0).max(1000).default(0),
		/** Extra stone under the figure's foot, cut off last. */
		holdingFoot_mm: finiteNumber.min(0).max(1000).default(0),
		/** What the stone may be off its sizes, taken off each pair of sides; the fit is proved for the sizes given. */
		outOfTrue_mm: finiteNumber.min(0).max(200).default(0),
		/**
		 * "as stood": square to the block as the model stands; "upright": turned about the vertical; "tipped": upright
		 * within an angle; "free": any way.
		 */
		turning: z.enum(TURNINGS).default("upright"),
		/** How far the figure may be tipped from upright. */
		tip_deg: finiteNumber.min(0).max(180).default(10),
		/** Turns looked at before a proof is given up for the best so far and its bound. */
		searchUpTo: z.int().min(1000).max(20_000_000).default(1_000_000),
		/** Sizes that the yard keeps: the smallest that takes the figure is looked for. */
		stock_mm: z.array(sides).max(200).default([]),
		/** How the stone lay in the quarry. */
		naturalBed: z
			.strictObject({
				/** Square to the bed, stone frame; which way along it does not matter. */
				normal: vec3,
				/** The model's direction that is to run along that normal: for a standing figure its height. */
				model: vec3.default([0, 0, 1]),
				/** Greatest angle between the two; null: a wish, the least angle at which it fits is looked for (in a scanned stone only told). */
				within_deg: finiteNumber.min(0).max(90).nullable().default(null),
			})
			.nullable()
			.default(null),
		/** Veins, cracks and inclusions as planes with a thickness, by three places seen on the stone's faces, stone frame. */
		flaws: z
			.array(
				z.strictObject({
					name: z.string().min(1).max(60),
					through_mm: z.tuple([vec3, vec3, vec3]),
					thickness_mm: finiteNumber.min(0).max(1000).default(2),
				}),
			)
			.max(12)
			.default([]),
		/** Places of the figure that no flaw may come near. */
		keepSound: z.array(placeOnModel).max(40).default([]),
		/** How near: from the flaw's own skin, mm. */
		soundWithin_mm: finiteNumber.min(0).max(1000).default(10),
		/** Where the carver has put the figure by hand, model → stone; null: where most is to spare. */
		byHand: z
			.strictObject({
				/** x, y, z, w; need not be of unit length. */
				quaternion: z.tuple([finiteNumber, finiteNumber, finiteNumber, finiteNumber]),
				translation_mm: vec3,
			})
			.nullable()
			.default(null),
	})
	.prefault({});
