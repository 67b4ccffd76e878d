/** Paper sizes in mm, portrait: ISO 216 for A4 and A3; 8.5 × 11 in and 11 × 17 in for the others (exact, not rounded). */

import type { Paper } from "../plan/commission.ts";

export interface PaperSize {
	readonly width: number;
	readonly height: number;
}

export const PAPER_SIZES: Readonly<Record<Paper, PaperSize>> = {
	A4: { width: 210, height: 297 },
	A3: { width: 297, height: 420 },
	Letter: { width: 215.9, height: 279.4 },
	Tabloid: { width: 279.4, height: 431.8 },
};

export const landscape = (size: PaperSize): PaperSize => ({ width: size.height, height: size.width });

/** What no printer reaches, and room to hold the sheet. */
export const MARGIN = 12;
/** Of the line at the head and at the foot of every page. */
export const HEAD = 10;
export const FOOT = 8;
/** Between two columns. */
export const GUTTER = 12;

/** The part of a page that its contents may fill. */
export interface Frame {
	readonly x: number;
	readonly y: number;
	readonly width: number;
	readonly height: number;
}

export const pageFrame = (size: PaperSize): Frame => ({
	x: MARGIN,
	y: MARGIN + HEAD,
	width: size.width - 2 * MARGIN,
	height: size.height - 2 * MARGIN - HEAD - FOOT,
});
