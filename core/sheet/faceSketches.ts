/** A small drawing of each face that is drilled or holds a seat, as seen from outside: zero corner, arrows, entries. */

import type { Plan } from "../plan/planFile.ts";
import { lengthNumber, lengthText } from "../text/format.ts";
import { disc, text } from "./drawing.ts";
import { drawFace, type LaidFace, layFlat, type PlanFace, uRuns, zeroWords } from "./faceDrawing.ts";
import { FACE_ORDER, shownSets } from "./faces.ts";
import type { Flow, Slot } from "./flow.ts";
import { drawMark } from "./roundMarks.ts";
import { HATCHED_SAWN } from "./sawnGround.ts";
import { BODY, bodyBold, PAPER, quiet, RADDLE } from "./style.ts";

/** Height of a sketch, mm: as tall as lets all of them stand together in what is left of the column, within reason. */
const TALLEST = 64;
const LOWEST = 46;
/** Room of a row of sketches for titles, arrows and words. */
const AROUND = 24;
const ACROSS = 3;

/** Sides of a block in the order of the maps, other faces after them as they come. */
const placeOf = (name: string): number => {
	const at = (FACE_ORDER as readonly string[]).indexOf(name);
	return at < 0 ? FACE_ORDER.length : at;
};

/** Whether a drill enters a face or a seat lies on it. */
export const isUsed = (plan: Plan, { name }: PlanFace): boolean =>
	plan.points.some((p) => p.face === name) || shownSets(plan).some((set) => set.datums.some((d) => d.face === name));

export function faceSketches(flow: Flow, plan: Plan): void {
	const flats = [...plan.stone.faces]
		.sort((a, b) => placeOf(a.name) - placeOf(b.name))
		.filter((face) => isUsed(plan, face))
		.map((face) => layFlat(plan, face));
	if (flats.length === 0) return;
	flow.heading("The faces as seen from outside", LOWEST + AROUND + 12);
	const leftwards = flats.filter((flat) => uRuns(flat) === "left").map((flat) => flat.name);
	const where = leftwards.length > 0 ? ` On ${leftwards.join(", ")} u runs to the left.` : "";
	const gone = flats.some((flat) => flat.sawn?.zeroBy)
		? " Where the zero corner is sawn off, measure from the axes that were scribed before."
		: "";
	flow.paragraph(`u and v are measured along the edges from the zero corner (red).${where}${gone}`);
	flow.gap(2);
	const rows = Math.ceil(flats.length / ACROSS);
	sketchRows(flow, plan, flats, Math.max(LOWEST, Math.min(TALLEST, flow.left() / rows - AROUND - 0.1)));
}

/** Sketches of faces, three across, no taller than `tallest` mm; those of a row at one scale. */
export function sketchRows(flow: Flow, plan: Plan, flats: readonly LaidFace[], tallest: number): void {
	const room = flow.columnWidth / ACROSS;
	for (let i = 0; i < flats.length; i += ACROSS) {
		const row = flats.slice(i, i + ACROSS);
		const scale = Math.min(...row.map((f) => Math.min((room - 20) / f.width, tallest / f.height)));
		const tall = Math.max(...row.map((f) => f.height)) * scale;
		const s = flow.take(tall + AROUND);
		row.forEach((flat, k) => {
			sketch({ ...s, x: s.x + k * room, width: room }, plan, flat, scale, tall);
		});
	}
}

function sketch(s: Slot, plan: Plan, flat: LaidFace, scale: number, tall: number): void {
	const x = s.x + (s.width - flat.width * scale) / 2;
	const foot = s.y + 8 + tall;
	const { on } = s;
	const units = plan.sheet.units;
	const size = `${flat.name} · ${lengthNumber(flat.width, units, 0)} × ${lengthText(flat.height, units, 0)}`;
	text(on, s.x + s.width / 2, s.y + BODY + (tall - flat.height * scale), size, { ...bodyBold, anchor: "middle" });
	const at = drawFace(on, flat, x, foot, scale, { off: 3, reach: 18 });
	let entries = 0;
	for (const p of plan.points)
		if (p.face === flat.name && p.u_mm !== null && p.v_mm !== null) {
			drawMark(on, ...at(p.u_mm, p.v_mm), p.round, null, false, 0.75);
			entries++;
		}
	for (const set of shownSets(plan))
		for (const d of set.datums)
			if (d.face === flat.name) {
				const [px, py] = at(d.u_mm, d.v_mm);
				disc(on, px, py, 2.1, { fill: PAPER, pen: { colour: RADDLE, width: 0.35 } });
				text(on, px, py + 1.15, d.name, { size: BODY, bold: true, colour: RADDLE, anchor: "middle" });
			}
	// Short, for it stands beside its neighbours.
	const zero = flat.sawn?.zeroBy ? `zero goes with ${flat.sawn.zeroBy}: scribed axes` : zeroWords(flat);
	text(on, s.x + s.width / 2, foot + 8.6, zero, { ...quiet, anchor: "middle" });
	const enter = entries === 0 ? "nothing is drilled here" : `${entries} drill lines enter`;
	const told = flat.sawn ? `${entries} lines enter; ${HATCHED_SAWN}` : enter;
	text(on, s.x + s.width / 2, foot + 12.8, told, { ...quiet, anchor: "middle" });
}
