/**
 * The best turn near a given one: linear programmes over small turns, each within a trusted angle.
 *
 * Near a turn every reach of the figure is the greatest of a few linear functions of a small rotation vector ω (one for
 * each corner that may touch), so the best small turn solves a linear programme; the answer is kept when the true value has
 * risen, and the trusted angle shrinks when it has not. Where as many corners touch as there are freedoms this closes in as
 * fast as Newton's method. Of the corners only those are taken into the programme that its answers would leave out.
 */
import { cross, dot, rotationFromQuaternion, turn as turned } from "../vector.ts";
import { LinearSolver } from "./linearProgramme.ts";
import { broughtWithin, cosineAt, keepsLimits, type Quaternion, type ReadyLimit, turnedOn } from "./turning.ts";

/** First trusted angle and the one at which nothing more is to be had, radians. */
const FIRST_ANGLE = 0.08;
const LAST_ANGLE = 1e-12;
const MAX_STEPS = 60;
/** Rounds in which corners that an answer would leave out are taken in; two or three are usual. */
const MAX_ROUNDS = 40;

/** A corner that stands out by no more than this share of the figure's size is not missed in a programme. */
export const MISSING = 1e-11;

/** Rows of a linear programme that is made anew at every step, in memory that is kept. */
export class RowList {
	rows: Float64Array;
	limits = new Float64Array(64);
	count = 0;
	private readonly unknowns: number;

	constructor(unknowns: number) {
		this.unknowns = unknowns;
		this.rows = new Float64Array(64 * unknowns);
	}

	/** Adds a row of zeros and returns where its coefficients start. */
	add(limit: number): number {
		if (this.count === this.limits.length) {
			const rows = new Float64Array(2 * this.rows.length);
			rows.set(this.rows);
			this.rows = rows;
			const limits = new Float64Array(2 * this.limits.length);
			limits.set(this.limits);
			this.limits = limits;
		}
		const at = this.unknowns * this.count;
		this.rows.fill(0, at, at + this.unknowns);
		this.limits[this.count++] = limit;
		return at;
	}
}

/** What is polished. The first three unknowns of its programme are ω, a turn in the stone frame on top of the present one. */
export interface Polishable {
	/** low and high of ω are set by the polisher. */
	readonly cost: number[];
	readonly low: number[];
	readonly high: number[];
	readonly rows: RowList;
	/** Takes a turn as the present one and returns its value. */
	turnTo(turn: Quaternion): number;
	/** Adds the rows that hold at any turn, and those of the corners that touch at the present one; renews the cost. */
	linearise(): void;
	/** Adds the rows of corners that an answer y would leave out of the stone; false when there are none. */
	addMissing(y: Float64Array): boolean;
}

export function polishTurn(
	subject: Polishable,
	start: Quaternion,
	upright: boolean,
	limits: readonly ReadyLimit[],
): { turn: Quaternion; value: number } {
	const { cost, low, high, rows } = subject;
	const solver = new LinearSolver(cost.length);
	/** Upright, a limit cannot be met by tipping the figure; otherwise it is turned the little that is missing. */
	const within = (q: Quaternion): Quaternion =>
		upright ? q : limits.reduce((turn, limit) => broughtWithin(limit, turn), q);
	const valueAt = (q: Quaternion): number => {
		const value = subject.turnTo(q);
		return keepsLimits(limits, rotationFromQuaternion(q)) ? value : -Infinity;
	};
	let turn = within(turnedOn(start, [0, 0, 0, 1]));
	let value = valueAt(turn);
	let angle = FIRST_ANGLE;
	for (let step = 0; step < MAX_STEPS && angle > LAST_ANGLE; step++) {
		rows.count = 0;
		subject.linearise();
		addLimitRows(rows, limits, turn);
		for (let k = 0; k < 3; k++) {
			high[k] = upright && k < 2 ? 0 : angle;
			low[k] = -high[k];
		}
		let answered = false;
		for (let round = 0; round < MAX_ROUNDS; round++) {
			const programme = { cost, low, high, rows: rows.rows, limits: rows.limits, rowCount: rows.count };
			answered = solver.solve(programme, round > 0 ? solver.basis.slice() : undefined);
			if (!answered || !subject.addMissing(solver.y)) break;
		}
		if (!answered) break;
		const { y } = solver;
		// Upright, the first two are a rounding error of the programme and must not tip the figure.
		const small: Quaternion = upright ? [0, 0, y[2] / 2, 1] : [y[0] / 2, y[1] / 2, y[2] / 2, 1];
		const largest = Math.max(Math.abs(y[0]), Math.abs(y[1]), Math.abs(y[2]));
		const next = within(turnedOn(turn, small));
		const reached = valueAt(next);
		if (reached > value) {
			turn = next;
			value = reached;
			// A step well inside the trusted angle has found a corner of the programme: close in on it.
			if (largest < angle / 4) angle = Math.max(4 * largest, angle / 64);
		} else {
			subject.turnTo(turn);
			angle = Math.min(angle, Math.max(largest, angle / 64)) / 4;
		}
	}
	return { turn, value };
}

/** The limits on directions, for small turns: s · (m + ω × m) = s · m + ω · (m × s) stays over the cosine. */
function addLimitRows(rows: RowList, limits: readonly ReadyLimit[], turn: Quaternion): void {
	const rotation = rotationFromQuaternion(turn);
	for (const limit of limits) {
		if (limit.cos <= -1) continue;
		const m = turned(rotation, limit.model);
		const sign = limit.eitherWay && dot(m, limit.stone) < 0 ? -1 : 1;
		const w = cross(m, limit.stone);
		const at = rows.add(Math.max(0, cosineAt(limit, rotation) - limit.cos));
		for (let k = 0; k < 3; k++) rows.rows[at + k] = -sign * w[k];
	}
}
