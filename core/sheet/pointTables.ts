/** The tables of the points, by lie, round and face in order of work. */

import { tanDegrees } from "../exactAngle.ts";
import type { Plan, PlanPoint } from "../plan/planFile.ts";
import { depthNumber, lengthNumber } from "../text/format.ts";
import { rect } from "./drawing.ts";
import { type Flow, newFlow, type SheetPage } from "./flow.ts";
import type { Fonts } from "./fontMetrics.ts";
import type { PaperSize } from "./paper.ts";
import { drawMark } from "./roundMarks.ts";
import { rule } from "./style.ts";
import { type Cell, type Column, startTable } from "./table.ts";

/** A column of the point table and how a point fills it. */
interface PointColumn extends Column {
	readonly cell: (p: PlanPoint) => Cell;
}

const NONE = "–";

const orNone = (value: number | null, write: (v: number) => string): string => (value === null ? NONE : write(value));

/** Half degrees with a sign that shows; 0 has none. */
const leanText = (degrees: number): string => {
	const half = Math.round(degrees * 2) / 2;
	return half === 0 ? "0.0" : `${half > 0 ? "+" : "−"}${Math.abs(half).toFixed(1)}`;
};

/** Offset of the line 100 mm out from the face, along u or v: 100·tan(lean), with the printed lean. */
const hundredOut = (degrees: number, units: "mm" | "in"): string => {
	const offset = 100 * tanDegrees(Math.round(degrees * 2) / 2);
	const words = lengthNumber(Math.abs(offset), units);
	return Number(words) === 0 ? words : `${offset > 0 ? "+" : "−"}${words}`;
};

/** Whether the holes start at a place that is measured on a face: always, except where the machine's needle leads the drill. */
export const drilledFromFaces = (plan: Plan): boolean => plan.transfer !== "machine";

function pointColumns(plan: Plan): PointColumn[] {
	const units = plan.sheet.units;
	const callipers = plan.transfer === "callipers";
	const length = (head: string[], width: number, pick: (p: PlanPoint) => number | null, bold = false): PointColumn => ({
		head,
		width,
		align: "right",
		bold,
		cell: (p) => orNone(pick(p), (v) => lengthNumber(v, units)),
	});
	const columns: PointColumn[] = [
		{ head: ["no."], width: 11.5, align: "right", bold: true, cell: (p) => String(p.number) },
		{
			head: [""],
			width: 6.5,
			align: "middle",
			cell: (p) => (on, x, y) => drawMark(on, x, y, p.round, p.side, p.undercut),
		},
	];
	if (drilledFromFaces(plan)) {
		columns.push(length(["u", units], 15, (p) => p.u_mm));
		columns.push(length(["v", units], 15, (p) => p.v_mm));
		for (const [axis, name] of ["u", "v"].entries())
			columns.push({
				head: ["lean", `${name} °`],
				width: 13.2,
				align: "right",
				cell: (p) => (p.lean_deg === null || p.face === null ? NONE : leanText(p.lean_deg[axis])),
			});
		if (!callipers)
			for (const [axis, name] of ["u", "v"].entries())
				columns.push({
					head: [axis === 0 ? "100 out" : "", name],
					width: axis === 0 ? 14.5 : 13.2,
					align: "right",
					cell: (p) => (p.lean_deg === null || p.face === null ? NONE : hundredOut(p.lean_deg[axis], units)),
				});
	}
	columns.push(
		{
			head: ["drill", `Ø ${units}`],
			width: 12.5,
			align: "right",
			cell: (p) => lengthNumber(plan.rounds[p.round].tool.drill_mm, units),
		},
		{
			head: ["depth", units],
			width: 14,
			align: "right",
			bold: true,
			cell: (p) => orNone(p.depth_mm, (v) => depthNumber(v, units)),
		},
		{
			head: ["safe", "to ±°"],
			width: 12.5,
			align: "right",
			// Rounded down: what is printed must be forgiven in full.
			cell: (p) => orNone(p.aimSafe_deg, (v) => (Math.floor(v * 2 + 1e-9) / 2).toFixed(1)),
		},
		{
			head: ["to go", units],
			width: 13.5,
			align: "right",
			cell: (p) => orNone(p.toGo_mm, (v) => depthNumber(v, units)),
		},
	);
	if (callipers)
		for (const [where, words] of [
			["model", "model"],
			["stone", "stone"],
		] as const)
			for (const [i, datum] of ["A", "B", "C"].entries())
				columns.push(length([i === 0 ? words : "", datum], 15.5, (p) => p.callipers_mm?.[where][i] ?? null));
	columns.push(
		{
			head: ["done"],
			width: 11,
			align: "middle",
			cell: () => (on, x, y) => rect(on, x - 1.7, y - 1.7, 3.4, 3.4, { pen: rule }),
		},
		{ head: ["note"], width: 0, align: "left", cell: (p) => (p.byEye ? "eye" : "") },
	);
	return columns;
}

/** Points that belong together in a table, with the words that head them. */
export interface PointGroup {
	readonly words: string;
	readonly round: number;
	readonly points: readonly PlanPoint[];
}

/** Groups by lie, round and face, each in order of its numbers; points without a line are not drilled and stand in no table. */
export function groupPoints(plan: Plan): PointGroup[] {
	const groups = new Map<string, PlanPoint[]>();
	const faces = drilledFromFaces(plan);
	for (const p of [...plan.points].sort((a, b) => a.number - b.number)) {
		if (p.line === null) continue;
		const key = `${p.lie ?? -1}/${p.round}/${faces ? (p.face ?? "") : ""}`;
		const group = groups.get(key);
		if (group) group.push(p);
		else groups.set(key, [p]);
	}
	return [...groups.values()]
		.sort((a, b) => (a[0].lie ?? -1) - (b[0].lie ?? -1) || a[0].round - b[0].round || a[0].number - b[0].number)
		.map((points) => {
			const { lie, round, face } = points[0];
			const where = lie === null ? "" : `${plan.lies[lie]?.name ?? ""} · `;
			const from = !faces ? "" : face === null ? " · skin gone: no face" : ` · ${face} face`;
			return { words: `${where}${plan.rounds[round].name}${from}`, round, points };
		});
}

/** Said once before the tables: the bold depth is no good once its skin is gone. */
const DEPTH_WORDS =
	"Depth counts from the first skin of the stone. Once the ground around a point has been joined, that skin is gone: drill by “to go”, the stone that is then left over the tip; 0.0 means that the tip is reached already and the point is passed over.";

/** The table pages; none where no point has a line. */
export function pointTables(fonts: Fonts, plan: Plan, paper: PaperSize): SheetPage[] {
	const columns = pointColumns(plan);
	const groups = groupPoints(plan);
	if (groups.length === 0) return [];
	const least = columns.reduce((sum, c) => sum + c.width, 0) + 12;
	const flow: Flow = newFlow(fonts, paper, "Tables", least > 184 ? least : null);
	flow.paragraph(DEPTH_WORDS);
	flow.gap(2);
	for (const group of groups) {
		const table = startTable(
			flow,
			{ columns, rowHeight: 6.4 },
			(on, x, y) => drawMark(on, x, y, group.round, null, false, 1.7),
			group.words,
		);
		for (const p of group.points) table.row(columns.map((c) => c.cell(p)));
		table.end();
		flow.gap(3);
	}
	return flow.pages;
}
