/** Turns of the figure judged by its three widths along the edges of a box. */
import type { Job } from "../job.ts";
import { add, cross, dot, IDENTITY, type Mat3, rotationFromQuaternion, turn, turnBack, type Vec3 } from "../vector.ts";
import { MISSING, type Polishable, polishTurn, RowList } from "./polishTurn.ts";
import { type Body, cornerOf, furthestCorner } from "./support.ts";
import { type Quaternion, type ReadyLimit, readyLimits, type Turning } from "./turning.ts";
import {
	HALF_TURNS,
	HALF_TURNS_UPRIGHT,
	NO_TURN,
	type SearchLimits,
	searchTurns,
	TAN_22_5,
	type TurnDomain,
	type TurnJudge,
	type TurnSearch,
} from "./turnSearch.ts";

/**
 * One thing to make as great as can be:
 * - `clearance`: the least of gap − margin over the faces, mm; `room` is each side less its two margins,
 * - `scale`: the factor at which the figure just fits into `room`,
 * - `volume`: the volume of the box around the figure with `extra` (both margins) on each side, in mm³ and negative.
 */
export type BoxAim =
	| { readonly kind: "clearance"; readonly room: Vec3 }
	| { readonly kind: "scale"; readonly room: Vec3 }
	| { readonly kind: "volume"; readonly extra: Vec3 };

/** The aim's value at three widths; falls or stays when a width grows. */
function aimValue(aim: BoxAim, w0: number, w1: number, w2: number): number {
	switch (aim.kind) {
		case "clearance":
			return Math.min(aim.room[0] - w0, aim.room[1] - w1, aim.room[2] - w2) / 2;
		case "scale":
			return Math.min(
				w0 > 0 ? aim.room[0] / w0 : Infinity,
				w1 > 0 ? aim.room[1] / w1 : Infinity,
				w2 > 0 ? aim.room[2] / w2 : Infinity,
			);
		case "volume":
			return -((w0 + aim.extra[0]) * (w1 + aim.extra[1]) * (w2 + aim.extra[2]));
	}
}

/**
 * Turns that differ for a box. It looks the same after half a turn about each of its axes, so one chart is enough unless
 * directions are limited; where two sides are alike, |gₖ| ≤ tan 22.5° is enough for the third.
 */
export function boxDomain(turning: Exclude<Turning, { kind: "fixed" }>, aim: BoxAim): TurnDomain {
	const upright = turning.kind === "upright";
	const limits = readyLimits(turning);
	if (limits.length > 0)
		return { upright, reach: [1, 1, 1], charts: upright ? HALF_TURNS_UPRIGHT : HALF_TURNS, limits };
	const sizes = aim.kind === "volume" ? aim.extra : aim.room;
	const reach = (i: number, j: number): number => (sizes[i] === sizes[j] ? TAN_22_5 : 1);
	return { upright, reach: [reach(1, 2), reach(2, 0), reach(0, 1)], charts: [NO_TURN], limits };
}

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

/** Widths are worked out to some 1e-15 of the size; bounds are kept this share of it on the safe side. */
const ROUNDING = 1e-12;

/**
 * Bound of a cell: the two corners that are furthest apart along a box axis at its middle keep at least |u|·cos(θ + r)
 * between them along that axis, u being their difference and θ its angle to the axis, and the width is never less.
 */
export class BoxJudge implements TurnJudge {
	readonly hintCount = 6;
	bound = 0;
	private readonly body: Body;
	private readonly aim: BoxAim;
	private readonly upright: boolean;
	private readonly limits: readonly ReadyLimit[];
	private readonly polishable: BoxPolishable;
	private readonly slack: number;
	private readonly wide = new Float64Array(3);
	private readonly least = new Float64Array(3);

	constructor(body: Body, aim: BoxAim, domain: TurnDomain) {
		this.body = body;
		this.aim = aim;
		this.upright = domain.upright;
		this.limits = domain.limits;
		this.polishable = new BoxPolishable(body, aim);
		this.slack = ROUNDING * body.radius;
	}

	judge(rotation: Float64Array, cosR: number, sinR: number, hints: Int32Array): number {
		const { body, aim, slack } = this;
		const { corners } = body;
		const { wide, least } = this;
		for (let i = 0; i < 3; i++) {
			const dx = rotation[3 * i];
			const dy = rotation[3 * i + 1];
			const dz = rotation[3 * i + 2];
			const a = furthestCorner(body, Math.max(0, hints[2 * i]), dx, dy, dz);
			const b = furthestCorner(body, Math.max(0, hints[2 * i + 1]), -dx, -dy, -dz);
			hints[2 * i] = a;
			hints[2 * i + 1] = b;
			const ux = corners[3 * a] - corners[3 * b];
			const uy = corners[3 * a + 1] - corners[3 * b + 1];
			const uz = corners[3 * a + 2] - corners[3 * b + 2];
			const w = ux * dx + uy * dy + uz * dz;
			// |u|·cos(θ + r) = w cos r − |u| sin θ sin r, and nothing is gained past θ + r = 90°.
			const across = Math.sqrt(Math.max(0, ux * ux + uy * uy + uz * uz - w * w));
			const kept = this.upright && i === 2 ? w : w * cosR - across * sinR;
			wide[i] = w;
			least[i] = Math.max(0, kept - slack);
		}
		this.bound = aimValue(aim, least[0], least[1], least[2]);
		return aimValue(aim, wide[0], wide[1], wide[2]);
	}

	polish(start: Quaternion): { turn: Quaternion; value: number } {
		return polishTurn(this.polishable, start, this.upright, this.limits);
	}
}

/** The best turn of a body in a box, with its bound. */
export function* searchBox(body: Body, turning: Turning, aim: BoxAim, search: SearchLimits): Job<TurnSearch> {
	if (turning.kind === "fixed") {
		const [w0, w1, w2] = widthsAt(body, turning.rotation);
		const value = aimValue(aim, w0, w1, w2);
		return { rotation: turning.rotation, value, bound: value, cells: 0 };
	}
	const domain = boxDomain(turning, aim);
	return yield* searchTurns(new BoxJudge(body, aim, domain), domain, search);
}

/** Unknowns after ω: the high and the low side of the figure along each box axis, then the aim itself. */
const HIGH = 3;
const LOW = 6;
const AIM = 9;
const UNKNOWNS = 10;

class BoxPolishable implements Polishable {
	readonly cost = new Array<number>(UNKNOWNS).fill(0);
	readonly low: number[];
	readonly high: number[];
	readonly rows = new RowList(UNKNOWNS);
	private readonly body: Body;
	private readonly aim: BoxAim;
	private rotation: Mat3 = IDENTITY;
	/** The corners furthest along +x, −x, +y, … of the stone. */
	private readonly touching = new Int32Array(6);
	private readonly widths = [0, 0, 0];

	constructor(body: Body, aim: BoxAim) {
		this.body = body;
		this.aim = aim;
		const reach = 4 * body.radius;
		// The aim as an unknown: the clearance itself, or minus the inverse of the scale.
		const aimReach = aim.kind === "clearance" ? reach + Math.max(...aim.room.map(Math.abs)) : 1e3;
		this.high = [0, 0, 0, reach, reach, reach, reach, reach, reach, aimReach];
		this.low = this.high.map((x) => -x);
		if (aim.kind !== "volume") this.cost[AIM] = 1;
	}

	turnTo(turned: Quaternion): number {
		const { widths, touching, body } = this;
		this.rotation = rotationFromQuaternion(turned);
		for (let i = 0; i < 3; i++) {
			const d: Vec3 = [this.rotation[3 * i], this.rotation[3 * i + 1], this.rotation[3 * i + 2]];
			const a = furthestCorner(body, touching[2 * i], d[0], d[1], d[2]);
			const b = furthestCorner(body, touching[2 * i + 1], -d[0], -d[1], -d[2]);
			touching[2 * i] = a;
			touching[2 * i + 1] = b;
			widths[i] = dot(d, cornerOf(body, a)) - dot(d, cornerOf(body, b));
		}
		return aimValue(this.aim, widths[0], widths[1], widths[2]);
	}

	linearise(): void {
		const { aim, cost, rows, touching, widths } = this;
		for (let i = 0; i < 3; i++) {
			this.addCorner(i, 1, touching[2 * i]);
			this.addCorner(i, -1, touching[2 * i + 1]);
			if (aim.kind === "volume") {
				// The product falls fastest where each width counts by its inverse.
				const weight = this.body.radius / (widths[i] + aim.extra[i]);
				cost[HIGH + i] = -weight;
				cost[LOW + i] = weight;
			} else {
				// 2 g + high − low ≤ room for the clearance g; high − low ≤ room ÷ scale otherwise.
				const at = rows.add(aim.kind === "clearance" ? aim.room[i] : 0);
				rows.rows[at + HIGH + i] = 1;
				rows.rows[at + LOW + i] = -1;
				rows.rows[at + AIM] = aim.kind === "clearance" ? 2 : aim.room[i];
			}
		}
	}

	addMissing(y: Float64Array): boolean {
		const { body, rotation, touching } = this;
		const omega: Vec3 = [y[0], y[1], y[2]];
		let missing = false;
		for (let i = 0; i < 3; i++) {
			const axis: Vec3 = [i === 0 ? 1 : 0, i === 1 ? 1 : 0, i === 2 ? 1 : 0];
			// (q + ω × q) · e = q · (e + e × ω), asked of the figure in its own frame.
			const d = turnBack(rotation, add(axis, cross(axis, omega)));
			for (const side of [1, -1]) {
				const from = touching[side > 0 ? 2 * i : 2 * i + 1];
				const v = furthestCorner(body, from, side * d[0], side * d[1], side * d[2]);
				const reach = side * dot(d, cornerOf(body, v));
				const held = side > 0 ? y[HIGH + i] : -y[LOW + i];
				if (reach - held <= MISSING * body.radius) continue;
				this.addCorner(i, side, v);
				missing = true;
			}
		}
		return missing;
	}

	/** side · (q + ω × q)_i ≤ side · (high or low side), for the turned corner q. */
	private addCorner(i: number, side: number, v: number): void {
		const { rows } = this;
		const q = turn(this.rotation, cornerOf(this.body, v));
		const j = (i + 1) % 3;
		const k = (i + 2) % 3;
		const at = rows.add(-side * q[i]);
		// (ω × q)_i = ω_j q_k − ω_k q_j
		rows.rows[at + j] = side * q[k];
		rows.rows[at + k] = -side * q[j];
		rows.rows[at + (side > 0 ? HIGH : LOW) + i] = -side;
	}
}
