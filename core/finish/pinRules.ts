/**
 * Rules for pins. None is published for carved stone in bar diameters; each is a starting value that the carver may change,
 * with what it was taken from beside it. Conservators warn against pins as a matter of course, and tests in marble found
 * fibre rods kinder to the stone than steel (Riccardelli et al., AIC Objects Specialty Group Postprints 17).
 */

export interface PinRules {
	/** Least stone all round the hole, mm. */
	readonly cover_mm: number;
	/** Greatest share of the stone's thickness that the bar may take (a gravestone conservator's page: one third). */
	readonly thicknessShare: number;
	/** Depth of the bar in its own diameters (anchor makers' tables for concrete: 4 to 20). */
	readonly depthInBars: number;
	/** Hole less bar, mm (a repair studio's tutorial, read as 1.6). */
	readonly clearance_mm: number;
	/** Hole under the end of the bar, mm. */
	readonly extra_mm: number;
	/** How far from under the centre of mass a pin may stand, as a share of the foot's least half width. */
	readonly aside: number;
}

/** Bars that are stocked, mm: 12 to 25 by a supplier of stainless dowels; the thinner ones are common, no source. */
export const BARS_MM: readonly number[] = [4, 5, 6, 8, 10, 12, 16, 20, 25];

/** Depths, in bar diameters, beyond which no table was found. */
export const DEPTH_BOUNDS = { least: 4, most: 20 } as const;

/** Heights of memorials for which a bar is named by a supplier's summary of the memorial masons' rules, mm. */
export const MEMORIAL_BARS: readonly { readonly upTo_mm: number; readonly bar_mm: number }[] = [
	{ upTo_mm: 900, bar_mm: 16 },
	{ upTo_mm: 1200, bar_mm: 20 },
];

/** The bar for a height; null past the heights that a rule was found for. */
export const memorialBar = (height: number): number | null =>
	MEMORIAL_BARS.find(({ upTo_mm }) => height <= upTo_mm)?.bar_mm ?? null;
