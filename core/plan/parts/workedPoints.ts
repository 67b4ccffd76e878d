import { runsInto } from "../../drilling/crossings.ts";
import type { Drill } from "../../drilling/drill.ts";
import {
	type DrillLine,
	type DrillTarget,
	type Hole,
	isUndercut,
	type Opening,
	type SharedLine,
	type SunkHole,
	type Undercut,
} from "../../drilling/drillLine.ts";
import type { LineSearch } from "../../drilling/lineSearch.ts";
import { KEPT_WEB } from "../../drilling/lineTrial.ts";
import { separateHoles } from "../../drilling/separateHoles.ts";
import { thicknessAt } from "../../drilling/thickness.ts";
import { type Job, within } from "../../job.ts";
import type { SurfacePoint } from "../../pointing/ground.ts";
import type { SurfaceIndex } from "../../surface/surfaceIndex.ts";
import { distance, type Placement, place } from "../../vector.ts";

/** What is known of a placed point once its drill line has been looked for. */
export interface WorkedPoint {
	/** Stone behind the target; null for an open shell. */
	readonly thickness: number | null;
	readonly answer: DrillLine | Undercut;
	/** Of an undercut. */
	readonly opening: Opening | null;
}

export interface WorkedPoints {
	/** One for every placed point. */
	readonly worked: readonly WorkedPoint[];
	/** Pairs of points, by their places, whose holes no other clear line parts. */
	readonly crossings: readonly { readonly a: number; readonly b: number; readonly web: number }[];
}

export interface Tools {
	/** By round. */
	readonly drills: readonly Drill[];
	/** Stop allowance by round, mm. */
	readonly allowances: readonly number[];
	/** Bridges that stand while the round is drilled, by round; stone frame. */
	readonly bridges: readonly (readonly Hole[])[];
	/** Bosses under the seats of all sets, stone frame: drilled only where a target has no other way. */
	readonly bosses: readonly Hole[];
	/** Model to stone frame. */
	readonly placement: Placement;
	/** Holes that are in the stone, by the number of their point. */
	readonly sunk: ReadonlyMap<number, SunkHole>;
}

const targetOf = ({ position, normal, round }: SurfacePoint, { bridges }: Tools): DrillTarget => ({
	position,
	normal,
	kept: bridges[round],
});

/** Whether a target lies so far under a boss that every hole to it runs into that boss. */
function isUnder(target: DrillTarget, { holeRadius }: Drill, { bosses, placement }: Tools): boolean {
	const at = place(placement, target.position);
	return runsInto({ tip: at, entry: at, radius: holeRadius }, { holes: bosses, web: KEPT_WEB });
}

/** The line of every point, holes parted, and for each undercut what would open it. */
export function* workPoints(
	points: readonly SurfacePoint[],
	search: LineSearch,
	index: SurfaceIndex,
	closed: boolean,
	tools: Tools,
): Job<WorkedPoints> {
	const { drills, allowances } = tools;
	const alone = yield* within(findLines(points, search, index, closed, tools), 0, 0.5);
	const asked = points.map((point, i) => ({
		target: alone[i].target,
		drill: drills[point.round],
		allowance: allowances[point.round],
		thickness: alone[i].thickness ?? undefined,
		answer: alone[i].answer,
		sunk: alone[i].sunk,
	}));
	const { answers, crossings } = yield* within(separateHoles(asked, search), 0.5, 0.8);
	const worked: WorkedPoint[] = [];
	for (const [i, answer] of answers.entries()) {
		const { target, drill, allowance, thickness } = asked[i];
		const opening = isUndercut(answer) ? search.opening(target, drill, allowance, thickness) : null;
		worked.push({ thickness: alone[i].thickness, answer, opening });
		if (opening) yield { stage: "asking what would open the undercuts", share: 0.8 + (0.2 * i) / answers.length };
	}
	return { worked, crossings };
}

interface FoundAlone {
	/** With the bosses among what is kept, unless there is no other way than through one. */
	readonly target: DrillTarget;
	readonly thickness: number | null;
	readonly answer: DrillLine | Undercut;
	/** The hole is in the stone. */
	readonly sunk: boolean;
}

const besideBosses = (target: DrillTarget, { bosses }: Tools): DrillTarget => ({
	...target,
	kept: [...(target.kept ?? []), ...bosses],
});

/** Neighbours are offered each other's directions. */
function* findLines(
	points: readonly SurfacePoint[],
	search: LineSearch,
	index: SurfaceIndex,
	closed: boolean,
	tools: Tools,
): Job<FoundAlone[]> {
	const { drills, allowances, bosses } = tools;
	const found: FoundAlone[] = [];
	for (const [i, point] of points.entries()) {
		const bare = targetOf(point, tools);
		const drill = drills[point.round];
		const thickness = closed ? thicknessAt(index, bare) : null;
		const sunk = lineSunk(point, drill, search, tools);
		if (sunk) {
			found.push({ target: bare, thickness, answer: sunk, sunk: true });
			continue;
		}
		const shared = sharedLines(points, found);
		const lineTo = (target: DrillTarget): FoundAlone => ({
			target,
			thickness,
			answer: search.find(target, drill, allowances[point.round], shared, thickness ?? undefined),
			sunk: false,
		});
		const sparing = bosses.length > 0 && !isUnder(bare, drill, tools) ? lineTo(besideBosses(bare, tools)) : null;
		found.push(sparing === null || isUndercut(sparing.answer) ? lineTo(bare) : sparing);
		if (i % 4 === 3) yield { stage: "finding the drill lines", share: i / points.length };
	}
	return found;
}

/** The line of a point whose hole is in the stone and still leads to it; null for any other. */
function lineSunk(point: SurfacePoint, drill: Drill, search: LineSearch, tools: Tools): DrillLine | null {
	const hole = point.number === null ? undefined : tools.sunk.get(point.number);
	return hole ? search.sunk(point, drill, hole) : null;
}

/** How many neighbours' lines are offered. */
const SHARED = 3;

/** For the next point: lines of the nearest points that have one, nearest first, ties by order. */
function sharedLines(
	points: readonly SurfacePoint[],
	found: readonly { readonly answer: DrillLine | Undercut }[],
): SharedLine[] {
	const { position } = points[found.length];
	const nearest: { d: number; shared: SharedLine }[] = [];
	for (const [i, { answer }] of found.entries()) {
		if (isUndercut(answer)) continue;
		const d = distance(points[i].position, position);
		if (nearest.length === SHARED && d >= nearest[SHARED - 1].d) continue;
		let at = nearest.length;
		while (at > 0 && nearest[at - 1].d > d) at--;
		nearest.splice(at, 0, { d, shared: { face: answer.face.name, leanDeg: answer.leanDeg } });
		if (nearest.length > SHARED) nearest.pop();
	}
	return nearest.map((n) => n.shared);
}
