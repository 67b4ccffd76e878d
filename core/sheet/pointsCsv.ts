/** The points as comma-separated values (RFC 4180): one row a point, every field of the plan, units in the header. */

import { mm } from "../plan/parts/rounding.ts";
import type { Plan, PlanPoint } from "../plan/planFile.ts";

type Value = number | string | boolean | null;

const triple = (name: string, unit: string, of: readonly [string, string, string]): string[] =>
	of.map((part) => `${name}_${part}${unit}`);

const XYZ = ["x", "y", "z"] as const;
const EDGE = ["along", "across", "below"] as const;
const ABC = ["A", "B", "C"] as const;

export const CSV_HEADER: readonly string[] = [
	"number",
	"round",
	"round_name",
	"lie",
	"lie_name",
	"set",
	"kind",
	"side",
	...triple("model", "_mm", XYZ),
	...triple("normal", "", XYZ),
	"thickness_mm",
	...triple("line", "", XYZ),
	"tilt_deg",
	"lean_u_deg",
	"lean_v_deg",
	...triple("entry", "_mm", XYZ),
	"face",
	"u_mm",
	"v_mm",
	"drill_mm",
	"stop_mm",
	"depth_mm",
	"stop_reads_mm",
	"clearance_mm",
	"aimSafe_deg",
	"stone_mm",
	...triple("callipers_model", "_mm", ABC),
	...triple("callipers_stone", "_mm", ABC),
	"callipers_side",
	"callipers_unreliable",
	...triple("straightedge_model", "_mm", EDGE),
	...triple("straightedge_stone", "_mm", EDGE),
	"toGo_mm",
	"error_mm",
	"byEye",
	"undercut",
	"reason",
	...triple("blocked_at", "_mm", XYZ),
];

const NOTHING: readonly null[] = [null, null, null];

const rowOf = (plan: Plan, p: PlanPoint): Value[] => [
	p.number,
	p.round,
	plan.rounds[p.round].name,
	p.lie,
	p.lie === null ? null : plan.lies[p.lie].name,
	p.set,
	p.kind,
	p.side,
	...p.model_mm,
	...p.normal,
	p.thickness_mm,
	...(p.line ?? NOTHING),
	p.tilt_deg,
	...(p.lean_deg ?? [null, null]),
	...(p.entry_mm ?? NOTHING),
	p.face,
	p.u_mm,
	p.v_mm,
	plan.rounds[p.round].tool.drill_mm,
	p.stop_mm,
	p.depth_mm,
	p.depth_mm === null ? null : mm(p.depth_mm + plan.rounds[p.round].tool.setZero_mm),
	p.clearance_mm,
	p.aimSafe_deg,
	p.stone_mm,
	...(p.callipers_mm?.model ?? NOTHING),
	...(p.callipers_mm?.stone ?? NOTHING),
	p.calliperSide,
	p.calliperUnreliable,
	...(p.straightedge_mm?.model ?? NOTHING),
	...(p.straightedge_mm?.stone ?? NOTHING),
	p.toGo_mm,
	p.error_mm,
	p.byEye,
	p.undercut,
	p.reason,
	...(p.blockedAt_mm ?? NOTHING),
];

const field = (value: Value): string => {
	const words = value === null ? "" : String(value);
	return /[",\r\n]/.test(words) ? `"${words.replace(/"/g, '""')}"` : words;
};

/** Lines end in CR LF; a decimal point whatever the country; empty where the plan has null. */
export function writeCsv(plan: Plan): string {
	const rows = [CSV_HEADER, ...plan.points.map((p) => rowOf(plan, p))];
	return `${rows.map((row) => row.map(field).join(",")).join("\r\n")}\r\n`;
}
