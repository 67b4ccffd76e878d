/**
 * The mark of a point: its shape and colour say the round, what stands inside says the side. Shapes alone tell rounds apart in
 * black and white; the colours differ in lightness as well as hue, for eyes that see hues poorly.
 */

import type { PlanPoint } from "../plan/planFile.ts";
import { type Drawing, disc, line, type Pen, polygon } from "./drawing.ts";
import { PAPER, RADDLE } from "./style.ts";

/** Corners on the unit circle's scale, x right, y down; null is the disc itself. */
interface Form {
	readonly corners: readonly number[] | null;
	readonly colour: string;
}

const FORMS: readonly Form[] = [
	{ corners: null, colour: RADDLE },
	{ corners: [-0.88, -0.88, 0.88, -0.88, 0.88, 0.88, -0.88, 0.88], colour: "#1f4e79" },
	{ corners: [0, -1.15, 1.05, 0.72, -1.05, 0.72], colour: "#2e2e2e" },
	{ corners: [0, -1.2, 1.2, 0, 0, 1.2, -1.2, 0], colour: "#9a6a00" },
	{ corners: [0, 1.15, 1.05, -0.72, -1.05, -0.72], colour: "#4f6d3a" },
	{ corners: [-0.6, -1, 0.6, -1, 1.1, 0, 0.6, 1, -0.6, 1, -1.1, 0], colour: "#6a3d7c" },
];

export const roundColour = (round: number): string => FORMS[round % FORMS.length].colour;

/** Radius of a mark on a map, mm. */
export const MARK_RADIUS = 1.35;

/**
 * Draws the mark of round `round` at (x, y). Proper left is open, proper right carries a spot, the middle a bar; an undercut
 * is crossed out and dashed, because no drill goes there. Rounds past the sixth repeat the shapes, drawn double.
 */
export function drawMark(
	to: Drawing,
	x: number,
	y: number,
	round: number,
	side: PlanPoint["side"] | null,
	undercut = false,
	radius = MARK_RADIUS,
): void {
	const form = FORMS[round % FORMS.length];
	const pen: Pen = { colour: form.colour, width: 0.16 * radius, ...(undercut ? { dash: [0.6, 0.5] } : {}) };
	const outline = (r: number, fill: boolean): void => {
		const look = fill ? { pen, fill: PAPER } : { pen };
		if (form.corners === null) disc(to, x, y, r, look);
		else
			polygon(
				to,
				form.corners.map((c, i) => (i % 2 === 0 ? x : y) + r * c),
				look,
			);
	};
	outline(radius, true);
	if (round >= FORMS.length) outline(radius * 0.66, false);
	const inner = { colour: form.colour, width: 0.2 * radius };
	if (undercut) {
		const a = radius * 0.55;
		line(to, inner, x - a, y - a, x + a, y + a);
		line(to, inner, x - a, y + a, x + a, y - a);
	} else if (side === "right") disc(to, x, y, radius * 0.36, { fill: form.colour });
	else if (side === "middle") line(to, inner, x - radius * 0.4, y, x + radius * 0.4, y);
}
