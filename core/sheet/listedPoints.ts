/** Undercuts and by-eye places: where each is found at the bench, with the reason. */

import type { Plan, PlanPoint } from "../plan/planFile.ts";
import { BLOCKED } from "../text/drillingWords.ts";
import { lengthNumber, lengthText, sentenceIn, unitWord } from "../text/format.ts";
import type { Vec3 } from "../vector.ts";
import type { Flow } from "./flow.ts";
import { nearestDrilled, threeAround } from "./neighbours.ts";
import { targetInStone } from "./pointColumns.ts";
import { drawMark } from "./roundMarks.ts";
import { startTable } from "./table.ts";

export interface ListChoice {
	/** Those to be listed; all of the plan where nothing is said. */
	readonly points?: readonly PlanPoint[];
	readonly mapPage: (number: number) => string;
}

/** Returns the page of each listed number, as an index among the flow's own. */
export function listedPoints(flow: Flow, plan: Plan, choice: ListChoice): Map<number, number> {
	const pageOf = new Map<number, number>();
	const points = choice.points ?? plan.points;
	list(
		flow,
		plan,
		points.filter((p) => p.undercut),
		choice,
		pageOf,
		{
			words: "Undercuts: no permitted drill line reaches them",
			note: "Worked by eye from the model, or opened from a side that is not planned. Each is found on the stone by three lengths from finished points around it.",
		},
	);
	list(
		flow,
		plan,
		points.filter((p) => p.byEye && !p.undercut),
		choice,
		pageOf,
		{
			words: "By eye: the points lie too far apart for a flat join",
			note: "Between these the curve is read from the model.",
		},
	);
	return pageOf;
}

function list(
	flow: Flow,
	plan: Plan,
	points: readonly PlanPoint[],
	choice: ListChoice,
	pageOf: Map<number, number>,
	{ words, note }: { readonly words: string; readonly note: string },
): void {
	if (points.length === 0) return;
	const { units } = plan.sheet;
	flow.heading(words, 30);
	flow.paragraph(
		`${note} Left, front and bed: how far in from those faces of the block the finished surface lies there.`,
	);
	flow.gap(1);
	const from = (head: string): { head: string[]; width: number; align: "right" } => ({
		head: [head, unitWord(units)],
		width: 14,
		align: "right",
	});
	const table = startTable(flow, {
		columns: [
			{ head: ["no."], width: 12, align: "right", bold: true },
			{ head: [""], width: 6.5, align: "middle" },
			{ head: ["map", "page"], width: 11, align: "right" },
			from("left"),
			from("front"),
			from("bed"),
			{ head: ["where, and why"], width: 0, align: "left" },
		],
	});
	for (const p of points) {
		table.row([
			String(p.number),
			(on, x, y) => drawMark(on, x, y, p.round, p.side, p.undercut),
			choice.mapPage(p.number),
			...targetInStone(plan, p).map((mm) => lengthNumber(mm, units)),
			[aroundWords(plan, p), reasonWords(plan, p)].filter((w) => w !== "").join(" "),
		]);
		if (p.undercut || !pageOf.has(p.number)) pageOf.set(p.number, flow.pages.length - 1);
	}
	table.end();
}

/** "Lies 12.3 mm from 24, 18.0 mm from 31 and 21.4 mm from 40." */
function aroundWords(plan: Plan, p: PlanPoint): string {
	if (!p.undercut) return "";
	const near = threeAround(plan, p.model_mm as Vec3).map(
		({ point, away }) => `${lengthText(away, plan.sheet.units)} from ${point.number}`,
	);
	if (near.length === 0) return "";
	const last = near.pop();
	return `Lies ${near.length === 0 ? last : `${near.join(", ")} and ${last}`}.`;
}

/** Why, with what blocks named by the number nearest to it. */
function reasonWords(plan: Plan, p: PlanPoint): string {
	const words = sentenceIn(plan.sheet.units, p.reason);
	if (p.blockedAt_mm === null) return words;
	const [near] = nearestDrilled(plan, p.blockedAt_mm as Vec3, 1);
	return near
		? words.replace(BLOCKED, `The ground by ${near.point.number} is in the way of every permitted line.`)
		: words;
}
