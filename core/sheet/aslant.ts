/** What the map of an added view shows of the stone: the block's edges as they are seen aslant, and where one looks from. */

import { degreesFromCosine } from "../text/angle.ts";
import { SIDE_WORDS } from "../text/sheetWords.ts";
import { dot, length, type Vec3 } from "../vector.ts";
import { arrow, type Drawing, disc, line, rect, text } from "./drawing.ts";
import { FACE_ORDER, FACE_VIEWS, type ViewAxes } from "./faces.ts";
import { type Fonts, textWidth } from "./fontMetrics.ts";
import { cornerMark, type ToPaper } from "./mapPicture.ts";
import { inView } from "./projection.ts";
import { BODY, body, quiet, RADDLE, rule, SLATE, strong } from "./style.ts";

/** The twelve edges, those behind the block lighter; the marked corner as a red spot. */
export function drawBlockAslant(on: Drawing, block: Vec3, axes: ViewAxes, toPaper: ToPaper): void {
	const paper = (p: Vec3): readonly [number, number] => {
		const [x, y] = inView(axes, p);
		return toPaper(x, y);
	};
	const near = { colour: SLATE, width: 0.3, dash: [5, 1.4, 0.9, 1.4] };
	const behind = { colour: SLATE, width: 0.12, dash: [1.2, 1.2] };
	// Two faces meet at an edge; it is behind when both look away.
	const looksAway = (axis: number, far: boolean): boolean => (far ? 1 : -1) * axes.towards[axis] <= 1e-9;
	for (let axis = 0; axis < 3; axis++) {
		const [p, q] = [(axis + 1) % 3, (axis + 2) % 3];
		for (const farP of [false, true])
			for (const farQ of [false, true]) {
				const from = [0, 0, 0];
				if (farP) from[p] = block[p];
				if (farQ) from[q] = block[q];
				const until = [...from];
				until[axis] = block[axis];
				const pen = looksAway(p, farP) && looksAway(q, farQ) ? behind : near;
				line(on, pen, ...paper(from as unknown as Vec3), ...paper(until as unknown as Vec3));
			}
	}
	const corner = paper([0, 0, 0]);
	disc(on, ...corner, 1.3, { fill: RADDLE });
	text(on, corner[0], corner[1] + 5, "marked corner", { ...body, colour: RADDLE, anchor: "middle" });
}

/** "turned 35° from the front to the right, 10° from above": a view in words, from the nearest of the four sides. */
export function viewWords(towards: Vec3): string {
	const level = Math.sqrt(towards[0] * towards[0] + towards[1] * towards[1]);
	const up = Math.round(degreesFromCosine(level));
	const raised = up === 0 ? "" : `, ${up}° from ${towards[2] > 0 ? "above" : "below"}`;
	if (level < 1e-6) return `from straight ${towards[2] > 0 ? "above" : "below"}`;
	const flat: Vec3 = [towards[0] / level, towards[1] / level, 0];
	const sides = FACE_ORDER.filter((f) => f !== "top" && f !== "bed");
	const side = sides.reduce((best, f) =>
		dot(FACE_VIEWS[f].towards, flat) > dot(FACE_VIEWS[best].towards, flat) + 1e-9 ? f : best,
	);
	const view = FACE_VIEWS[side];
	const turned = Math.round(degreesFromCosine(dot(view.towards, flat)));
	const seen = SIDE_WORDS[side].seen.replace(/^Seen /, "");
	return `${seen}${turned === 0 ? "" : `, ${turned}° to the ${dot(view.right, flat) > 0 ? "right" : "left"}`}${raised}`;
}

/** The block from above with an arrow from where one looks, and the direction in words; right upper corner at (x, y). */
export function viewCompass(on: Drawing, fonts: Fonts, x: number, y: number, axes: ViewAxes): void {
	const [w, h, reach] = [9, 6, 4.8];
	const [cx, cy] = [x - reach - w / 2 - 2.4, y + 8.6];
	rect(on, cx - w / 2, cy - h / 2, w, h, { pen: rule });
	line(on, strong, cx - w / 2, cy + h / 2, cx + w / 2, cy + h / 2);
	cornerMark(on, cx - w / 2, cy + h / 2, 1.6, -1);
	const flat: Vec3 = [axes.towards[0], axes.towards[1], 0];
	const level = length(flat);
	if (level > 1e-6) {
		const [dx, dy] = [flat[0] / level, -flat[1] / level];
		// Where the ray from the middle leaves the block.
		const out = Math.min(
			Math.abs(dx) > 1e-9 ? w / 2 / Math.abs(dx) : 99,
			Math.abs(dy) > 1e-9 ? h / 2 / Math.abs(dy) : 99,
		);
		const far = out + reach;
		arrow(
			on,
			{ colour: RADDLE, width: 0.5 },
			cx + dx * far,
			cy + dy * far,
			cx + dx * (out + 0.5),
			cy + dy * (out + 0.5),
			2,
		);
	}
	text(on, cx - w / 2 - reach - 2 - textWidth(fonts, "block from above", BODY), y + 8, "block from above", quiet);
}
