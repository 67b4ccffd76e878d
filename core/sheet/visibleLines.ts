/** Takes from lines on the figure what a viewer sees of them, as polylines in the view plane. */

import type { LevelLines } from "./levelLines.ts";
import type { Projection } from "./projection.ts";
import type { ScreenGrid } from "./screenGrid.ts";

export interface Sight {
	readonly grid: ScreenGrid;
	readonly projection: Projection;
	/** mm between two looks along a line. */
	readonly step: number;
	/** A line counts as hidden when the surface stands nearer than it by more than this, mm. */
	readonly tolerance: number;
	/** Visible pieces shorter than this are left out, mm. */
	readonly shortest: number;
	/** Greatest distance from the line that thinning out its corners may cause, mm. */
	readonly thinning: number;
}

/** Outward direction of the surface in the view plane at a vertex: x and y of its normal, as an outline needs it. */
export interface Outward {
	readonly nx: Float64Array;
	readonly ny: Float64Array;
}

/**
 * Steps outward, mm, at which an outline is looked at: it is where the surface turns away, so that a bump of scan noise just
 * in front of it would hide it over several millimetres of depth. What is seen is drawn where it was seen.
 */
const OUTWARD_STEPS: readonly number[] = [0.03, 0.15, 0.3, 0.45];
/** Halvings between a seen and an unseen place. */
const HALVINGS = 5;

/** Visible pieces of the chains: x0, y0, x1, y1, … in mm of the view plane. */
export function visiblePieces(sight: Sight, lines: LevelLines, outward: Outward | null = null): Float64Array[] {
	const { xs, ys, zs } = sight.projection;
	const pieces: Float64Array[] = [];
	const place = new Float64Array(5);
	const previous = new Float64Array(5);
	const probe = new Float64Array(5);
	const shown = new Float64Array(2);

	const nodeAt = (node: number, to: Float64Array): void => {
		const a = lines.from[node];
		const b = lines.to[node];
		const s = lines.share[node];
		to[0] = xs[a] + s * (xs[b] - xs[a]);
		to[1] = ys[a] + s * (ys[b] - ys[a]);
		to[2] = zs[a] + s * (zs[b] - zs[a]);
		if (!outward) return;
		const nx = outward.nx[a] + s * (outward.nx[b] - outward.nx[a]);
		const ny = outward.ny[a] + s * (outward.ny[b] - outward.ny[a]);
		const length = Math.sqrt(nx * nx + ny * ny);
		to[3] = length > 0 ? nx / length : 0;
		to[4] = length > 0 ? ny / length : 0;
	};
	/** Leaves in `shown` where a place is drawn, and says whether it is seen. */
	const seen = (p: Float64Array): boolean => {
		const z = p[2] + sight.tolerance;
		shown[0] = p[0];
		shown[1] = p[1];
		if (!outward) return !sight.grid.covered(p[0], p[1], z);
		for (const s of OUTWARD_STEPS) {
			const x = p[0] + s * p[3];
			const y = p[1] + s * p[4];
			if (sight.grid.covered(x, y, z)) continue;
			shown[0] = x;
			shown[1] = y;
			return true;
		}
		return false;
	};
	const between = (p: Float64Array, q: Float64Array, s: number, to: Float64Array): void => {
		for (let i = 0; i < 5; i++) to[i] = p[i] + s * (q[i] - p[i]);
	};

	let run: number[] = [];
	let runLength = 0;
	const put = (): void => {
		const n = run.length;
		if (n >= 2) {
			const dx = shown[0] - run[n - 2];
			const dy = shown[1] - run[n - 1];
			runLength += Math.sqrt(dx * dx + dy * dy);
		}
		run.push(shown[0], shown[1]);
	};
	const close = (): void => {
		if (run.length >= 4 && runLength >= sight.shortest) pieces.push(thinOut(run, sight.thinning));
		run = [];
		runLength = 0;
	};
	const last = new Float64Array(5);
	for (const chain of lines.chains) {
		nodeAt(chain[0], previous);
		last.set(previous);
		let open = seen(previous);
		if (open) put();
		for (let i = 1; i < chain.length; i++) {
			nodeAt(chain[i], place);
			const dx = place[0] - previous[0];
			const dy = place[1] - previous[1];
			const steps = Math.max(1, Math.ceil(Math.sqrt(dx * dx + dy * dy) / sight.step));
			for (let k = 1; k <= steps; k++) {
				between(previous, place, k / steps, probe);
				const now = seen(probe);
				if (now !== open) {
					// The seen end of the gap, to a thirty-second of a step.
					let lo = 0;
					let hi = 1;
					const middle = scratch;
					for (let h = 0; h < HALVINGS; h++) {
						const m = (lo + hi) / 2;
						between(last, probe, m, middle);
						if (seen(middle) === open) lo = m;
						else hi = m;
					}
					between(last, probe, open ? lo : hi, middle);
					seen(middle);
					put();
					if (open) close();
				}
				if (now) {
					seen(probe);
					put();
				}
				open = now;
				last.set(probe);
			}
			previous.set(place);
		}
		close();
	}
	return pieces;
}

const scratch = new Float64Array(5);

/** How far to either side of an outline the depths are compared, and the step between them from which it is drawn heavy, mm. */
const BESIDE = 0.8;
const STEP_DOWN = 5;
/** A piece of one weight is at least this long, mm, so that the weight does not flicker. */
const WEIGHT_RUN = 4;

/** Parts outlines into those behind which the figure ends or drops away, and those of low relief before nearby ground. */
export function weighOutlines(
	grid: ScreenGrid,
	pieces: readonly Float64Array[],
): { heavy: Float64Array[]; light: Float64Array[] } {
	const heavy: Float64Array[] = [];
	const light: Float64Array[] = [];
	for (const p of pieces) {
		const steps = p.length / 2 - 1;
		const deep: boolean[] = [];
		const lengths: number[] = [];
		for (let i = 0; i < steps; i++) {
			const dx = p[2 * i + 2] - p[2 * i];
			const dy = p[2 * i + 3] - p[2 * i + 1];
			const length = Math.sqrt(dx * dx + dy * dy);
			const ux = length > 0 ? (BESIDE * dx) / length : 0;
			const uy = length > 0 ? (BESIDE * dy) / length : 0;
			const x = p[2 * i] + dx / 2;
			const y = p[2 * i + 1] + dy / 2;
			const a = grid.depth(x - uy, y + ux);
			const b = grid.depth(x + uy, y - ux);
			deep.push(a === -Infinity || b === -Infinity || Math.abs(a - b) > STEP_DOWN);
			lengths.push(length);
		}
		// Runs too short to stand alone take the weight of what comes before them.
		for (let start = 0; start < steps; ) {
			let end = start;
			let length = 0;
			while (end < steps && deep[end] === deep[start]) length += lengths[end++];
			if (length < WEIGHT_RUN && start > 0) deep.fill(deep[start - 1], start, end);
			start = end;
		}
		for (let start = 0; start < steps; ) {
			let end = start;
			while (end < steps && deep[end] === deep[start]) end++;
			(deep[start] ? heavy : light).push(p.slice(2 * start, 2 * end + 2));
			start = end;
		}
	}
	return { heavy, light };
}

/** Drops corners that lie within `tolerance` of the line without them (Douglas and Peucker 1973). */
export function thinOut(points: ArrayLike<number>, tolerance: number): Float64Array {
	const n = points.length / 2;
	const keep = new Uint8Array(n);
	keep[0] = 1;
	keep[n - 1] = 1;
	const stack = [0, n - 1];
	while (stack.length > 0) {
		const b = stack.pop() as number;
		const a = stack.pop() as number;
		const ax = points[2 * a];
		const ay = points[2 * a + 1];
		const dx = points[2 * b] - ax;
		const dy = points[2 * b + 1] - ay;
		const length2 = dx * dx + dy * dy;
		let worst = tolerance * tolerance;
		let at = -1;
		for (let i = a + 1; i < b; i++) {
			const px = points[2 * i] - ax;
			const py = points[2 * i + 1] - ay;
			const s = length2 > 0 ? Math.max(0, Math.min(1, (px * dx + py * dy) / length2)) : 0;
			const ex = px - s * dx;
			const ey = py - s * dy;
			const d = ex * ex + ey * ey;
			if (d > worst) {
				worst = d;
				at = i;
			}
		}
		if (at >= 0) {
			keep[at] = 1;
			stack.push(a, at, at, b);
		}
	}
	const out: number[] = [];
	for (let i = 0; i < n; i++) if (keep[i]) out.push(points[2 * i], points[2 * i + 1]);
	return Float64Array.from(out);
}
