/** After the last point: grades, gilded areas, fixing, the quote, the tools of a day. Nothing here moves a point or a depth. */

import { z } from "zod";
import { ABRASIVE_KINDS } from "../../finish/abrasives.ts";
import { STANDING_PLACES } from "../../finish/fixing.ts";
import { POLISHES } from "../../finish/grades.ts";
import { type Assumption, QUICK, type QuickKey, RATES, type RateKey } from "../../finish/rates.ts";
import { finiteNumber, positive, vec3 } from "./basics.ts";

const text = (most: number) => z.string().max(most).default("");
const share = finiteNumber.min(0).max(1);

const abrasiveSchema = z.strictObject({
	kind: z.enum(ABRASIVE_KINDS),
	/** The number on its back. */
	grit: z.int().min(1).max(100_000),
	wet: z.boolean().default(false),
	/** Median grain where the carver knows better than the table. */
	grain_um: positive.max(5000).nullable().default(null),
});

/** One touch of the brush on the model, or one fill. */
const strokeSchema = z.strictObject({
	/** Model frame, mm. */
	at_mm: vec3,
	/** Straight from there; null: filled as far as the surface goes. */
	radius_mm: positive.max(5000).nullable(),
	/** Radius of curvature of what counts as a crease, across which it does not run; null: it runs across all. */
	crease_mm: positive.max(5000).nullable().default(null),
	/** false: takes away. */
	adds: z.boolean().default(true),
});

const gildedSchema = z.strictObject({
	name: z.string().min(1).max(60),
	strokes: z.array(strokeSchema).max(2000).default([]),
});

export const finishSchema = z
	.strictObject({
		/** Decides where the chain of grades ends. */
		polish: z.enum(POLISHES).default("matt"),
		/** The first grade of a proposed chain, after chisel, rasp or burr (common practice: 60 to 80). */
		firstGrit: z.int().min(1).max(10_000).default(60),
		/** The carver's own, in the order of work; empty: proposed. */
		abrasives: z.array(abrasiveSchema).max(20).default([]),
		/** Most by which a grain may be coarser than the next one's (handbook 13). */
		ratio: finiteNumber.min(1.01).max(20).default(2.2),
		/** Depth of a scratch in grains: a guess, no source. */
		scratchShare: finiteNumber.min(0.01).max(2).default(0.5),
		/** What a grade takes off in the hours reckoned for it, in its own grains: a guess, no source. */
		grainsOff: finiteNumber.min(0.1).max(100).default(2),
		/** Depth of the marks that the last tool leaves: a guess, no source. */
		marks_mm: finiteNumber.min(0).max(20).default(0.5),
		/** Ground bent more tightly than this radius is detail and is worked with the abrasive folded by hand: a guess. */
		detailRadius_mm: positive.max(500).default(10),
		gilded: z.array(gildedSchema).max(40).default([]),
		leaf: z
			.strictObject({
				leaf_mm: positive.max(500).default(80),
				/** From memory: 3 to 5 mm. */
				overlap_mm: finiteNumber.min(0).max(100).default(3),
				/** With a leaf of 3 3/8 in this comes to the cover that a specification sheet gives for a book. */
				waste: finiteNumber.min(0).max(5).default(0.22),
				perBook: z.int().min(1).max(1000).default(25),
			})
			.prefault({}),
	})
	.prefault({});

export const fixingSchema = z
	.strictObject({
		/** Sides along the model's x, y and z; null: it is not set on a base. */
		base: z
			.strictObject({
				size_mm: z.tuple([positive.max(20000), positive.max(20000), positive.max(20000)]),
				/** A listed stone; null: the figure's. */
				stone: z.string().min(1).max(60).nullable().default(null),
			})
			.nullable()
			.default(null),
		place: z.enum(STANDING_PLACES).default("indoors"),
		/** Lean of the ground. */
		slope_deg: finiteNumber.min(0).max(45).default(1),
		/** Least tipping angle over the slope that is called standing: a guess, no source. */
		leastTip_deg: finiteNumber.min(0).max(60).default(10),
		/** How the figure is lifted: heights of the hands, and how far they are from the ankles; a guess, no source. */
		lift: z
			.strictObject({
				from_mm: finiteNumber.min(0).max(3000).default(0),
				to_mm: finiteNumber.min(0).max(3000).default(750),
				reach_mm: finiteNumber.min(0).max(2000).default(350),
				twist_deg: finiteNumber.min(0).max(180).default(0),
			})
			.prefault({}),
		/** Behind the hindmost place of an open shell, to its flat back, for its weight. */
		back_mm: positive.max(5000).default(30),
		pin: z
			.strictObject({
				/** null: chosen. */
				bar_mm: positive.max(100).nullable().default(null),
				depth_mm: positive.max(2000).nullable().default(null),
				/** x and y in the model frame; null: under the centre of mass, or where the cover is. */
				at_mm: z.tuple([finiteNumber, finiteNumber]).nullable().default(null),
				/** Least stone all round the hole: a guess, no source. */
				cover_mm: finiteNumber.min(0).max(500).default(20),
				/** Greatest share of the thickness that the bar may take (a gravestone conservator's page: one third). */
				thicknessShare: finiteNumber.min(0.05).max(1).default(0.333),
				/** In bar diameters: a guess inside the 4 to 20 of anchor makers' tables for concrete. */
				depthInBars: finiteNumber.min(1).max(40).default(8),
				/** Hole less bar (a repair studio's tutorial, read as 1.6). */
				clearance_mm: positive.max(50).default(2),
				/** Hole under the end of the bar: a guess, no source. */
				extra_mm: finiteNumber.min(0).max(100).default(5),
				/** How far from under the centre of mass, as a share of the way to the foot's edge: a guess, no source. */
				aside: share.default(0.5),
				/** Resin mixed beyond what stays in the hole: a guess, no source. */
				resinWaste: finiteNumber.min(0).max(5).default(0.3),
			})
			.prefault({}),
	})
	.prefault({});

/** Figures by name, each with its guess as the default and its own bounds. */
const assumptions = <K extends string>(table: Readonly<Record<K, Assumption>>) =>
	z
		.strictObject(
			Object.fromEntries(
				Object.entries<Assumption>(table).map(([key, { guess, least, most }]) => [
					key,
					finiteNumber.min(least).max(most).default(guess),
				]),
			) as Record<K, z.ZodDefault<z.ZodNumber>>,
		)
		// Every key has its default, which the compiler cannot see through the generic.
		.prefault({} as never);

export const quoteSchema = z
	.strictObject({
		client: text(120),
		carver: text(240),
		/** Written before every sum. */
		currency: z.string().max(6).default("€"),
		stoneBy: z.enum(["volume", "weight"]).default("volume"),
		/** Days that the offer stands. */
		validDays: z.int().min(1).max(730).default(30),
		/** Said on the offer, in the carver's own words. */
		remarks: text(1000),
		rates: assumptions<RateKey>(RATES),
		/** What a quick quote assumes. */
		quick: assumptions<QuickKey>(QUICK),
		/** Days of the log on which a rate rests, by its name. */
		restsOn: z.partialRecord(z.enum(Object.keys(RATES) as [RateKey, ...RateKey[]]), z.int().min(1)).default({}),
	})
	.prefault({});

export const workdaySchema = z
	.strictObject({
		/** Tools of a day and hours on the trigger; empty: proposed for a day of each stage. */
		tools: z
			.array(
				z.strictObject({
					tool: z.string().min(1).max(80),
					/** null: not known. */
					ms2: finiteNumber.min(0).max(100).nullable(),
					hours: finiteNumber.min(0).max(24),
				}),
			)
			.max(20)
			.default([]),
		/** Share of a working day on the trigger, for the proposed days: a guess, no source. */
		triggerShare: share.default(0.3),
	})
	.prefault({});
