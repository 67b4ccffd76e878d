/** Stop cuts on the sheet: the face with its kerfs, how deep each goes, and what is knocked off between them. */

import type { Plan } from "../plan/planFile.ts";
import { KNOCKING, stopCutWords } from "../text/cutWords.ts";
import { depthNumber, type LengthUnit, lengthNumber, lengthText, massRangeText, unitWord } from "../text/format.ts";
import { line, text } from "./drawing.ts";
import { drawFace, layFlat, type PlanFace } from "./faceDrawing.ts";
import type { Flow } from "./flow.ts";
import { BODY, bodyBold, quiet, RADDLE, SLATE } from "./style.ts";
import { startTable } from "./table.ts";

const TALLEST = 80;
const AROUND = 16;

type StopCuts = Plan["stopCuts"][number];

export function stopCutPages(flow: Flow, plan: Plan): void {
	for (const field of plan.stopCuts) {
		const face = plan.afterCuts?.faces.find(({ name }) => name === field.face);
		if (face) oneField(flow, plan, field, face);
	}
}

function oneField(flow: Flow, plan: Plan, field: StopCuts, face: PlanFace): void {
	const units = plan.sheet.units;
	flow.heading(`${field.name}, on the face ${field.face}`, TALLEST + AROUND + 20);
	flow.paragraph(
		stopCutWords({
			kerfs: field.kerfs.length,
			saw: `${field.saw.kind}, disc ${lengthText(field.saw.disc_mm, units, 0)}`,
			runs: field.runs,
			from: lengthText(field.from_mm, units),
			to: lengthText(field.to_mm, units),
			stays: lengthText(field.saw.allowance_mm, units),
			mass: massRangeText(...field.removedRange_kg),
		}),
	);
	flow.paragraph(KNOCKING, { ...bodyBold, colour: RADDLE });
	flow.gap(2);
	picture(flow, plan, field, face);
	const across = field.runs === "u" ? "v" : "u";
	const table = startTable(flow, {
		columns: [
			{ head: ["kerf"], width: 20, align: "right", bold: true },
			{ head: [`at ${across} ${unitWord(units)}`], width: 32, align: "right" },
			{ head: [`deep ${unitWord(units)}`], width: 32, align: "right", bold: true },
			{ head: [""], width: 0, align: "left" },
		],
	});
	for (const [i, kerf] of field.kerfs.entries())
		table.row([String(i + 1), lengthNumber(kerf.at_mm, units), kerfText(kerf.depth_mm, units), ""]);
	table.end();
}

/** Whole millimetres as they were worked out; in inches rounded short, as a drill's depth is. */
const kerfText = (mm: number, units: LengthUnit): string =>
	units === "mm" ? lengthNumber(mm, units, 0) : depthNumber(mm, units);

/** The face as seen from outside, its kerfs in red with their depths. */
function picture(flow: Flow, plan: Plan, field: StopCuts, face: PlanFace): void {
	const units = plan.sheet.units;
	const flat = layFlat(plan, face);
	const scale = Math.min((flow.columnWidth - 40) / flat.width, TALLEST / flat.height);
	const s = flow.take(flat.height * scale + AROUND);
	const foot = s.y + 4 + flat.height * scale;
	const at = drawFace(s.on, flat, s.x + (flow.columnWidth - flat.width * scale) / 2, foot, scale, {
		off: 3,
		reach: 18,
	});
	for (const p of plan.points) {
		if (p.face !== face.name || p.u_mm === null || p.v_mm === null) continue;
		const [px, py] = at(p.u_mm, p.v_mm);
		line(s.on, { colour: SLATE, width: 0.25 }, px - 0.8, py, px + 0.8, py);
		line(s.on, { colour: SLATE, width: 0.25 }, px, py - 0.8, px, py + 0.8);
	}
	const look = { size: BODY, colour: RADDLE, bold: true } as const;
	for (const { at_mm, depth_mm } of field.kerfs) {
		const alongU = field.runs === "u";
		const [from, to] = alongU
			? [at(field.from_mm, at_mm), at(field.to_mm, at_mm)]
			: [at(at_mm, field.from_mm), at(at_mm, field.to_mm)];
		line(s.on, { colour: RADDLE, width: 0.7 }, ...from, ...to);
		const words = kerfText(depth_mm, units);
		if (alongU) text(s.on, Math.max(from[0], to[0]) + 1.4, from[1] + 1.1, words, look);
		else text(s.on, to[0], to[1] - 1.2, words, { ...look, anchor: "middle" });
	}
	text(s.on, s.x + flow.columnWidth / 2, foot + 10, "red: kerfs and their depth; crosses: drill lines enter", {
		...quiet,
		anchor: "middle",
	});
}
