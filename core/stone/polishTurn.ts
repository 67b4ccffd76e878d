/**
 * The best turn near a given one: linear programmes over small turns, each within a trusted angle.
 *
 * Near a turn every width is the greatest of a few linear functions of a small rotation vector ω (one for each pair of
 * corners that may touch), so the best small turn solves a linear programme; the answer is kept when the true value has
 * risen, and the trusted angle shrinks when it has not. At a turn where as many corners touch as there are freedoms this
 * closes in as fast as Newton's method.
 */
import { rotationFromQuaternion } from "../vector.ts";
import { aimValue, type BoxAim } from "./boxAim.ts";
import { solveLinearProgramme } from "./linearProgramme.ts";
import type { Body } from "./support.ts";
import type { Quaternion } from "./turnSearch.ts";

/** First trusted angle and the one at which nothing more is to be had, radians. */
const FIRST_ANGLE = 0.08;
const LAST_ANGLE = 1e-12;
const MAX_STEPS = 60;

/** a, then b: the quaternion of the rotation b·a, of unit length. */
function then(a: Quaternion, b: Quaternion): Quaternion {
	const x = b[3] * a[0] + b[0] * a[3] + b[1] * a[2] - b[2] * a[1];
	const y = b[3] * a[1] - b[0] * a[2] + b[1] * a[3] + b[2] * a[0];
	const z = b[3] * a[2] + b[0] * a[1] - b[1] * a[0] + b[2] * a[3];
	const w = b[3] * a[3] - b[0] * a[0] - b[1] * a[1] - b[2] * a[2];
	const s = 1 / Math.sqrt(x * x + y * y + z * z + w * w);
	return [x * s, y * s, z * s, w * s];
}

/** Unknowns of the programme: ω, then the high and the low side of the figure along each box axis, then the aim itself. */
const OMEGA = 0;
const HIGH = 3;
const LOW = 6;
const AIM = 9;
const UNKNOWNS = 10;

export function polishTurn(
	body: Body,
	aim: BoxAim,
	start: Quaternion,
	upright: boolean,
): { turn: Quaternion; value: number } {
	const { corners, radius } = body;
	const count = corners.length / 3;
	const placed = new Float64Array(corners.length);
	const low = [0, 0, 0];
	const high = [0, 0, 0];
	/** Turns the corners into `placed` and returns the aim's value. */
	const turnTo = (turn: Quaternion): number => {
		const r = rotationFromQuaternion(turn);
		low.fill(Infinity);
		high.fill(-Infinity);
		for (let i = 0; i < 3; i++) {
			const dx = r[3 * i];
			const dy = r[3 * i + 1];
			const dz = r[3 * i + 2];
			let least = Infinity;
			let most = -Infinity;
			for (let k = 0; k < 3 * count; k += 3) {
				const s = corners[k] * dx + corners[k + 1] * dy + corners[k + 2] * dz;
				placed[k + i] = s;
				if (s < least) least = s;
				if (s > most) most = s;
			}
			low[i] = least;
			high[i] = most;
		}
		return aimValue(aim, high[0] - low[0], high[1] - low[1], high[2] - low[2]);
	};

	let turn = then(start, [0, 0, 0, 1]);
	let value = turnTo(turn);
	let angle = FIRST_ANGLE;
	let rows = new Float64Array(UNKNOWNS * 256);
	let limits = new Float64Array(256);
	for (let step = 0; step < MAX_STEPS && angle > LAST_ANGLE; step++) {
		let rowCount = 0;
		const addRow = (limit: number): number => {
			if (rowCount === limits.length) {
				const widerRows = new Float64Array(2 * rows.length);
				widerRows.set(rows);
				rows = widerRows;
				const widerLimits = new Float64Array(2 * limits.length);
				widerLimits.set(limits);
				limits = widerLimits;
			}
			rows.fill(0, UNKNOWNS * rowCount, UNKNOWNS * (rowCount + 1));
			limits[rowCount] = limit;
			return UNKNOWNS * rowCount++;
		};
		// A corner that lies deeper than this cannot come to touch within the trusted angle, or nearly so.
		const depth = 2.5 * angle * radius;
		for (let i = 0; i < 3; i++) {
			const j = (i + 1) % 3;
			const k = (i + 2) % 3;
			for (let c = 0; c < 3 * count; c += 3) {
				const s = placed[c + i];
				// (ω × q)_i = ω_j q_k − ω_k q_j
				if (s >= high[i] - depth) {
					const at = addRow(-s);
					rows[at + OMEGA + j] = placed[c + k];
					rows[at + OMEGA + k] = -placed[c + j];
					rows[at + HIGH + i] = -1;
				}
				if (s <= low[i] + depth) {
					const at = addRow(s);
					rows[at + OMEGA + j] = -placed[c + k];
					rows[at + OMEGA + k] = placed[c + j];
					rows[at + LOW + i] = 1;
				}
			}
		}
		const cost = new Array<number>(UNKNOWNS).fill(0);
		for (let i = 0; i < 3; i++) {
			if (aim.kind === "volume") {
				const weight = radius / (high[i] - low[i] + aim.extra[i]);
				cost[HIGH + i] = -weight;
				cost[LOW + i] = weight;
			} else {
				// clearance g: 2 g + high − low ≤ room;   scale as its inverse τ, −τ the unknown: high − low + (−τ)·room ≤ 0
				const at = addRow(aim.kind === "clearance" ? aim.room[i] : 0);
				rows[at + HIGH + i] = 1;
				rows[at + LOW + i] = -1;
				rows[at + AIM] = aim.kind === "clearance" ? 2 : aim.room[i];
			}
		}
		if (aim.kind !== "volume") cost[AIM] = 1;
		const reach = 4 * radius;
		const most = aim.kind === "clearance" ? reach + Math.max(...aim.room.map(Math.abs)) : 1e3;
		const free = upright ? 0 : angle;
		const solution = solveLinearProgramme({
			cost,
			low: [-free, -free, -angle, -reach, -reach, -reach, -reach, -reach, -reach, -most],
			high: [free, free, angle, reach, reach, reach, reach, reach, reach, most],
			rows,
			limits,
			rowCount,
		});
		if (solution === null) break;
		const { y } = solution;
		// Upright, the first two are a rounding error of the programme and must not tip the figure.
		const next = then(turn, upright ? [0, 0, y[2] / 2, 1] : [y[0] / 2, y[1] / 2, y[2] / 2, 1]);
		const reached = turnTo(next);
		const largest = Math.max(Math.abs(y[0]), Math.abs(y[1]), Math.abs(y[2]));
		if (reached > value) {
			turn = next;
			value = reached;
			// A step well inside the trusted angle has found a corner of the programme: close in on it.
			if (largest < angle / 4) angle = Math.max(4 * largest, angle / 64);
		} else {
			turnTo(turn);
			angle = Math.min(angle, Math.max(largest, angle / 64)) / 4;
		}
	}
	return { turn, value };
}
