/** The columns of the point tables: those that belong to the transfer, and how a point fills them (handbook 2 and 12). */

import { THIN_MM } from "../drilling/thinParts.ts";
import { tanDegrees } from "../exactAngle.ts";
import type { Plan, PlanPoint } from "../plan/planFile.ts";
import {
	depthNumber,
	finely,
	type LengthUnit,
	lengthNumber,
	MM_PER,
	roundHalf,
	sizeNumber,
	unitWord,
} from "../text/format.ts";
import { STOP_READS, stopReading } from "../text/stopWords.ts";
import { place, type Vec3 } from "../vector.ts";
import { rect } from "./drawing.ts";
import { drawMark } from "./roundMarks.ts";
import { bossInTheWay } from "./sparedGround.ts";
import { rule } from "./style.ts";
import type { Cell, Column } from "./table.ts";

/** A column of the point table and how a point fills it. */
export interface PointColumn extends Column {
	readonly cell: (p: PlanPoint) => Cell;
}

const NONE = "–";

const orNone = (value: number | null, write: (v: number) => string): string => (value === null ? NONE : write(value));

/** Half degrees with a sign that shows; 0 has none. */
const leanText = (degrees: number): string => {
	const half = Math.round(degrees * 2) / 2;
	return half === 0 ? "0.0" : `${half > 0 ? "+" : "−"}${Math.abs(half).toFixed(1)}`;
};

/** How far out the line is set off with square and rule. */
const FAR_OUT: Readonly<Record<LengthUnit, { readonly mm: number; readonly words: string }>> = {
	mm: { mm: 100, words: "100 out" },
	in: { mm: 4 * MM_PER.in, words: "4 in out" },
	// A sixteenth at the end of four inches would be a degree nearly.
	in16: { mm: 8 * MM_PER.in, words: "8 in out" },
};
/** As a column's head has room for it. */
export const farOutWords = (units: LengthUnit): string => FAR_OUT[units].words;
/** With its unit, wherever the page does not say it once for all. */
export const farOutText = (units: LengthUnit): string => (units === "mm" ? "100 mm out" : FAR_OUT[units].words);

/** Offset of the line that far out from the face, along u or v: the tangent of the printed lean. */
export const offsetOut = (degrees: number, units: LengthUnit): string => {
	const offset = FAR_OUT[units].mm * tanDegrees(roundHalf(degrees));
	const words = lengthNumber(Math.abs(offset), units);
	return offset === 0 ? words : `${offset > 0 ? "+" : "−"}${words}`;
};

/** Whether the holes start at a place that is measured on a face: always, except where the machine's needle leads the drill. */
export const drilledFromFaces = (plan: Plan): boolean => plan.transfer !== "machine";

/** The target in the stone frame, from the line alone, or from the model where there is none. */
export const targetInStone = (plan: Plan, p: PlanPoint): Vec3 => place(plan.stone.placement, p.model_mm);

/** On which side of the plane of A, B and C a target lies; a question mark where three lengths hardly hold it. */
export const sideWords = ({ calliperSide, calliperUnreliable }: PlanPoint): string =>
	`${calliperSide ?? NONE}${calliperUnreliable ? " ?" : ""}`;

/** What to look out for at a point, in the fewest words; explained where the table is. */
export function hints(plan: Plan, p: PlanPoint): string {
	const words: string[] = [];
	if (p.byEye) words.push("eye");
	if (p.thickness_mm !== null && p.thickness_mm < THIN_MM) words.push("thin");
	const boss = bossInTheWay(plan, p);
	if (boss !== null) words.push(`at ${boss}`);
	const crossing = plan.crossings.find((c) => c.points.includes(p.number));
	if (crossing) words.push(`by ${crossing.points.find((n) => n !== p.number)}`);
	return words.join(", ");
}

/** Under the straightedge across the margins: on the model to the surface, on the stone to the floor of the hole. */
const EDGE_COLUMNS = [
	["model", 0, ["model", "along"]],
	["model", 1, ["", "across"]],
	["model", 2, ["", "below"]],
	["stone", 2, ["stone", "below"]],
] as const;

/** Depth as the drill's stop reads it, where any drill has a set zero. */
function stopReadings(plan: Plan): PointColumn[] {
	const zeroOf = (p: PlanPoint): number => plan.rounds[p.round].tool.setZero_mm;
	if (!plan.points.some((p) => p.depth_mm !== null && zeroOf(p) !== 0)) return [];
	const { units } = plan.sheet;
	return [
		{
			head: [...STOP_READS],
			width: 13.4,
			align: "right",
			bold: true,
			cell: (p) => orNone(p.depth_mm, (v) => stopReading(v, zeroOf(p), units)),
		},
	];
}

/** `mapPage` names the page of a number's map; null leaves the column out. */
export function pointColumns(plan: Plan, mapPage: ((number: number) => string) | null): PointColumn[] {
	const units = plan.sheet.units;
	const { transfer } = plan;
	const length = (
		head: string[],
		width: number,
		pick: (p: PlanPoint) => number | null,
		write = (mm: number) => lengthNumber(mm, units),
	): PointColumn => ({ head, width, align: "right", cell: (p) => orNone(pick(p), write) });
	// Three lengths hold a place no better than they are set.
	const fine = (mm: number): string => lengthNumber(mm, finely(units));
	const columns: PointColumn[] = [
		{ head: ["no."], width: 11.4, align: "right", bold: true, cell: (p) => String(p.number) },
		{
			head: [""],
			width: 6,
			align: "middle",
			cell: (p) => (on, x, y) => drawMark(on, x, y, p.round, p.side, p.undercut),
		},
	];
	if (mapPage) columns.push({ head: ["map", "page"], width: 10.6, align: "right", cell: (p) => mapPage(p.number) });
	if (drilledFromFaces(plan)) {
		columns.push(length(["u", unitWord(units)], 14.2, (p) => p.u_mm));
		columns.push(length(["v", unitWord(units)], 14.2, (p) => p.v_mm));
		for (const [axis, name] of ["u", "v"].entries())
			columns.push({
				head: ["lean", `${name} °`],
				width: 12.7,
				align: "right",
				cell: (p) => (p.lean_deg === null ? NONE : leanText(p.lean_deg[axis])),
			});
		if (transfer === "faces")
			for (const [axis, name] of ["u", "v"].entries())
				columns.push({
					head: axis === 0 ? [farOutWords(units), name] : ["", name],
					width: axis === 0 ? 14.2 : 12.7,
					align: "right",
					cell: (p) => (p.lean_deg === null ? NONE : offsetOut(p.lean_deg[axis], units)),
				});
	}
	columns.push(
		{
			head: ["drill", `Ø ${unitWord(units)}`],
			width: 12.4,
			align: "right",
			cell: (p) => sizeNumber(plan.rounds[p.round].tool.drill_mm, units),
		},
		{
			head: ["depth", unitWord(units)],
			width: 13.4,
			align: "right",
			bold: true,
			cell: (p) => orNone(p.depth_mm, (v) => depthNumber(v, units)),
		},
		...stopReadings(plan),
		{
			head: ["safe", "to ±°"],
			width: 11.8,
			align: "right",
			// Rounded down: what is printed must be forgiven in full.
			cell: (p) => orNone(p.aimSafe_deg, (v) => (Math.floor(v * 2 + 1e-9) / 2).toFixed(1)),
		},
		{
			head: ["to go", unitWord(units)],
			width: 13,
			align: "right",
			cell: (p) => orNone(p.toGo_mm, (v) => depthNumber(v, units)),
		},
	);
	if (transfer === "callipers") {
		for (const where of ["model", "stone"] as const)
			for (const [i, datum] of ["A", "B", "C"].entries())
				columns.push(length([i === 0 ? where : "", datum], 13.4, (p) => p.callipers_mm?.[where][i] ?? null, fine));
		columns.push({ head: ["side", "of ABC"], width: 15.5, align: "left", cell: sideWords });
	}
	if (transfer === "straightedge")
		for (const [where, i, name] of EDGE_COLUMNS)
			columns.push(
				length(
					[name[0], name[1]],
					14,
					(p) => p.straightedge_mm?.[where][i] ?? null,
					where === "stone" && units === "in16" ? (mm) => depthNumber(mm, units) : undefined,
				),
			);
	columns.push(
		{
			head: ["done"],
			width: 10.6,
			align: "middle",
			cell: () => (on, x, y) => rect(on, x - 1.7, y - 1.7, 3.4, 3.4, { pen: rule }),
		},
		{ head: ["note"], width: 0, align: "left", quiet: true, cell: (p) => hints(plan, p) },
	);
	return columns;
}
