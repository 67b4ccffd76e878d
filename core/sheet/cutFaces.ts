/** The faces that the cuts leave, as seen from outside: zero corner, arrows, and where drill lines enter. */

import type { Plan } from "../plan/planFile.ts";
import { lengthText } from "../text/format.ts";
import { cross, dot, scale, sub, type Vec3 } from "../vector.ts";
import { arrow, type Drawing, disc, polygon, text } from "./drawing.ts";
import type { Flow } from "./flow.ts";
import { drawMark } from "./roundMarks.ts";
import { BODY, body, bodyBold, PAPER, quiet, RADDLE, SLATE } from "./style.ts";

const ACROSS = 3;
const TALLEST = 58;
/** Room of a row for titles, arrows and words. */
const AROUND = 22;

type Face = NonNullable<Plan["afterCuts"]>["faces"][number];

export function cutFaceSketches(flow: Flow, plan: Plan): void {
	const cutNames = new Set(plan.cuts.map((cut) => cut.name));
	const faces = (plan.afterCuts?.faces ?? []).filter((face) => cutNames.has(face.name));
	if (faces.length === 0) return;
	flow.heading("The faces that the cuts leave, as seen from outside", TALLEST + AROUND);
	flow.paragraph(
		"Measured from the corner with the red spot: its lowest, of equally low ones the nearest to the marked corner. u runs along the longest edge.",
	);
	flow.gap(2);
	for (let i = 0; i < faces.length; i += ACROSS) {
		const s = flow.take(TALLEST + AROUND);
		faces.slice(i, i + ACROSS).forEach((face, k) => {
			const room = flow.columnWidth / ACROSS;
			sketch(s.on, plan, face, s.x + k * room, s.y, room);
		});
	}
}

function sketch(on: Drawing, plan: Plan, face: Face, x: number, y: number, room: number): void {
	const origin = face.origin_mm as Vec3;
	// Seen from outside with v upwards, u runs to the left where u × v looks into the stone.
	const right = dot(cross(face.u, face.v), face.normal) > 0 ? 1 : -1;
	const across: Vec3 = scale(face.u, right);
	const flat = (at: Vec3): [number, number] => [dot(sub(at, origin), across), dot(sub(at, origin), face.v)];
	const corners = face.outline_mm.map((at) => flat(at));
	const low = [0, 1].map((k) => Math.min(...corners.map((c) => c[k])));
	const high = [0, 1].map((k) => Math.max(...corners.map((c) => c[k])));
	const units = plan.sheet.units;
	const scaling = Math.min((room - 16) / (high[0] - low[0]), (TALLEST - 4) / (high[1] - low[1]));
	const put = ([px, py]: readonly [number, number]): [number, number] => [
		x + room / 2 + (px - (low[0] + high[0]) / 2) * scaling,
		y + 7 + TALLEST - 4 - (py - low[1]) * scaling,
	];
	text(
		on,
		x + room / 2,
		y + BODY,
		`${face.name} · ${lengthText(high[0] - low[0], units, 0)} × ${lengthText(high[1] - low[1], units, 0)}`,
		{ ...bodyBold, anchor: "middle" },
	);
	polygon(on, corners.flatMap(put), { pen: { colour: SLATE, width: 0.3 }, fill: PAPER });
	let entries = 0;
	for (const p of plan.points) {
		if (p.face !== face.name || p.u_mm === null || p.v_mm === null) continue;
		drawMark(on, ...put([right * p.u_mm, p.v_mm]), p.round, null, false, 0.75);
		entries++;
	}
	const [zx, zy] = put([0, 0]);
	disc(on, zx, zy, 1.2, { fill: RADDLE });
	const pen = { colour: RADDLE, width: 0.35 };
	const look = { ...body, bold: true, colour: RADDLE };
	arrow(on, pen, zx, zy + 2.6, zx + right * 12, zy + 2.6, 2);
	text(on, zx + right * 13.2, zy + 3.7, "u", { ...look, anchor: right > 0 ? "start" : "end" });
	arrow(on, pen, zx - right * 2.6, zy, zx - right * 2.6, zy - 12, 2);
	text(on, zx - right * 2.6, zy - 13.2, "v", { ...look, anchor: "middle" });
	text(
		on,
		x + room / 2,
		y + 7 + TALLEST + 6,
		entries === 0 ? "nothing is drilled here" : `${entries} drill lines enter`,
		{ ...quiet, anchor: "middle" },
	);
}
