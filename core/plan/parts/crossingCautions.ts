/** Holes that run close to each other, told so that it can be acted on: each pair while they are few, by places when many. */

import { sizeText } from "../../text/length.ts";
import type { Commission } from "../commission.ts";
import type { PlanCrossing, PlanPoint } from "../planFile.ts";

/** Pairs that are still named one by one. */
const NAMED = 12;

const WHAT =
	"(under 1 mm, or under two drill diameters where they come into a thin part from its two sides), which no other line parts";
const SO = "The second bit may wander into the first hole: go slowly, or join the ground before the second.";

export function crossingCautions(
	crossings: readonly PlanCrossing[],
	points: readonly PlanPoint[],
	{ rounds }: Pick<Commission, "rounds">,
): string[] {
	if (crossings.length === 0) return [];
	if (crossings.length <= NAMED) {
		const pairs = crossings.map((c) => c.points.join(" and ")).join("; ");
		return [`Holes with too little stone between them ${WHAT}: ${pairs}. ${SO}`];
	}
	const byNumber = new Map(points.map((p) => [p.number, p]));
	const groups = groupsOf(crossings);
	const largest = groups[0];
	const holes = groups.reduce((sum, group) => sum + group.length, 0);
	const drilled = points.filter((p) => p.depth_mm !== null).length;
	const neighbours = new Map<number, number>();
	const perRound = rounds.map(() => 0);
	for (const { points: pair } of crossings)
		for (const number of pair) {
			neighbours.set(number, (neighbours.get(number) ?? 0) + 1);
			const round = byNumber.get(number)?.round;
			if (round !== undefined) perRound[round]++;
		}
	const hub = largest.reduce((best, n) => ((neighbours.get(n) ?? 0) > (neighbours.get(best) ?? 0) ? n : best));
	const face = byNumber.get(hub)?.face;
	const most = perRound.indexOf(Math.max(...perRound));
	const places = groups.length === 1 ? "in one place" : `in ${groups.length} places`;
	const where = `the largest, ${largest.length} holes, lies around ${hub}${face ? `, entered from the ${face}` : ""}`;
	return [
		`${holes} of ${drilled} holes have too little stone to a neighbour ${WHAT}: ${crossings.length} pairs ${places}; ${where}. No hole comes nearer to the figure for it, but ground so drilled breaks from hole to hole. In the tables such a hole names its neighbour: “by ${hub}”. ${SO} To have fewer, take a thinner drill than ${sizeText(rounds[most].tool.drill_mm, "mm")} or fewer points in “${rounds[most].name}”, which has most of them.`,
	];
}

/** Numbers that hang together by pairs, each group in growing order; the largest first, then by its first number. */
export function groupsOf(crossings: readonly PlanCrossing[]): number[][] {
	const parent = new Map<number, number>();
	const rootOf = (n: number): number => {
		let root = n;
		for (let up = parent.get(root); up !== undefined && up !== root; up = parent.get(root)) {
			parent.set(root, parent.get(up) ?? up);
			root = up;
		}
		return root;
	};
	for (const { points } of crossings) {
		for (const n of points) if (!parent.has(n)) parent.set(n, n);
		const [a, b] = points.map(rootOf);
		parent.set(Math.max(a, b), Math.min(a, b));
	}
	const groups = new Map<number, number[]>();
	for (const n of [...parent.keys()].sort((a, b) => a - b)) {
		const root = rootOf(n);
		groups.set(root, [...(groups.get(root) ?? []), n]);
	}
	return [...groups.values()].sort((a, b) => b.length - a.length || a[0] - b[0]);
}
