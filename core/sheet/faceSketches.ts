/** A small drawing of each face that is drilled or holds a seat, as seen from outside: zero corner, arrows, entries. */

import type { FaceName } from "../plan/commission.ts";
import type { Plan } from "../plan/planFile.ts";
import { lengthText } from "../text/format.ts";
import type { Vec3 } from "../vector.ts";
import { arrow, disc, polygon, rect, text } from "./drawing.ts";
import { FACE_ORDER, FACE_VIEWS, flatFace, isFaceName, onFlatFace, shownSets } from "./faces.ts";
import type { Flow, Slot } from "./flow.ts";
import { drawMark } from "./roundMarks.ts";
import { BODY, body, bodyBold, PAPER, quiet, RADDLE, SLATE } from "./style.ts";

/** Height of a sketch, mm: as tall as lets all of them stand together in what is left of the column, within reason. */
const TALLEST = 64;
const LOWEST = 46;
/** Room of a row of sketches for titles, arrows and words. */
const AROUND = 24;

export function faceSketches(flow: Flow, plan: Plan): void {
	const entered = new Set<FaceName>();
	for (const p of plan.points) if (isFaceName(p.face)) entered.add(p.face);
	for (const set of shownSets(plan)) for (const d of set.datums) if (isFaceName(d.face)) entered.add(d.face);
	const faces = FACE_ORDER.filter((f) => entered.has(f));
	if (faces.length === 0) return;
	flow.heading("The faces as seen from outside", LOWEST + AROUND + 12);
	flow.paragraph(
		"u and v are measured along the edges from the zero corner (red). On the back, the left side and the bed u runs to the left.",
	);
	flow.gap(2);
	const across = 3;
	const room = flow.columnWidth / across;
	const rows = Math.ceil(faces.length / across);
	const tallest = Math.max(LOWEST, Math.min(TALLEST, flow.left() / rows - AROUND - 0.1));
	for (let i = 0; i < faces.length; i += across) {
		const row = faces.slice(i, i + across);
		const flats = row.map((f) => flatFace(FACE_VIEWS[f], plan.stone.extent_mm as Vec3));
		const scale = Math.min(...flats.map((f) => Math.min((room - 20) / f.width, tallest / f.height)));
		const tall = Math.max(...flats.map((f) => f.height)) * scale;
		const s = flow.take(tall + AROUND);
		row.forEach((face, k) => {
			sketch({ ...s, x: s.x + k * room, width: room }, plan, face, scale, tall);
		});
	}
}

function sketch(s: Slot, plan: Plan, face: FaceName, scale: number, tall: number): void {
	const flat = flatFace(FACE_VIEWS[face], plan.stone.extent_mm as Vec3);
	const w = flat.width * scale;
	const h = flat.height * scale;
	const x = s.x + (s.width - w) / 2;
	const foot = s.y + 8 + tall;
	const { on } = s;
	const units = plan.sheet.units;
	text(
		on,
		s.x + s.width / 2,
		s.y + BODY + (tall - h),
		`${face} · ${lengthText(flat.width, units, 0)} × ${lengthText(flat.height, units, 0)}`,
		{
			...bodyBold,
			anchor: "middle",
		},
	);
	rect(on, x, foot - h, w, h, { pen: { colour: SLATE, width: 0.3 }, fill: PAPER });
	const at = (u: number, v: number): readonly [number, number] => {
		const [fx, fy] = onFlatFace(flat, u, v);
		return [x + fx * scale, foot - fy * scale];
	};
	for (const p of plan.points)
		if (p.face === face && p.u_mm !== null && p.v_mm !== null)
			drawMark(on, ...at(p.u_mm, p.v_mm), p.round, null, false, 0.75);
	for (const set of shownSets(plan))
		for (const d of set.datums)
			if (d.face === face) {
				const [px, py] = at(d.u_mm, d.v_mm);
				disc(on, px, py, 2.1, { fill: PAPER, pen: { colour: RADDLE, width: 0.35 } });
				text(on, px, py + 1.15, d.name, { size: BODY, bold: true, colour: RADDLE, anchor: "middle" });
			}
	const [zx, zy] = at(0, 0);
	const right = flat.uSign;
	polygon(on, [zx, zy, zx + 3 * right, zy, zx, zy - 3], { fill: RADDLE });
	const pen = { colour: RADDLE, width: 0.35 };
	const look = { ...body, bold: true, colour: RADDLE };
	const reach = Math.min(18, w * 0.7, h * 0.7);
	arrow(on, pen, zx, zy + 3, zx + right * reach, zy + 3, 2);
	text(on, zx + right * (reach + 1.3), zy + 4.1, "u", { ...look, anchor: right > 0 ? "start" : "end" });
	arrow(on, pen, zx - right * 3, zy, zx - right * 3, zy - reach, 2);
	text(on, zx - right * 3, zy - reach - 1.2, "v", { ...look, anchor: "middle" });
	text(on, zx - right * 3, zy + 8.6, flat.holdsMarkedCorner ? "marked corner" : "zero of this face", {
		...quiet,
		anchor: right > 0 ? "start" : "end",
	});
}
