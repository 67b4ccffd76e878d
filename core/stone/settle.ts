/**
 * The best placement near a given one in a stone of any shape: "let it settle".
 *
 * Near a placement the depth of every place of the figure is nearly linear in a small turn ω and a small shift x, so the
 * best small move solves a linear programme over the places that are shallowest; the move is kept when the least depth has
 * risen, and the trusted distance shrinks when it has not.
 */
import type { Job } from "../job.ts";
import { type DepthGrid, depthAt } from "../surface/depthGrid.ts";
import { isInside } from "../surface/insideness.ts";
import type { SurfaceIndex } from "../surface/surfaceIndex.ts";
import { multiply, type Placement, rotationFromQuaternion, type Vec3 } from "../vector.ts";
import { LinearSolver } from "./linearProgramme.ts";
import { RowList } from "./polishTurn.ts";
import { keepsLimits, type ReadyLimit, type Turning } from "./turning.ts";

/** What is to be settled: places of the figure, model frame, mm. */
export interface Figure {
	readonly places: Float64Array;
	readonly middle: Vec3;
	/** No place is further from the middle. */
	readonly radius: number;
}

/** Places that a programme looks at. */
const MOST_ROWS = 220;
/** First trusted distance as a share of the figure's radius, and the one at which nothing more is to be had, mm. */
const FIRST_TRUST = 0.08;
const LAST_TRUST = 0.004;
const UNKNOWNS = 7;

/** Writes depth and its gradient (inwards) at a place of the stone. */
type Depth = (x: number, y: number, z: number, into: Float64Array) => void;

export class Settler {
	readonly figure: Figure;
	private readonly grid: DepthGrid;
	private readonly turning: Turning;
	private readonly limits: readonly ReadyLimit[];
	private readonly solver = new LinearSolver(UNKNOWNS);
	private readonly rows = new RowList(UNKNOWNS);
	private readonly depth: Float64Array;
	private readonly order: Uint32Array;
	private readonly at = new Float64Array(4);

	constructor(grid: DepthGrid, figure: Figure, turning: Turning, limits: readonly ReadyLimit[]) {
		this.grid = grid;
		this.figure = figure;
		this.turning = turning;
		this.limits = limits;
		this.depth = new Float64Array(figure.places.length / 3);
		this.order = new Uint32Array(figure.places.length / 3);
	}

	/** Settles by the grid of depths. */
	settle(start: Placement, steps: number): { placement: Placement; value: number } {
		const { grid } = this;
		const job = this.improve(start, steps, FIRST_TRUST * this.figure.radius, (x, y, z, into) =>
			depthAt(grid, x, y, z, into),
		);
		for (;;) {
			const step = job.next();
			if (step.done) return step.value;
		}
	}

	/** Settles by the surface itself, from a placement that the grid has found: small moves only. */
	*settleOn(surface: SurfaceIndex, start: Placement, steps: number): Job<{ placement: Placement; value: number }> {
		const { grid } = this;
		const close = { distance: 0, triangle: 0, x: 0, y: 0, z: 0 };
		const size = grid.step * Math.max(...grid.counts);
		let band = Infinity;
		return yield* this.improve(start, steps, grid.step / 2, (x, y, z, into) => {
			depthAt(grid, x, y, z, into);
			// Well inside, the grid is right enough: such a place holds nothing up.
			if (into[0] > band + 2 * grid.step) return;
			const hit = surface.closestPoint([x, y, z], Number.POSITIVE_INFINITY, close);
			if (!hit || hit.distance === 0) return;
			const sure = Math.abs(into[0]) > grid.step;
			const inside = sure ? into[0] > 0 : isInside(surface, [x, y, z], size);
			const sign = inside ? 1 : -1;
			into[0] = sign * hit.distance;
			into[1] = (sign * (x - hit.x)) / hit.distance;
			into[2] = (sign * (y - hit.y)) / hit.distance;
			into[3] = (sign * (z - hit.z)) / hit.distance;
			band = Math.min(band, into[0]);
		});
	}

	private *improve(
		start: Placement,
		steps: number,
		firstTrust: number,
		depthOf: Depth,
	): Job<{ placement: Placement; value: number }> {
		let placement = start;
		let value = this.sound(placement, depthOf);
		let trust = firstTrust;
		for (let step = 0; step < steps && trust > LAST_TRUST; step++) {
			const next = this.bestMove(placement, value, trust, depthOf);
			if (next === null) break;
			const reached = keepsLimits(this.limits, next.rotation) ? this.sound(next, depthOf) : -Infinity;
			if (reached > value + 1e-9) {
				placement = next;
				value = reached;
				trust *= 1.4;
			} else {
				this.sound(placement, depthOf);
				trust /= 3;
			}
			yield { stage: "letting the figure settle", share: step / steps };
		}
		return { placement, value };
	}

	/** Depths of all places; the least of them. */
	private sound({ rotation: r, translation: t }: Placement, depthOf: Depth): number {
		const { depth, at } = this;
		const { places } = this.figure;
		let least = Infinity;
		for (let i = 0, k = 0; k < places.length; i++, k += 3) {
			const x = places[k];
			const y = places[k + 1];
			const z = places[k + 2];
			depthOf(
				r[0] * x + r[1] * y + r[2] * z + t[0],
				r[3] * x + r[4] * y + r[5] * z + t[1],
				r[6] * x + r[7] * y + r[8] * z + t[2],
				at,
			);
			depth[i] = at[0];
			if (at[0] < least) least = at[0];
		}
		return least;
	}

	/** The move within the trusted distance after which the least depth should be greatest. */
	private bestMove(placement: Placement, value: number, trust: number, depthOf: Depth): Placement | null {
		const { rows, solver, depth, order, at, figure, turning } = this;
		const { rotation: r, translation: t } = placement;
		const { places, middle, radius } = figure;
		rows.count = 0;
		const band = value + 3 * trust;
		let near = 0;
		for (let i = 0; i < depth.length; i++) if (depth[i] <= band) order[near++] = i;
		const chosen = order.subarray(0, near);
		if (near > MOST_ROWS) chosen.sort((a, b) => depth[a] - depth[b] || a - b);
		const mx = r[0] * middle[0] + r[1] * middle[1] + r[2] * middle[2];
		const my = r[3] * middle[0] + r[4] * middle[1] + r[5] * middle[2];
		const mz = r[6] * middle[0] + r[7] * middle[1] + r[8] * middle[2];
		for (let n = 0; n < Math.min(near, MOST_ROWS); n++) {
			const k = 3 * chosen[n];
			const qx = r[0] * places[k] + r[1] * places[k + 1] + r[2] * places[k + 2];
			const qy = r[3] * places[k] + r[4] * places[k + 1] + r[5] * places[k + 2];
			const qz = r[6] * places[k] + r[7] * places[k + 1] + r[8] * places[k + 2];
			depthOf(qx + t[0], qy + t[1], qz + t[2], at);
			const [d, nx, ny, nz] = at;
			// g ≤ d + n · (x + ω × (q − m)), the turn being about the figure's middle.
			const row = rows.add(d);
			const [px, py, pz] = [qx - mx, qy - my, qz - mz];
			rows.rows[row] = -(py * nz - pz * ny);
			rows.rows[row + 1] = -(pz * nx - px * nz);
			rows.rows[row + 2] = -(px * ny - py * nx);
			rows.rows[row + 3] = -nx;
			rows.rows[row + 4] = -ny;
			rows.rows[row + 5] = -nz;
			rows.rows[row + 6] = 1;
		}
		const swing = turning.kind === "fixed" ? 0 : trust / radius;
		const tip = turning.kind === "free" ? swing : 0;
		const far = 4 * (Math.abs(value) + radius + trust);
		const programme = {
			cost: [0, 0, 0, 0, 0, 0, 1],
			low: [-tip, -tip, -swing, -trust, -trust, -trust, -far],
			high: [tip, tip, swing, trust, trust, trust, far],
			rows: rows.rows,
			limits: rows.limits,
			rowCount: rows.count,
		};
		if (!solver.solve(programme)) return null;
		const [wx, wy, wz, x, y, z] = solver.y;
		// Upright, the first two are a rounding error of the programme and must not tip the figure.
		const small = rotationFromQuaternion(tip === 0 ? [0, 0, wz / 2, 1] : [wx / 2, wy / 2, wz / 2, 1]);
		const rotation = swing === 0 ? r : multiply(small, r);
		const ax = rotation[0] * middle[0] + rotation[1] * middle[1] + rotation[2] * middle[2];
		const ay = rotation[3] * middle[0] + rotation[4] * middle[1] + rotation[5] * middle[2];
		const az = rotation[6] * middle[0] + rotation[7] * middle[1] + rotation[8] * middle[2];
		return { rotation, translation: [t[0] + mx - ax + x, t[1] + my - ay + y, t[2] + mz - az + z] };
	}
}

/** About `most` places spread over a surface's vertices: the first in each cell of a grid. */
export function spreadPlaces(positions: Float64Array, most: number): Float64Array {
	const count = positions.length / 3;
	if (count <= most) return positions;
	const min = [Infinity, Infinity, Infinity];
	const max = [-Infinity, -Infinity, -Infinity];
	for (let i = 0; i < positions.length; i++) {
		min[i % 3] = Math.min(min[i % 3], positions[i]);
		max[i % 3] = Math.max(max[i % 3], positions[i]);
	}
	const [sx, sy, sz] = [max[0] - min[0], max[1] - min[1], max[2] - min[2]];
	// A surface meets about as many cells as its bounds have area in cells, give or take.
	let cell = Math.sqrt((2 * (sx * sy + sy * sz + sz * sx)) / most);
	for (;;) {
		const [nx, ny] = [Math.floor(sx / cell) + 1, Math.floor(sy / cell) + 1];
		const seen = new Set<number>();
		const kept: number[] = [];
		for (let i = 0; i < count; i++) {
			const x = Math.floor((positions[3 * i] - min[0]) / cell);
			const y = Math.floor((positions[3 * i + 1] - min[1]) / cell);
			const z = Math.floor((positions[3 * i + 2] - min[2]) / cell);
			const key = x + nx * (y + ny * z);
			if (seen.has(key)) continue;
			seen.add(key);
			kept.push(positions[3 * i], positions[3 * i + 1], positions[3 * i + 2]);
		}
		if (kept.length / 3 <= 1.5 * most) return Float64Array.from(kept);
		cell *= 1.25;
	}
}
