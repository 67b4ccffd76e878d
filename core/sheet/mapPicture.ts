/** What a map shows, at any scale: the figure's lines, the block with its corner and arrows, marks and numbers. */

import type { FaceName } from "../plan/commission.ts";
import type { Plan } from "../plan/planFile.ts";
import { lengthNumber, lengthText } from "../text/format.ts";
import type { Vec3 } from "../vector.ts";
import { arrow, type Drawing, disc, line, polygon, rect, text } from "./drawing.ts";
import { edgesSeen } from "./faceDrawing.ts";
import { type Extent, FACE_VIEWS, flatFace, onFlatFace } from "./faces.ts";
import type { FigureLines } from "./figureLines.ts";
import { type Fonts, textWidth } from "./fontMetrics.ts";
import { HATCHES } from "./hatching.ts";
import { type Box, type PlacedLabel, placeLabels } from "./labels.ts";
import type { ShownPoint } from "./mapViews.ts";
import { drawMark, MARK_RADIUS, roundColour } from "./roundMarks.ts";
import { body, CAP_HEIGHT, INK, NUMERAL, PAPER, quiet, RADDLE, SLATE } from "./style.ts";

export type ToPaper = (x: number, y: number) => readonly [number, number];

/** View plane (mm of stone, y up) → paper (mm, y down), the block in the middle of the room. */
export function paperFrame(room: Box, extent: Extent, ratio: number): ToPaper {
	const x0 = (room.x0 + room.x1) / 2 - (extent.x0 + extent.x1) / ratio / 2;
	const y0 = (room.y0 + room.y1) / 2 + (extent.y0 + extent.y1) / ratio / 2;
	return (x, y) => [x0 + x / ratio, y0 - y / ratio];
}

const numberWords = (s: ShownPoint): string => (s.visible ? String(s.point.number) : `(${s.point.number})`);

/** Where words already stand on a drawing, mm on the paper; those that are turned are left out. */
export const wordBoxes = (fonts: Fonts, on: Drawing): Box[] =>
	on.shapes.flatMap((shape) => {
		if (shape.kind !== "text" || shape.turned) return [];
		const { x, y, size, anchor } = shape;
		const width = textWidth(fonts, shape.text, size, shape.bold);
		const x0 = x - (anchor === "start" ? 0 : anchor === "middle" ? width / 2 : width);
		return [{ x0, y0: y - size * CAP_HEIGHT, x1: x0 + width, y1: y + size * (1 - CAP_HEIGHT) }];
	});

/** No number is put on one of the boxes that are `taken`. */
export function placeNumbers(
	fonts: Fonts,
	run: readonly ShownPoint[],
	toPaper: ToPaper,
	room: Box,
	taken: readonly Box[],
): (PlacedLabel | null)[] {
	const wishes = run.map((s) => {
		const [x, y] = toPaper(s.x, s.y);
		return {
			x,
			y,
			radius: MARK_RADIUS + 0.1,
			width: textWidth(fonts, numberWords(s), NUMERAL) + 0.5,
			height: NUMERAL * CAP_HEIGHT + 0.7,
		};
	});
	return placeLabels(wishes, room, taken);
}

/** A filled quarter at the marked corner: the two lines along the edges are what the mason sets the square to. */
export function cornerMark(on: Drawing, x: number, y: number, size: number, up: 1 | -1, right: 1 | -1 = 1): void {
	polygon(on, [x, y, x + size * right, y, x, y + size * up], { fill: RADDLE });
}

export function drawFigureLines(on: Drawing, lines: FigureLines, toPaper: ToPaper): void {
	const moved = (pieces: readonly Float64Array[]): Float64Array[] =>
		pieces.map((p) => {
			const q = new Float64Array(p.length);
			for (let i = 0; i < p.length; i += 2) {
				const [x, y] = toPaper(p[i], p[i + 1]);
				q[i] = x;
				q[i + 1] = y;
			}
			return q;
		});
	on.shapes.push({ kind: "lines", lines: moved(lines.shade), pen: { colour: "#b9c0c6", width: 0.1 } });
	for (const h of lines.hatched) on.shapes.push({ kind: "lines", lines: moved(h.lines), pen: HATCHES[h.kind].pen });
	on.shapes.push({ kind: "lines", lines: moved(lines.contours), pen: { colour: "#a9b2ba", width: 0.13 } });
	on.shapes.push({ kind: "lines", lines: moved(lines.bulging), pen: { colour: "#7b858e", width: 0.13 } });
	on.shapes.push({ kind: "lines", lines: moved(lines.hollow), pen: { colour: INK, width: 0.17 } });
	on.shapes.push({ kind: "lines", lines: moved(lines.relief), pen: { colour: INK, width: 0.17 } });
	on.shapes.push({ kind: "lines", lines: moved(lines.outline), pen: { colour: INK, width: 0.32 } });
}

export function drawBlock(on: Drawing, plan: Plan, face: FaceName, toPaper: ToPaper): void {
	const flat = flatFace(FACE_VIEWS[face], plan.stone.extent_mm as Vec3);
	const units = plan.sheet.units;
	const view = FACE_VIEWS[face];
	const left = view.right[view.uAxis] > 0 ? 0 : -plan.stone.extent_mm[view.uAxis];
	const at = (x: number, y: number): readonly [number, number] => toPaper(left + x, y);
	const [x0, y0] = at(0, 0);
	const [x1, y1] = at(flat.width, flat.height);
	rect(on, x0, y1, x1 - x0, y0 - y1, { pen: { colour: SLATE, width: 0.3, dash: [5, 1.4, 0.9, 1.4] } });
	const seen = edgesSeen(plan, view);
	if (seen) {
		const lines = seen.map((p) => {
			const q = new Float64Array(p.length);
			for (let i = 0; i < p.length; i += 2) [q[i], q[i + 1]] = toPaper(p[i], p[i + 1]);
			return q;
		});
		on.shapes.push({ kind: "lines", lines, pen: { colour: SLATE, width: 0.2 } });
	}
	const [zx, zy] = at(...onFlatFace(flat, 0, 0));
	const right = flat.uSign;
	if (flat.holdsMarkedCorner) cornerMark(on, zx, zy, 3.4, -1, right);
	disc(on, zx, zy, 0.9, { fill: flat.holdsMarkedCorner ? RADDLE : PAPER, pen: { colour: RADDLE, width: 0.35 } });
	const pen = { colour: RADDLE, width: 0.35 };
	const reach = Math.min(24, (x1 - x0) * 0.6, (y0 - y1) * 0.6);
	arrow(on, pen, zx, zy + 3.2, zx + right * reach, zy + 3.2, 2.2);
	text(on, zx + right * (reach + 1.4), zy + 4.3, "u", {
		...body,
		colour: RADDLE,
		bold: true,
		anchor: right > 0 ? "start" : "end",
	});
	arrow(on, pen, zx - right * 3.2, zy, zx - right * 3.2, zy - reach, 2.2);
	text(on, zx - right * 3.2, zy - reach - 1.4, "v", { ...body, colour: RADDLE, bold: true, anchor: "middle" });
	const words = flat.holdsMarkedCorner ? "marked corner" : "zero of this face";
	text(on, zx - right * 4.5, zy + 8, words, { ...body, colour: RADDLE, anchor: right > 0 ? "start" : "end" });
	const size = `block ${lengthNumber(flat.width, units, 0)} × ${lengthText(flat.height, units, 0)}`;
	text(on, right > 0 ? x1 : x0, y1 - 1.6, size, { ...quiet, anchor: right > 0 ? "end" : "start" });
}

export function drawNumbers(
	on: Drawing,
	run: readonly ShownPoint[],
	labels: readonly (PlacedLabel | null)[],
	toPaper: ToPaper,
): void {
	labels.forEach((l, i) => {
		if (l?.leader) line(on, { colour: roundColour(run[i].point.round), width: 0.16 }, ...l.leader);
	});
	labels.forEach((l) => {
		if (l) rect(on, l.box.x0, l.box.y0, l.box.x1 - l.box.x0, l.box.y1 - l.box.y0, { fill: PAPER });
	});
	labels.forEach((l, i) => {
		const { point } = run[i];
		const [x, y] = toPaper(run[i].x, run[i].y);
		drawMark(on, x, y, point.round, point.side, point.undercut);
		if (!l) return;
		text(on, (l.box.x0 + l.box.x1) / 2, (l.box.y0 + l.box.y1) / 2 + (NUMERAL * CAP_HEIGHT) / 2, numberWords(run[i]), {
			size: NUMERAL,
			colour: point.undercut ? SLATE : roundColour(point.round),
			anchor: "middle",
		});
	});
}
