/**
 * The best turn of the figure in a stone, with a proof that no turn is better by more than the tolerance.
 *
 * Branch and bound over cubes of Rodrigues vectors (axis × tangent of half the angle; handbook 10). The cube |gᵢ| ≤ 1 holds
 * every turn up to half turns about the stone's axes; each such half turn is a chart of its own, unless the stone looks the
 * same after it.
 *
 * A cell of half edge e around g holds no turn further from that of g than the angle r with sin(r/2) = ρ/√(1 + |g|²),
 * ρ = √3·e: the half angle between g and g + δ has tangent |δ + g×δ| / (1 + g² + g·δ), whose greatest value over |δ| ≤ ρ is
 * ρ/√(1 + g² − ρ²), at g·δ = −ρ². What a cell can reach at best is for the judge to say.
 */
import type { Job } from "../job.ts";
import { Refusal } from "../refusal.ts";
import { type Mat3, rotationFromQuaternion } from "../vector.ts";
import { CellHeap } from "./cellHeap.ts";
import { keepsLimits, mayKeep, type Quaternion, type ReadyLimit, turnedOn } from "./turning.ts";

/** What the search asks about turns. */
export interface TurnJudge {
	/** How many numbers a cell hands on to its parts. */
	readonly hintCount: number;
	/** What no turn within the angle of the one judged last can exceed. */
	bound: number;
	/** Value of a turn (row-major); sets `bound` for all turns within the angle r of it. `hints` are read and renewed. */
	judge(rotation: Float64Array, cosR: number, sinR: number, hints: Int32Array): number;
	/** The best turn near another, and its value. */
	polish(start: Quaternion): { turn: Quaternion; value: number };
}

/** The turns to search through. */
export interface TurnDomain {
	/** Only turns about the vertical. */
	readonly upright: boolean;
	/** Greatest |gᵢ| about each axis. */
	readonly reach: readonly [number, number, number];
	/** Half turns on top, in the stone frame; the first is none. */
	readonly charts: readonly Quaternion[];
	readonly limits: readonly ReadyLimit[];
}

export interface TurnSearch {
	readonly rotation: Mat3;
	/** What `rotation` reaches. */
	readonly value: number;
	/** What no allowed turn exceeds. */
	readonly bound: number;
	/** Cells looked at: the same everywhere for the same question. */
	readonly cells: number;
}

export interface SearchLimits {
	/** Stop when bound − value is no more than this, in the unit of the value. */
	readonly tolerance: number;
	/** As a share of the value: the greater of the two tolerances counts. */
	readonly relativeTolerance?: number;
	/** The sign of the value matters (fits or not): while it could be either, go on down to a hundredth of the tolerance. */
	readonly decideSign?: boolean;
	/** Give up with the best so far and its honest bound after so many cells. */
	readonly maxCells?: number;
	/** Asked between slices: give up likewise. A clock may stand behind it, so the same question may then be answered differently. */
	readonly enough?: () => boolean;
}

export const NO_TURN: Quaternion = [0, 0, 0, 1];
/** Half turns about the stone's axes. */
export const HALF_TURNS: readonly Quaternion[] = [NO_TURN, [1, 0, 0, 0], [0, 1, 0, 0], [0, 0, 1, 0]];
export const HALF_TURNS_UPRIGHT: readonly Quaternion[] = [NO_TURN, [0, 0, 1, 0]];
/** tan 22.5°, rounded up. */
export const TAN_22_5 = 0.4142135623730951;

const MAX_CELLS = 1_000_000;
/** First cells along an edge of the cube of turns, and along the line of turns about the vertical. */
const FIRST_FREE = 8;
const FIRST_UPRIGHT = 32;
/** Polished before the proof starts; whatever better the proof comes across is polished too. */
const FIRST_POLISHED = 8;
/** Cells between two yields, some 10 ms. */
const SLICE = 1500;
const STAGE = "turning the figure in the stone";

/** The best turn in a domain, with its bound. Refuses limits on directions when no turn was found that keeps them all. */
export function* searchTurns(judge: TurnJudge, domain: TurnDomain, search: SearchLimits): Job<TurnSearch> {
	const { upright, charts, limits, reach } = domain;
	const maxCells = search.maxCells ?? MAX_CELLS;
	const heap = new CellHeap(judge.hintCount);
	/** Greatest bound among the cells that were put aside as good enough. */
	let closed = -Infinity;
	let cells = 0;
	let best = -Infinity;
	let bestTurn: Quaternion = NO_TURN;
	/** Whether nothing under this bound is worth looking for any more. */
	const goodEnough = (bound: number): boolean => {
		if (best === -Infinity) return bound === -Infinity;
		const tolerance = Math.max(search.tolerance, (search.relativeTolerance ?? 0) * Math.abs(best));
		const undecided = search.decideSign === true && best < 0 && bound >= 0;
		return bound - best <= (undecided ? tolerance / 100 : tolerance);
	};
	const take = (turn: Quaternion, value: number): void => {
		if (value > best) {
			best = value;
			bestTurn = turn;
		}
	};
	const polish = (turn: Quaternion): void => {
		const polished = judge.polish(turn);
		take(polished.turn, polished.value);
	};

	const hints = new Int32Array(judge.hintCount).fill(-1);
	const rotation = new Float64Array(9);
	/** Judges a cell and keeps it when it may hold something better; its value, −∞ when it keeps no limit. */
	const open = (chart: number, x: number, y: number, z: number, half: number, above: number): number => {
		cells++;
		const s = 1 / (1 + x * x + y * y + z * z);
		const flip = charts[chart];
		const fx = flip[0];
		const fy = flip[1];
		const fz = flip[2];
		// A half turn about one axis changes the sign of the rows of the other two.
		const s0 = fy + fz > 0 ? -s : s;
		const s1 = fx + fz > 0 ? -s : s;
		const s2 = fx + fy > 0 ? -s : s;
		rotation[0] = (1 + x * x - y * y - z * z) * s0;
		rotation[1] = 2 * (x * y - z) * s0;
		rotation[2] = 2 * (x * z + y) * s0;
		rotation[3] = 2 * (x * y + z) * s1;
		rotation[4] = (1 - x * x + y * y - z * z) * s1;
		rotation[5] = 2 * (y * z - x) * s1;
		rotation[6] = 2 * (x * z - y) * s2;
		rotation[7] = 2 * (y * z + x) * s2;
		rotation[8] = (1 - x * x - y * y + z * z) * s2;
		const sinSquared = (upright ? 1 : 3) * half * half * s;
		// Past r = 90° a judge need not know anything.
		const sinR = sinSquared < 0.5 ? 2 * Math.sqrt(sinSquared * (1 - sinSquared)) : 1;
		const cosR = sinSquared < 0.5 ? 1 - 2 * sinSquared : 0;
		for (const limit of limits) if (sinSquared < 0.5 && !mayKeep(limit, rotation, cosR, sinR)) return -Infinity;
		const value = judge.judge(rotation, cosR, sinR, hints);
		const bound = sinSquared < 0.5 ? Math.min(above, judge.bound) : above;
		const kept = keepsLimits(limits, rotation);
		if (above < Infinity && (kept ? value > best : best === -Infinity)) polish(turnedOn([x, y, z, 1], charts[chart]));
		if (kept) take(turnedOn([x, y, z, 1], charts[chart]), value);
		if (goodEnough(bound)) closed = Math.max(closed, bound);
		else heap.add(x, y, z, half, chart, bound, hints);
		return value;
	};

	// First cells: equal cubes over the turns that differ.
	const half = upright ? reach[2] / FIRST_UPRIGHT : 1 / FIRST_FREE;
	const steps = reach.map((r, k) => (upright ? (k === 2 ? FIRST_UPRIGHT : 1) : Math.ceil(r / half - 1e-9)));
	const along = (k: number, i: number): number => (upright && k < 2 ? 0 : (2 * i + 1 - steps[k]) * half);
	const starts: { value: number; turn: Quaternion }[] = [];
	for (let chart = 0; chart < charts.length; chart++) {
		for (let i = 0; i < steps[0]; i++) {
			for (let j = 0; j < steps[1]; j++) {
				for (let k = 0; k < steps[2]; k++) {
					const [x, y, z] = [along(0, i), along(1, j), along(2, k)];
					const value = open(chart, x, y, z, half, Infinity);
					if (value > -Infinity) starts.push({ value, turn: turnedOn([x, y, z, 1], charts[chart]) });
				}
			}
			yield { stage: STAGE, share: 0 };
		}
	}
	// Array sort is stable, so equal values keep their order.
	starts.sort((a, b) => b.value - a.value);
	for (const start of starts.slice(0, FIRST_POLISHED)) {
		polish(start.turn);
		yield { stage: STAGE, share: 0 };
	}

	const firstGap = Math.max(heap.top - best, 1e-300);
	let share = 0;
	let nextYield = cells + SLICE;
	const parts = upright ? 2 : 8;
	while (heap.size > 0) {
		const bound = heap.top;
		if (goodEnough(bound) || cells >= maxCells) break;
		const cell = heap.pop();
		const x = heap.geometry[4 * cell];
		const y = heap.geometry[4 * cell + 1];
		const z = heap.geometry[4 * cell + 2];
		const quarter = heap.geometry[4 * cell + 3] / 2;
		for (let part = 0; part < parts; part++) {
			for (let k = 0; k < hints.length; k++) hints[k] = heap.hints[hints.length * cell + k];
			const dz = upright ? part : part & 4;
			open(
				heap.chart[cell],
				upright ? 0 : part & 1 ? x + quarter : x - quarter,
				upright ? 0 : part & 2 ? y + quarter : y - quarter,
				dz ? z + quarter : z - quarter,
				quarter,
				bound,
			);
		}
		heap.release(cell);
		if (cells >= nextYield) {
			nextYield = cells + SLICE;
			if (best > -Infinity && search.enough?.()) break;
			if (best > -Infinity) share = Math.max(share, Math.min(1, 1 - (bound - best - search.tolerance) / firstGap));
			yield { stage: STAGE, share };
		}
	}
	if (best === -Infinity) throw new Refusal("stone.limitsContradict", { limits: limits.length });
	return {
		rotation: rotationFromQuaternion(bestTurn),
		value: best,
		bound: Math.max(best, closed, heap.top),
		cells,
	};
}
