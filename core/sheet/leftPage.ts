/** The first page of the sheets of only what is left: done and left by round and side, and for how many days. */

import { paceOf, progressOf } from "../bench/progress.ts";
import type { LogEntry } from "../plan/commission.ts";
import type { Plan } from "../plan/planFile.ts";
import { daysText } from "../text/benchWords.ts";
import { newFlow, type SheetPage } from "./flow.ts";
import type { Fonts } from "./fontMetrics.ts";
import { PAPER_SIZES } from "./paper.ts";
import { drawMark } from "./roundMarks.ts";
import { startTable } from "./table.ts";

/** `day`: when the sheets were asked for, as the bench writes days. */
export function leftPage(fonts: Fonts, plan: Plan, log: readonly LogEntry[], day: string): readonly SheetPage[] {
	const { points, done, left, byRound } = progressOf(plan, log);
	const pace = paceOf(log, left.length);
	const flow = newFlow(fonts, PAPER_SIZES[plan.sheet.paper], "What is left");
	flow.heading(`What is left on ${day}`, 30);
	flow.paragraph(
		`${done} of ${points} points are done, ${left.length} are left. These sheets show those alone, with the numbers that they have on the whole map.`,
	);
	flow.paragraph(
		pace.usual
			? `At 30 to 40 points a day (common practice): ${daysText(pace.daysLeft)}.`
			: `At the pace of the ${pace.days.length} days in the log: ${daysText(pace.daysLeft)}.`,
	);
	flow.paragraph(
		"Cautions, seats and the reading of a line stand on the whole sheets; keep their cover at hand. Read the proof marks before the first hole of the day.",
	);
	flow.gap(2);
	const table = startTable(flow, {
		columns: [
			{ head: [""], width: 8, align: "middle" },
			{ head: ["round"], width: 50, align: "left" },
			{ head: ["proper"], width: 30, align: "left" },
			{ head: ["done"], width: 20, align: "right" },
			{ head: ["left"], width: 20, align: "right", bold: true },
		],
	});
	for (const { round, side, points: all, done: gone } of byRound)
		table.row([
			(on, x, y) => drawMark(on, x, y, round, side),
			plan.rounds[round].name,
			side,
			String(gone),
			String(all - gone),
		]);
	table.end();
	return flow.pages;
}
