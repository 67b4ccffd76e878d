/** The plan's points as lists, tape and banker show them: which are let through by the filter, and what is said of one. */

import type { Plan, PlanPoint } from "../../core/plan/planFile.ts";
import {
	angleText,
	depthNumber,
	type LengthUnit,
	lengthNumber,
	roundHalf,
	sentenceIn,
	unitWord,
} from "../../core/text/format.ts";
import type { PointFilter } from "./ui.ts";

export function letThrough(point: PlanPoint, filter: PointFilter, plan: Plan): boolean {
	if (filter.round !== null && point.round !== filter.round) return false;
	if (filter.kind === "undercut" && !point.undercut) return false;
	if (filter.kind === "by eye" && !point.byEye) return false;
	if (filter.kind === "picked" && point.kind !== "picked") return false;
	const text = filter.text.trim().toLowerCase();
	if (text === "") return true;
	const range = /^(\d+)\s*(?:-|–|to)\s*(\d+)$/.exec(text);
	if (range) return point.number >= Number(range[1]) && point.number <= Number(range[2]);
	if (/^\d+$/.test(text)) return String(point.number).startsWith(text);
	const said = [
		plan.rounds[point.round]?.name,
		point.lie === null ? "" : plan.lies[point.lie]?.name,
		point.face,
		point.kind,
		point.side,
		point.undercut ? "undercut" : "",
		point.byEye ? "by eye" : "",
		point.reason,
	];
	return said.some((word) => word?.toLowerCase().includes(text));
}

/** Numbers of the points of a run, given by its first and last place in the order of work. */
export const numbersInRun = (plan: Plan | null, run: readonly [number, number] | null): ReadonlySet<number> | null =>
	plan && run ? new Set(plan.points.slice(run[0], run[1] + 1).map((point) => point.number)) : null;

/** Where u and v lie, in the carver's unit: the same figure as on the sheet. */
export const placeText = (mm: number | null, unit: LengthUnit): string => (mm === null ? "" : lengthNumber(mm, unit));

export const depthText = (point: PlanPoint, unit: LengthUnit): string =>
	point.depth_mm === null ? "" : depthNumber(point.depth_mm, unit);

export const leanText = (point: PlanPoint, axis: 0 | 1): string =>
	point.lean_deg === null ? "" : angleText(roundHalf(point.lean_deg[axis]));

/** "safe to ±": rounded down, because it is a promise. */
export const safeText = (point: PlanPoint): string =>
	point.aimSafe_deg === null ? "" : `±${angleText(Math.floor(point.aimSafe_deg * 2) / 2)}`;

/** One point in a sentence, for the tape and for screen readers. */
export function pointSentence(point: PlanPoint, plan: Plan, unit: LengthUnit): string {
	const round = plan.rounds[point.round]?.name ?? "";
	if (point.undercut) return `Point ${point.number}, ${round}: undercut. ${sentenceIn(unit, point.reason)}`;
	const where =
		point.face === null
			? ""
			: `, ${point.face} face at u ${placeText(point.u_mm, unit)}, v ${placeText(point.v_mm, unit)}`;
	return `Point ${point.number}, ${round}${where}, depth ${depthText(point, unit)} ${unitWord(unit)}`;
}
