/**
 * Turns of the figure judged in any convex stone { x : nᵢ · x ≤ bᵢ }.
 *
 * At a turn R the best place is a linear programme over the translation x and the aim g:
 *     max g   subject to   nᵢ · x + hᵢ + κᵢ g ≤ cᵢ,    hᵢ = greatest nᵢ · R v over the corners v of the figure
 * with κ = 1, c = b − margin for the clearance, and κ = b − margin, c = 0 for g = −1/scale (everything divided by the scale).
 *
 * Bound of a cell (handbook 10): keep the corners vᵢ that touch at R and the weights λ of the programme's proof (λ ≥ 0,
 * Σ λκ = 1, Σ λn = 0). At R turned on by Q, g ≤ Σ λc − tr(Q A) with A = Σ λ (R v) nᵀ, and for rotations Q by at most r ≤ 90°
 *     tr(Q A) ≥ tr A − sin r · |axial A| − (1 − cos r) · max(0, tr A − least eigenvalue of the symmetric part of A).
 */
import { add, cross, dot, IDENTITY, type Mat3, rotationFromQuaternion, turn, turnBack, type Vec3 } from "../vector.ts";
import { type LinearProgramme, LinearSolver } from "./linearProgramme.ts";
import { MISSING, type Polishable, polishTurn, RowList } from "./polishTurn.ts";
import { type Body, cornerOf, furthestCorner } from "./support.ts";
import { type Quaternion, type ReadyLimit, readyLimits, type Turning } from "./turning.ts";
import { HALF_TURNS, HALF_TURNS_UPRIGHT, type TurnDomain, type TurnJudge } from "./turnSearch.ts";

/** A convex stone as the judge sees it, around its middle. */
export interface StoneRoom {
	/** Unit normal and offset less margin of each face: n · x ≤ b. */
	readonly planes: Float64Array;
	/** No place in the stone is further from the origin, mm. */
	readonly reach: number;
}

export type StoneAim = "clearance" | "scale";

/** All turns: a stone without symmetry looks different after every one. */
export function stoneDomain(turning: Exclude<Turning, { kind: "fixed" }>): TurnDomain {
	const upright = turning.kind === "upright";
	return { upright, reach: [1, 1, 1], charts: upright ? HALF_TURNS_UPRIGHT : HALF_TURNS, limits: readyLimits(turning) };
}

/** Unknowns of a place: x, y, z and g. */
const PLACE = 4;
/** Bounds are kept this share of the size on the safe side: a thousand times the rounding of the programme. */
const ROUNDING = 1e-11;

/** The best place at one turn after another. */
export class StonePlacer {
	readonly solver = new LinearSolver(PLACE);
	readonly programme: LinearProgramme & { readonly limits: Float64Array };
	readonly faces: number;
	readonly aim: StoneAim;

	constructor(room: StoneRoom, body: Body, aim: StoneAim) {
		const { planes } = room;
		this.aim = aim;
		this.faces = planes.length / 4;
		const rows = new Float64Array(PLACE * this.faces);
		for (let f = 0; f < this.faces; f++) {
			for (let k = 0; k < 3; k++) rows[PLACE * f + k] = planes[4 * f + k];
			rows[PLACE * f + 3] = aim === "clearance" ? 1 : planes[4 * f + 3];
		}
		const far = 10 * (room.reach + body.radius);
		const most = aim === "clearance" ? far : 1e3;
		this.programme = {
			cost: [0, 0, 0, 1],
			low: [-far, -far, -far, -most],
			high: [far, far, far, most],
			rows,
			limits: new Float64Array(this.faces),
			rowCount: this.faces,
		};
	}

	/** cᵢ of a face. */
	limitOf(room: StoneRoom, face: number): number {
		return this.aim === "clearance" ? room.planes[4 * face + 3] : 0;
	}
}

/** The least eigenvalue of a symmetric matrix, or a little less: Newton's method from the left never steps over it. */
export function leastEigenvalue(xx: number, yy: number, zz: number, xy: number, yz: number, zx: number): number {
	const third = (xx + yy + zz) / 3;
	const a = xx - third;
	const b = yy - third;
	const c = zz - third;
	// Around the mean the polynomial is t³ − p t − q, and every root lies within √(4p/3) of 0.
	const p = -(a * b + b * c + c * a) + xy * xy + yz * yz + zx * zx;
	const q = a * b * c + 2 * xy * yz * zx - a * yz * yz - b * zx * zx - c * xy * xy;
	if (!(p > 0)) return third;
	let t = -Math.sqrt((4 * p) / 3);
	for (let i = 0; i < 6; i++) {
		const slope = 3 * t * t - p;
		if (!(slope > 0)) break;
		const step = (t * t * t - p * t - q) / slope;
		if (!(step < 0)) break;
		t -= step;
	}
	return third + t;
}

export class StoneJudge implements TurnJudge {
	readonly hintCount: number;
	bound = 0;
	private readonly room: StoneRoom;
	private readonly body: Body;
	private readonly upright: boolean;
	private readonly limits: readonly ReadyLimit[];
	private readonly placer: StonePlacer;
	private readonly polishable: StonePolishable;
	private readonly start = new Int32Array(PLACE);
	private readonly slack: number;

	constructor(room: StoneRoom, body: Body, aim: StoneAim, domain: TurnDomain) {
		this.room = room;
		this.body = body;
		this.upright = domain.upright;
		this.limits = domain.limits;
		this.placer = new StonePlacer(room, body, aim);
		this.polishable = new StonePolishable(room, body, aim);
		this.hintCount = this.placer.faces + PLACE;
		this.slack = ROUNDING * (aim === "clearance" ? room.reach + body.radius : 1);
	}

	judge(rotation: Float64Array, cosR: number, sinR: number, hints: Int32Array): number {
		const { body, room, start } = this;
		const { solver, programme, faces } = this.placer;
		const { corners } = body;
		const { planes } = room;
		const { limits } = programme;
		const r0 = rotation[0];
		const r1 = rotation[1];
		const r2 = rotation[2];
		const r3 = rotation[3];
		const r4 = rotation[4];
		const r5 = rotation[5];
		const r6 = rotation[6];
		const r7 = rotation[7];
		const r8 = rotation[8];
		for (let f = 0; f < faces; f++) {
			const nx = planes[4 * f];
			const ny = planes[4 * f + 1];
			const nz = planes[4 * f + 2];
			const dx = r0 * nx + r3 * ny + r6 * nz;
			const dy = r1 * nx + r4 * ny + r7 * nz;
			const dz = r2 * nx + r5 * ny + r8 * nz;
			const v = furthestCorner(body, Math.max(0, hints[f]), dx, dy, dz);
			hints[f] = v;
			limits[f] =
				this.placer.limitOf(room, f) - (corners[3 * v] * dx + corners[3 * v + 1] * dy + corners[3 * v + 2] * dz);
		}
		let found: boolean;
		if (hints[faces] >= 0) {
			for (let k = 0; k < PLACE; k++) start[k] = hints[faces + k];
			found = solver.solve(programme, start);
		} else found = solver.solve(programme);
		if (!found) {
			this.bound = Infinity;
			return -Infinity;
		}
		const { basis, weights } = solver;
		// A stone is closed and the bounds of the unknowns are far away, so that the faces alone carry the answer.
		let carried = solver.solved;
		for (let k = 0; k < PLACE; k++) carried &&= basis[k] >= 0;
		for (let k = 0; k < PLACE; k++) hints[faces + k] = carried ? basis[k] : -1;
		if (!carried) {
			this.bound = Infinity;
			return solver.solved ? solver.value : -Infinity;
		}
		// A = Σ λ (R v) nᵀ
		let xx = 0;
		let xy = 0;
		let xz = 0;
		let yx = 0;
		let yy = 0;
		let yz = 0;
		let zx = 0;
		let zy = 0;
		let zz = 0;
		for (let k = 0; k < PLACE; k++) {
			const lambda = weights[k];
			const f = 4 * basis[k];
			const v = 3 * hints[basis[k]];
			const qx = lambda * (r0 * corners[v] + r1 * corners[v + 1] + r2 * corners[v + 2]);
			const qy = lambda * (r3 * corners[v] + r4 * corners[v + 1] + r5 * corners[v + 2]);
			const qz = lambda * (r6 * corners[v] + r7 * corners[v + 1] + r8 * corners[v + 2]);
			const nx = planes[f];
			const ny = planes[f + 1];
			const nz = planes[f + 2];
			xx += qx * nx;
			xy += qx * ny;
			xz += qx * nz;
			yx += qy * nx;
			yy += qy * ny;
			yz += qy * nz;
			zx += qz * nx;
			zy += qz * ny;
			zz += qz * nz;
		}
		const ax = zy - yz;
		const ay = xz - zx;
		const az = yx - xy;
		const trace = xx + yy + zz;
		const axial = Math.sqrt(ax * ax + ay * ay + az * az);
		const least = leastEigenvalue(xx, yy, zz, (xy + yx) / 2, (yz + zy) / 2, (zx + xz) / 2);
		this.bound = solver.value + sinR * axial + (1 - cosR) * Math.max(0, trace - least) + this.slack;
		return solver.value;
	}

	polish(start: Quaternion): { turn: Quaternion; value: number } {
		return polishTurn(this.polishable, start, this.upright, this.limits);
	}
}

/** Unknowns after ω: the place, then g. */
const UNKNOWNS = 7;

class StonePolishable implements Polishable {
	readonly cost = [0, 0, 0, 0, 0, 0, 1];
	readonly low: number[];
	readonly high: number[];
	readonly rows = new RowList(UNKNOWNS);
	private readonly room: StoneRoom;
	private readonly body: Body;
	private readonly placer: StonePlacer;
	private rotation: Mat3 = IDENTITY;
	/** The corner furthest towards each face. */
	private readonly touching: Int32Array;

	constructor(room: StoneRoom, body: Body, aim: StoneAim) {
		this.room = room;
		this.body = body;
		this.placer = new StonePlacer(room, body, aim);
		const { low, high } = this.placer.programme;
		this.low = [0, 0, 0, ...Array.from(low)];
		this.high = [0, 0, 0, ...Array.from(high)];
		this.touching = new Int32Array(this.placer.faces);
	}

	private normalOf(face: number): Vec3 {
		const { planes } = this.room;
		return [planes[4 * face], planes[4 * face + 1], planes[4 * face + 2]];
	}

	turnTo(turned: Quaternion): number {
		const { body, touching } = this;
		const { solver, programme, faces } = this.placer;
		this.rotation = rotationFromQuaternion(turned);
		for (let f = 0; f < faces; f++) {
			const d = turnBack(this.rotation, this.normalOf(f));
			touching[f] = furthestCorner(body, touching[f], d[0], d[1], d[2]);
			programme.limits[f] = this.placer.limitOf(this.room, f) - dot(d, cornerOf(body, touching[f]));
		}
		return solver.solve(programme) && solver.solved ? solver.value : -Infinity;
	}

	linearise(): void {
		for (let f = 0; f < this.placer.faces; f++) this.addCorner(f, this.touching[f]);
	}

	addMissing(y: Float64Array): boolean {
		const { body, rotation, touching } = this;
		const { programme, faces } = this.placer;
		const omega: Vec3 = [y[0], y[1], y[2]];
		let missing = false;
		for (let f = 0; f < faces; f++) {
			const n = this.normalOf(f);
			// n · (q + ω × q) = q · (n + n × ω), asked of the figure in its own frame.
			const d = turnBack(rotation, add(n, cross(n, omega)));
			const v = furthestCorner(body, touching[f], d[0], d[1], d[2]);
			let held = this.placer.limitOf(this.room, f);
			for (let k = 0; k < PLACE; k++) held -= programme.rows[PLACE * f + k] * y[3 + k];
			if (dot(d, cornerOf(body, v)) - held <= MISSING * body.radius) continue;
			this.addCorner(f, v);
			missing = true;
		}
		return missing;
	}

	/** n · (q + ω × q) + n · x + κ g ≤ c, for the turned corner q. */
	private addCorner(face: number, v: number): void {
		const { rows } = this;
		const { programme } = this.placer;
		const n = this.normalOf(face);
		const q = turn(this.rotation, cornerOf(this.body, v));
		const at = rows.add(this.placer.limitOf(this.room, face) - dot(n, q));
		// n · (ω × q) = ω · (q × n)
		const lever = cross(q, n);
		for (let k = 0; k < 3; k++) rows.rows[at + k] = lever[k];
		for (let k = 0; k < PLACE; k++) rows.rows[at + 3 + k] = programme.rows[PLACE * face + k];
	}
}
