/**
 * Placing the figure anew in the stone that is left: after a break, a flaw, holes too deep, or a client's change, the small
 * shift, turn and (if allowed) reduction that keeps every target under stone by its allowance; where none does, the one with
 * the least breach, and where that is (handbook 9).
 *
 * The limits are linear in a small motion but for the turn, so they are solved as linear programmes, each about the answer
 * of the last, within a step that shrinks where the answer was not as foreseen (sequential linear programming with a trust
 * region: Fletcher and Sainz de la Maza 1989, from memory). First the least slack is made as great as it needs to be, then the
 * motion as small as it can be.
 */

import type { Job } from "../job.ts";
import { Refusal } from "../refusal.ts";
import { LinearSolver } from "../stone/linearProgramme.ts";
import {
	add,
	distance,
	IDENTITY,
	length,
	multiply,
	type Placement,
	rotationFromQuaternion,
	scale,
	sub,
	turn,
	type Vec3,
} from "../vector.ts";
import { type Hold, Limits, type Moved, type Remains, UNKNOWNS } from "./remains.ts";

export interface AnewOptions {
	/** Least scale that is allowed; 1: no reduction. */
	readonly leastScale?: number;
	/** Farthest that any target may be carried, mm along each axis; default 50. */
	readonly farthest?: number;
	/** A change that is wanted before all else, such as 10 mm lower: stone frame, mm. */
	readonly wish?: Vec3;
}

/** A limit that is broken, or the tightest where none is. */
export interface Breach extends Hold {
	/** Stone that is lacking, mm. */
	readonly by: number;
}

export interface PlacedAnew {
	readonly answer: "stays" | "moves" | "moves and is reduced" | "breach";
	/** From where the figure lay to where it lies, stone frame: x ↦ R x + t after scaling by `scale` about the origin. */
	readonly motion: Placement;
	readonly scale: number;
	/** Farthest that a target is carried, mm. */
	readonly carried: number;
	/** Least stone to spare over the allowances, mm; negative: the least breach. */
	readonly spare: number;
	/** Limits that stay broken, the worst first; where the answer is a breach these are the places to make good. */
	readonly breaches: readonly Breach[];
	/** Targets whose holes are now too deep, with how much, mm; before anything is moved and after. */
	readonly tooDeep: { readonly before: readonly TooDeep[]; readonly after: readonly TooDeep[] };
}

export interface TooDeep {
	readonly target: number;
	readonly by: number;
}

/** A limit broken by less than this is kept: finer than anything that is measured, mm. */
const KEPT = 1e-3;
/** A step that gains less is no gain, mm. */
const NO_GAIN = 1e-6;
const MOST_STEPS = 60;
const FIRST_STEP = 10;

export function* placeAnew(remains: Remains, options: AnewOptions = {}): Job<PlacedAnew> {
	checkRemains(remains);
	const { leastScale = 1, farthest = 50, wish = [0, 0, 0] } = options;
	const limits = new Limits(remains);
	const wished: Moved = { rotation: IDENTITY, shift: wish, scale: 1 };
	limits.look({ ...wished, shift: [0, 0, 0] });
	const before = tooDeepOf(remains, limits);

	const search = { limits, remains, from: wished, farthest };
	let found = wished;
	if (limits.look(found) < -KEPT) {
		found = yield* mostSlack(search, wished, 1);
		if (limits.look(found) < -KEPT && leastScale < 1) found = yield* mostSlack(search, found, leastScale);
		if (limits.look(found) >= -KEPT) {
			if (found.scale < 1) found = yield* smallest(search, found, "scale", leastScale);
			found = yield* smallest(search, found, "motion", found.scale);
		}
	}
	const spare = limits.look(found);
	const breaches = limits.holds
		.flatMap((hold, k): Breach[] => (limits.slack[k] < -KEPT ? [{ ...hold, by: 0 - limits.slack[k] }] : []))
		.sort((a, b) => b.by - a.by || a.index - b.index || a.plane - b.plane);
	const carried = Math.max(...remains.targets.map((t) => distance(carry(limits, found, t.at), t.at)));
	return {
		answer: spare < -KEPT ? "breach" : found.scale < 1 ? "moves and is reduced" : carried > KEPT ? "moves" : "stays",
		motion: {
			rotation: found.rotation,
			translation: sub(add(limits.middle, found.shift), scale(turn(found.rotation, limits.middle), found.scale)),
		},
		scale: found.scale,
		carried,
		spare,
		breaches,
		tooDeep: { before, after: tooDeepOf(remains, limits) },
	};
}

function checkRemains({ targets, planes }: Remains): void {
	if (targets.length === 0) throw new Refusal("bench.noTargets");
	planes.forEach(({ name, normal, offset }) => {
		if (!(Math.abs(length(normal) - 1) < 1e-6 && Number.isFinite(offset)))
			throw new Refusal("bench.limits", { limit: name });
	});
}

const carry = ({ middle }: Limits, moved: Moved, at: Vec3): Vec3 =>
	add(add(middle, moved.shift), scale(turn(moved.rotation, sub(at, middle)), moved.scale));

function tooDeepOf({ targets }: Remains, { holds, slack }: Limits): TooDeep[] {
	return holds.flatMap((hold, k) =>
		hold.kind === "cover" && targets[hold.index].drilled && slack[k] < -KEPT
			? [{ target: hold.index, by: 0 - slack[k] }]
			: [],
	);
}

interface Search {
	readonly limits: Limits;
	readonly remains: Remains;
	/** Where motion counts from. */
	readonly from: Moved;
	readonly farthest: number;
}

/** The motion with the most slack, no smaller than `leastScale`; stops as soon as nothing is broken. */
function* mostSlack(search: Search, start: Moved, leastScale: number): Job<Moved> {
	const { limits } = search;
	let best = start;
	let least = limits.look(best);
	let step = FIRST_STEP;
	for (let k = 0; k < MOST_STEPS && step > NO_GAIN && least < 0; k++) {
		yield { stage: "placing the figure anew", share: k / MOST_STEPS / 2 };
		limits.look(best);
		const next = solveStep(search, best, step, "slack", leastScale);
		if (next === null) break;
		const slack = limits.look(next);
		if (slack > least + NO_GAIN / 10) {
			if (slack - least < NO_GAIN) step /= 4;
			best = next;
			least = slack;
		} else step /= 4;
	}
	return best;
}

/** The least reduction, or the least motion, that leaves nothing broken; `start` leaves nothing broken. */
function* smallest(search: Search, start: Moved, what: "scale" | "motion", leastScale: number): Job<Moved> {
	const { limits } = search;
	let best = start;
	let least = worth(search, best, what);
	let step = FIRST_STEP;
	for (let k = 0; k < MOST_STEPS && step > NO_GAIN; k++) {
		yield { stage: "placing the figure anew", share: 0.5 + k / MOST_STEPS / 2 };
		limits.look(best);
		let next = solveStep(search, best, step, what, leastScale);
		if (next !== null && limits.look(next) < -KEPT / 2) {
			// The turn bends a little away from its tangent: back on the limits by one more step.
			next = solveStep(search, next, step / 4, "slack", leastScale);
		}
		const value = next && limits.look(next) >= -KEPT ? worth(search, next, what) : Number.POSITIVE_INFINITY;
		if (next !== null && value < least - NO_GAIN) {
			best = next;
			least = value;
		} else step /= 4;
	}
	return best;
}

/** What is to be small: how far short of its size the figure is, or the farthest that a corner is carried, axis by axis, mm. */
function worth(search: Search, moved: Moved, what: "scale" | "motion"): number {
	if (what === "scale") return (1 - moved.scale) * search.limits.size;
	const carried = cornersOf(search).map((corner) => displacement(search, moved, corner));
	return [0, 1, 2].reduce((sum, axis) => sum + Math.max(...carried.map((d) => Math.abs(d[axis]))), 0);
}

/** Corners of a cube about the targets' middle that holds them all. */
function cornersOf({ limits: { middle, size } }: Search): Vec3[] {
	const signs = [-1, 1];
	return signs.flatMap((x) =>
		signs.flatMap((y) => signs.map((z) => add(middle, scale([x * size, y * size, z * size], 0.6)))),
	);
}

const displacement = ({ limits, from }: Search, moved: Moved, at: Vec3): Vec3 =>
	sub(carry(limits, moved, at), carry(limits, { ...from, scale: moved.scale }, at));

/** One linear programme about `about`, whose slacks and slopes `limits` holds; null when it has no answer. */
function solveStep(
	search: Search,
	about: Moved,
	step: number,
	what: "slack" | "scale" | "motion",
	leastScale: number,
): Moved | null {
	const { limits } = search;
	const corners = cornersOf(search);
	// After the motion itself: the slack, or how far the corners are carried along x, y and z.
	const n = UNKNOWNS + 3;
	const count = limits.holds.length + 6 * corners.length * (what === "motion" ? 2 : 1);
	const rows = new Float64Array(n * count);
	const bounds = new Float64Array(count);
	let r = 0;
	limits.holds.forEach((_, k) => {
		for (let j = 0; j < UNKNOWNS; j++) rows[n * r + j] = 0 - limits.slope[UNKNOWNS * k + j];
		rows[n * r + UNKNOWNS] = what === "slack" ? 1 : 0;
		bounds[r++] = limits.slack[k];
	});
	for (const corner of corners) {
		const now = displacement(search, about, corner);
		const arm = scale(turn(about.rotation, sub(corner, limits.middle)), about.scale / limits.size);
		const turns = [
			[0, arm[2], 0 - arm[1]],
			[0 - arm[2], 0, arm[0]],
			[arm[1], 0 - arm[0], 0],
		];
		for (let axis = 0; axis < 3; axis++)
			for (const sign of [1, -1]) {
				const put = (measured: number, bound: number): void => {
					rows[n * r + axis] = sign;
					for (let j = 0; j < 3; j++) rows[n * r + 3 + j] = sign * turns[axis][j];
					rows[n * r + UNKNOWNS + axis] = measured;
					bounds[r++] = bound - sign * now[axis];
				};
				put(0, search.farthest);
				if (what === "motion") put(-1, 0);
			}
	}
	const shrink = (leastScale - about.scale) * limits.size;
	const grow = (1 - about.scale) * limits.size;
	const room = 4 * search.farthest + Math.max(0, ...limits.slack.map(Math.abs)) + limits.size;
	const fixed = what === "motion";
	const last = what === "slack" ? [1, 0, 0] : what === "motion" ? [-1, -1, -1] : [0, 0, 0];
	const solver = new LinearSolver(n);
	const solved = solver.solve({
		cost: [0, 0, 0, 0, 0, 0, what === "scale" ? 1 : 0, ...last],
		low: [...new Array<number>(6).fill(-step), fixed ? 0 : Math.max(-step, shrink), -room, 0, 0],
		high: [
			...new Array<number>(6).fill(step),
			fixed ? 0 : Math.min(step, grow),
			what === "slack" ? 0 : room,
			room,
			room,
		],
		rows,
		limits: bounds,
		rowCount: r,
	});
	if (!solved || !solver.solved) return null;
	const { y } = solver;
	const half = 0.5 / limits.size;
	const turned = rotationFromQuaternion([y[3] * half, y[4] * half, y[5] * half, 1]);
	return {
		rotation: multiply(turned, about.rotation),
		shift: add(about.shift, [y[0], y[1], y[2]]),
		scale: Math.min(1, Math.max(leastScale, about.scale + y[6] / limits.size)),
	};
}
