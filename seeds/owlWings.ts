/** The owl's folded wings. */
import { scales, vanes } from "./feathers.ts";
import { angleOf, curveThrough, mix, smoothMax, smoothMin, smoothStep } from "./field.ts";
import { AXIS_Y } from "./owlBody.ts";

/** Length of a wing along its own axis, from the shoulder's roundness to the tip, mm. */
const WING_TIP = 226;
/** Radius on which the way around the body is measured, mm. */
const WING_ROUND_MM = 76;
/** Distance of the shell's middle from the body's axis, against height. */
const wingRadius = curveThrough([
	[70, 57],
	[100, 67],
	[140, 76],
	[195, 80.5],
	[235, 77],
	[270, 66],
	[300, 50],
	[320, 38],
]);
/** How far the wing reaches forward and back of its own axis, against the place along it. */
const wingFront = curveThrough([
	[-30, 2],
	[-20, 22],
	[0, 38],
	[45, 48],
	[95, 47],
	[140, 40],
	[180, 29],
	[210, 16],
	[WING_TIP, 3],
]);
const wingBack = curveThrough([
	[-30, 2],
	[-20, 22],
	[0, 32],
	[45, 36],
	[95, 34],
	[140, 28],
	[180, 20],
	[210, 12],
	[WING_TIP, 3],
]);
/** Direction of a wing's own axis, from the shoulder down and back: around the body and up. */
const AXIS_S = 0.4258;
const AXIS_Z = -0.9048;
/** Both wings: feathered shells that stand off the body along their edges and at their tips. */
export const wings = (x: number, y: number, z: number): number => {
	const ax = Math.abs(x);
	const wy = (y - AXIS_Y) * 1.08;
	const r = Math.sqrt(ax * ax + wy * wy);
	// Around the body and along z first, then along (t) and across (w) the wing.
	const s = WING_ROUND_MM * angleOf(ax, wy) + 8;
	const t = s * AXIS_S + (z - 292) * AXIS_Z;
	const w = -s * AXIS_Z + (z - 292) * AXIS_S;
	const front = wingFront(t);
	// Each long feather ends in its own round tip along the front edge.
	const long = -w / 13.5 + 20;
	const tip = long - Math.floor(long) - 0.5;
	const outline = w < 0 ? -w - front + 12 * tip * tip * smoothStep(80, 130, t) : w - wingBack(t);
	const beyond = Math.max(t - WING_TIP, -30 - t, 0);
	const flat = Math.sqrt(Math.max(outline, 0) * Math.max(outline, 0) + beyond * beyond) + Math.min(outline, 0);
	// The lower front edge stands off the body.
	const flare = 7 * smoothStep(60, 150, t) * smoothStep(10, -40, w);
	const deep = r - wingRadius(z) - flare;
	const half = 6.5 - 2 * smoothStep(40, 200, t);
	let relief = 0;
	if (deep > -2) {
		// Three tiers that end in rounded tips, each over the next.
		const middle = -w / 14.5 + 20.1;
		const end = middle - Math.floor(middle) - 0.5;
		const upper = smoothStep(2, -1, t - (66 - 12 * end * end - 0.12 * w));
		const lower = smoothStep(2, -1, t - (120 - 20 * end * end - 0.2 * w));
		relief = 3 * (vanes(long, 0.18) - 0.5);
		if (lower > 0) relief = mix(relief, Math.max(3 * (vanes(middle, 0.18) - 0.5) + 1.6, relief + 0.8), lower);
		if (upper > 0) {
			relief = mix(relief, Math.max(3.6 * (scales(w / 13 + 20, t / 12 + 20, 0, 0.28, 0.3) - 0.4) + 2.8, relief), upper);
		}
	}
	const shell = smoothMax(Math.abs(deep) - half - (deep > 0 ? relief : 0), 0.85 * flat, 4);
	// Behind the wing the stone is left standing, but for a deep undercut along the edge and the free tip.
	const web = smoothMax(deep, flat + 6 + 6 * smoothStep(140, 215, t), 6);
	return smoothMin(shell, web, 6);
};
