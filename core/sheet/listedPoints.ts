/** Undercuts and by-eye places, with the reason for each. */

import type { Plan, PlanPoint } from "../plan/planFile.ts";
import type { Flow } from "./flow.ts";
import { drawMark } from "./roundMarks.ts";
import { startTable } from "./table.ts";

export function listedPoints(flow: Flow, plan: Plan): void {
	list(
		flow,
		plan,
		"Undercuts: no permitted drill line reaches them",
		"Worked by eye from the model, or opened from a side that is not planned.",
		(p) => p.undercut,
	);
	list(
		flow,
		plan,
		"By eye: the points lie too far apart for a flat join",
		"Between these the curve is read from the model.",
		(p) => p.byEye && !p.undercut,
	);
}

function list(flow: Flow, plan: Plan, words: string, note: string, wanted: (p: PlanPoint) => boolean): void {
	const points = plan.points.filter(wanted);
	if (points.length === 0) return;
	flow.heading(words, 24);
	flow.paragraph(note);
	flow.gap(1);
	const table = startTable(flow, {
		columns: [
			{ head: ["no."], width: 14, align: "right", bold: true },
			{ head: [""], width: 8, align: "middle" },
			{ head: ["round"], width: 27, align: "left" },
			{ head: ["side"], width: 15, align: "left" },
			{ head: ["reason"], width: 0, align: "left" },
		],
	});
	for (const p of points)
		table.row([
			String(p.number),
			(on, x, y) => drawMark(on, x, y, p.round, p.side, p.undercut),
			plan.rounds[p.round].name,
			p.side,
			p.reason === "" ? "–" : p.reason,
		]);
	table.end();
}
