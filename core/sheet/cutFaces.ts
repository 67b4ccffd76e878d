/** The faces that the cuts leave, as seen from outside: zero corner, arrows, and where drill lines enter. */

import type { Plan } from "../plan/planFile.ts";
import { lengthText } from "../text/format.ts";
import { cross, dot, sub, type Vec3 } from "../vector.ts";
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
	const room = flow.columnWidth / ACROSS;
	for (let i = 0; i < faces.length; i += ACROSS) {
		const row = faces.slice(i, i + ACROSS).map((face) => laidFlat(face, room));
		const tall = Math.max(...row.map(({ height, scaling }) => height * scaling));
		const s = flow.take(tall + AROUND);
		row.forEach((flat, k) => {
			sketch(s.on, plan, flat, s.x + k * room, s.y, room, tall);
		});
	}
}

/** A face as seen from outside with v upwards: there u runs to the left where u × v looks into the stone. */
interface LaidFlat {
	readonly face: Face;
	readonly right: 1 | -1;
	/** x right and y up from the zero corner, mm of the stone. */
	readonly corners: readonly (readonly [number, number])[];
	readonly low: readonly [number, number];
	readonly width: number;
	readonly height: number;
	/** mm on the paper per mm of the stone. */
	readonly scaling: number;
}

function laidFlat(face: Face, room: number): LaidFlat {
	const origin = face.origin_mm as Vec3;
	const right = dot(cross(face.u, face.v), face.normal) > 0 ? 1 : -1;
	const corners = face.outline_mm.map((at) => {
		const from = sub(at, origin);
		return [right * dot(from, face.u), dot(from, face.v)] as const;
	});
	const low = [Math.min(...corners.map((c) => c[0])), Math.min(...corners.map((c) => c[1]))] as const;
	const width = Math.max(...corners.map((c) => c[0])) - low[0];
	const height = Math.max(...corners.map((c) => c[1])) - low[1];
	return { face, right, corners, low, width, height, scaling: Math.min((room - 16) / width, TALLEST / height) };
}

function sketch(on: Drawing, plan: Plan, flat: LaidFlat, x: number, y: number, room: number, tall: number): void {
	const { face, right, corners, low, width, height, scaling } = flat;
	const units = plan.sheet.units;
	const foot = y + 8 + tall;
	const put = ([px, py]: readonly [number, number]): [number, number] => [
		x + room / 2 + (px - low[0] - width / 2) * scaling,
		foot - (py - low[1]) * scaling,
	];
	text(on, x + room / 2, y + BODY, `${face.name} · ${lengthText(width, units, 0)} × ${lengthText(height, units, 0)}`, {
		...bodyBold,
		anchor: "middle",
	});
	polygon(
		on,
		corners.flatMap((corner) => put(corner)),
		{ pen: { colour: SLATE, width: 0.3 }, fill: PAPER },
	);
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
	text(on, x + room / 2, foot + 9, entries === 0 ? "nothing is drilled here" : `${entries} drill lines enter`, {
		...quiet,
		anchor: "middle",
	});
}
