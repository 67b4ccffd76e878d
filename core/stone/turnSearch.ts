/**
 * The best turn of the figure in a box, with a proof that no turn is better by more than the tolerance.
 *
 * Branch and bound over cubes of Rodrigues vectors (axis × tangent of half the angle; handbook 10). A box looks the same
 * after half a turn about each of its axes, so the cube |gᵢ| ≤ 1 holds every turn that differs; where two sides are alike
 * |gₖ| ≤ tan 22.5° is enough for the third.
 *
 * Bound of a cell of half edge e around g: its turns are no further from the turn of g than the angle r with
 * sin(r/2) = ρ/√(1 + |g|²), ρ = √3·e. (The half angle between g and g + δ has tangent |δ + g×δ| / (1 + g² + g·δ); its
 * greatest value over |δ| ≤ ρ is ρ/√(1 + g² − ρ²), at g·δ = −ρ².) The two corners that are furthest apart along a box axis
 * at g keep at least |u|·cos(θ + r) between them, θ being the angle of their difference u to the axis, and the width is
 * never less than that.
 */
import type { Job } from "../job.ts";
import { type Mat3, rotationFromQuaternion } from "../vector.ts";
import { aimValue, alike, type BoxAim } from "./boxAim.ts";
import { polishTurn } from "./polishTurn.ts";
import { type Body, furthestCorner } from "./support.ts";

export type Quaternion = readonly [number, number, number, number];

/** Which turns are allowed. */
export type Turning =
	| { readonly kind: "free" }
	/** Only about the vertical (z of model and stone). */
	| { readonly kind: "upright" }
	| { readonly kind: "fixed"; readonly rotation: Mat3 };

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
	/** Stop when bound − value is no more than this, in the unit of the aim. */
	readonly tolerance: number;
	/** As a share of the value: the greater of the two tolerances counts. */
	readonly relativeTolerance?: number;
	/** The sign of the value matters (fits or not): go on while the answer could be either, down to a hundredth of the tolerance. */
	readonly decideSign?: boolean;
	/** Give up with the best so far and its honest bound after so many cells. */
	readonly maxCells?: number;
}

const MAX_CELLS = 1_000_000;
/** tan 22.5°, rounded up. */
const TAN_22_5 = 0.4142135623730951;
/** First cells along an edge of the cube of turns, and along the line of turns about the vertical. */
const FIRST_FREE = 8;
const FIRST_UPRIGHT = 32;
/** Polished before the proof starts. */
const FIRST_POLISHED = 6;
/** Cells between two yields, 5 to 10 ms. */
const SLICE = 2000;
/** Widths are worked out to some 1e-15 of the size; bounds are kept this share of it on the safe side. */
const ROUNDING = 1e-12;

/** How wide the turned figure is along each axis of the stone. */
export function widthsAt(body: Body, rotation: Mat3): [number, number, number] {
	const { corners } = body;
	const widths: [number, number, number] = [0, 0, 0];
	for (let i = 0; i < 3; i++) {
		const dx = rotation[3 * i];
		const dy = rotation[3 * i + 1];
		const dz = rotation[3 * i + 2];
		let low = Infinity;
		let high = -Infinity;
		for (let k = 0; k < corners.length; k += 3) {
			const s = corners[k] * dx + corners[k + 1] * dy + corners[k + 2] * dz;
			if (s < low) low = s;
			if (s > high) high = s;
		}
		widths[i] = high - low;
	}
	return widths;
}

/** Cells kept for splitting, the one with the greatest bound first; ties go to the older one. */
class CellHeap {
	/** g and half edge. */
	geometry = new Float64Array(4 * 1024);
	bound = new Float64Array(1024);
	/** Corners that were furthest along ±each axis, from which the children climb. */
	supports = new Int32Array(6 * 1024);
	order = new Int32Array(1024);
	age = new Float64Array(1024);
	size = 0;
	private readonly free: number[] = [];
	private made = 0;
	private born = 0;

	/** A slot to fill, then `push`. */
	slot(): number {
		const recycled = this.free.pop();
		if (recycled !== undefined) return recycled;
		if (this.made === this.bound.length) {
			const grow = <T extends Float64Array | Int32Array>(old: T, wider: T): T => {
				wider.set(old);
				return wider;
			};
			const room = 2 * this.made;
			this.geometry = grow(this.geometry, new Float64Array(4 * room));
			this.bound = grow(this.bound, new Float64Array(room));
			this.supports = grow(this.supports, new Int32Array(6 * room));
			this.order = grow(this.order, new Int32Array(room));
			this.age = grow(this.age, new Float64Array(room));
		}
		return this.made++;
	}

	private before(a: number, b: number): boolean {
		return this.bound[a] > this.bound[b] || (this.bound[a] === this.bound[b] && this.age[a] < this.age[b]);
	}

	push(cell: number): void {
		this.age[cell] = this.born++;
		const { order } = this;
		let i = this.size++;
		while (i > 0) {
			const parent = (i - 1) >> 1;
			if (!this.before(cell, order[parent])) break;
			order[i] = order[parent];
			i = parent;
		}
		order[i] = cell;
	}

	/** Takes the first cell out; its slot stays readable until `release`. */
	pop(): number {
		const { order } = this;
		const top = order[0];
		const last = order[--this.size];
		let i = 0;
		for (;;) {
			let child = 2 * i + 1;
			if (child >= this.size) break;
			if (child + 1 < this.size && this.before(order[child + 1], order[child])) child++;
			if (!this.before(order[child], last)) break;
			order[i] = order[child];
			i = child;
		}
		order[i] = last;
		return top;
	}

	release(cell: number): void {
		this.free.push(cell);
	}
}

/** The best turn of a body for a box aim, with its bound. */
export function* searchTurns(body: Body, turning: Turning, aim: BoxAim, limits: SearchLimits): Job<TurnSearch> {
	if (turning.kind === "fixed") {
		const [w0, w1, w2] = widthsAt(body, turning.rotation);
		const value = aimValue(aim, w0, w1, w2);
		return { rotation: turning.rotation, value, bound: value, cells: 0 };
	}
	const upright = turning.kind === "upright";
	const maxCells = limits.maxCells ?? MAX_CELLS;
	const { corners } = body;
	const slack = ROUNDING * body.radius;
	const heap = new CellHeap();
	/** Greatest bound among the cells that were put aside as good enough. */
	let closed = -Infinity;
	let cells = 0;
	let best = -Infinity;
	let bestTurn: Quaternion = [0, 0, 0, 1];
	/** Whether nothing under this bound is worth looking for any more. */
	const goodEnough = (bound: number): boolean => {
		const tolerance = Math.max(limits.tolerance, (limits.relativeTolerance ?? 0) * Math.abs(best));
		const undecided = limits.decideSign === true && best < 0 && bound >= 0;
		return bound - best <= (undecided ? tolerance / 100 : tolerance);
	};

	const take = (turn: Quaternion, value: number): void => {
		if (value > best) {
			best = value;
			bestTurn = turn;
		}
	};
	const polish = (turn: Quaternion): void => {
		const polished = polishTurn(body, aim, turn, upright);
		take(polished.turn, polished.value);
	};

	const support = new Int32Array(6);
	let cellBound = 0;
	/** Value at g; leaves the cell's bound in `cellBound` and the supporting corners in `support` (which it starts from). */
	const judge = (x: number, y: number, z: number, half: number): number => {
		cells++;
		const s = 1 / (1 + x * x + y * y + z * z);
		const sinSquared = (upright ? 1 : 3) * half * half * s;
		// Past 45° of half angle nothing is known; widths are then only known not to be negative.
		const sinR = sinSquared < 0.5 ? 2 * Math.sqrt(sinSquared * (1 - sinSquared)) : 1;
		const cosR = sinSquared < 0.5 ? 1 - 2 * sinSquared : 0;
		const wide = [0, 0, 0];
		const least = [0, 0, 0];
		for (let i = 0; i < 3; i++) {
			let dx: number;
			let dy: number;
			let dz: number;
			if (i === 0) {
				dx = (1 + x * x - y * y - z * z) * s;
				dy = 2 * (x * y - z) * s;
				dz = 2 * (x * z + y) * s;
			} else if (i === 1) {
				dx = 2 * (x * y + z) * s;
				dy = (1 - x * x + y * y - z * z) * s;
				dz = 2 * (y * z - x) * s;
			} else {
				dx = 2 * (x * z - y) * s;
				dy = 2 * (y * z + x) * s;
				dz = (1 - x * x - y * y + z * z) * s;
			}
			const a = furthestCorner(body, support[2 * i], dx, dy, dz);
			const b = furthestCorner(body, support[2 * i + 1], -dx, -dy, -dz);
			support[2 * i] = a;
			support[2 * i + 1] = b;
			const ux = corners[3 * a] - corners[3 * b];
			const uy = corners[3 * a + 1] - corners[3 * b + 1];
			const uz = corners[3 * a + 2] - corners[3 * b + 2];
			const w = ux * dx + uy * dy + uz * dz;
			// |u|·cos(θ + r) = w cos r − |u| sin θ sin r, and nothing is gained past θ + r = 90°.
			const across = Math.sqrt(Math.max(0, ux * ux + uy * uy + uz * uz - w * w));
			const kept = upright && i === 2 ? w : w * cosR - across * sinR;
			wide[i] = w;
			least[i] = Math.max(0, kept - slack);
		}
		cellBound = aimValue(aim, least[0], least[1], least[2]);
		return aimValue(aim, wide[0], wide[1], wide[2]);
	};
	/** Judges a cell and keeps it when it may hold something better. */
	const open = (x: number, y: number, z: number, half: number, above: number): number => {
		const value = judge(x, y, z, half);
		const bound = Math.min(above, cellBound);
		const turn: Quaternion = [x, y, z, 1];
		if (value > best && above < Infinity) polish(turn);
		take(turn, value);
		if (goodEnough(bound)) {
			closed = Math.max(closed, bound);
			return value;
		}
		const cell = heap.slot();
		heap.geometry[4 * cell] = x;
		heap.geometry[4 * cell + 1] = y;
		heap.geometry[4 * cell + 2] = z;
		heap.geometry[4 * cell + 3] = half;
		heap.bound[cell] = bound;
		heap.supports.set(support, 6 * cell);
		heap.push(cell);
		return value;
	};

	// First cells: equal cubes over the turns that differ.
	const limit = [0, 1, 2].map((k) => (alike(aim, (k + 1) % 3, (k + 2) % 3) ? TAN_22_5 : 1));
	const half = upright ? limit[2] / FIRST_UPRIGHT : 1 / FIRST_FREE;
	const steps = limit.map((l, k) => (upright ? (k === 2 ? FIRST_UPRIGHT : 1) : Math.ceil(l / half - 1e-9)));
	const starts: { value: number; turn: Quaternion }[] = [];
	const place = (k: number, i: number): number => (upright && k < 2 ? 0 : (2 * i + 1 - steps[k]) * half);
	for (let i = 0; i < steps[0]; i++) {
		for (let j = 0; j < steps[1]; j++) {
			for (let k = 0; k < steps[2]; k++) {
				const turn: Quaternion = [place(0, i), place(1, j), place(2, k), 1];
				starts.push({ value: open(turn[0], turn[1], turn[2], half, Infinity), turn });
			}
		}
	}
	yield { stage: "turning the figure in the stone", share: 0 };
	// Array sort is stable, so equal values keep their order.
	starts.sort((a, b) => b.value - a.value);
	for (const start of starts.slice(0, FIRST_POLISHED)) {
		polish(start.turn);
		yield { stage: "turning the figure in the stone", share: 0 };
	}

	const firstGap = Math.max(heap.size > 0 ? heap.bound[heap.order[0]] - best : 0, 1e-300);
	let share = 0;
	let nextYield = cells + SLICE;
	while (heap.size > 0) {
		const bound = heap.bound[heap.order[0]];
		if (goodEnough(bound) || cells >= maxCells) break;
		const cell = heap.pop();
		const x = heap.geometry[4 * cell];
		const y = heap.geometry[4 * cell + 1];
		const z = heap.geometry[4 * cell + 2];
		const quarter = heap.geometry[4 * cell + 3] / 2;
		for (let child = 0; child < (upright ? 2 : 8); child++) {
			for (let k = 0; k < 6; k++) support[k] = heap.supports[6 * cell + k];
			if (upright) open(0, 0, child === 0 ? z - quarter : z + quarter, quarter, bound);
			else {
				open(
					child & 1 ? x + quarter : x - quarter,
					child & 2 ? y + quarter : y - quarter,
					child & 4 ? z + quarter : z - quarter,
					quarter,
					bound,
				);
			}
		}
		heap.release(cell);
		if (cells >= nextYield) {
			nextYield = cells + SLICE;
			share = Math.max(share, Math.min(1, 1 - (bound - best - limits.tolerance) / firstGap));
			yield { stage: "turning the figure in the stone", share };
		}
	}
	const leftOpen = heap.size > 0 ? heap.bound[heap.order[0]] : -Infinity;
	return {
		rotation: rotationFromQuaternion(bestTurn),
		value: best,
		bound: Math.max(best, closed, leftOpen),
		cells,
	};
}
