/** Takes from lines on the figure what a viewer sees of them, as polylines in the view plane. */

import { dropDoubled } from "./doubledLines.ts";
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
	/** Lines that are shorter than this as a whole, seen or not, are specks of noise and are left out, mm on the surface. */
	readonly shortest: number;
	/** Visible pieces shorter than this are left out, mm in the view. */
	readonly shortestPiece: number;
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
const OUTWARD_STEPS: readonly number[] = [0.04, 0.2, 0.45];
/** Along a hidden stretch it is looked only every so many mm; what shows for less may be missed. */
const HIDDEN_STRIDE = 0.4;
/** Halvings between a seen and an unseen place. */
const HALVINGS = 5;

/** Visible pieces of the chains, thinned out: x0, y0, x1, y1, … in mm of the view plane. */
export function visiblePieces(sight: Sight, lines: LevelLines, outward: Outward | null = null): Float64Array[] {
	const chains = lines.chains.filter((chain) => chainReaches(sight, lines, chain));
	const runs = traceVisible(sight, { ...lines, chains }, outward);
	return (outward ? dropDoubled(runs, sight.step) : runs)
		.filter((run) => lengthInView(run) >= sight.shortestPiece)
		.map((run) => thinOut(run, sight.thinning));
}

/** Whether a chain is at least as long as the shortest line that is drawn. */
function chainReaches(sight: Sight, lines: LevelLines, chain: readonly number[]): boolean {
	const { xs, ys, zs } = sight.projection;
	const { from, to, share } = lines;
	let length = 0;
	let [x, y, z] = [0, 0, 0];
	for (let i = 0; i < chain.length; i++) {
		const a = from[chain[i]];
		const b = to[chain[i]];
		const s = share[chain[i]];
		const px = xs[a] + s * (xs[b] - xs[a]);
		const py = ys[a] + s * (ys[b] - ys[a]);
		const pz = zs[a] + s * (zs[b] - zs[a]);
		if (i > 0) length += Math.sqrt((px - x) * (px - x) + (py - y) * (py - y) + (pz - z) * (pz - z));
		if (length >= sight.shortest) return true;
		x = px;
		y = py;
		z = pz;
	}
	return false;
}

/** All visible runs of the chains as they were looked at: x, y where drawn and the line's depth z, three numbers a place. */
export function traceVisible(sight: Sight, lines: LevelLines, outward: Outward | null = null): number[][] {
	const { xs, ys, zs } = sight.projection;
	const runs: number[][] = [];
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
		for (let i = 0; i < OUTWARD_STEPS.length; i++) {
			const s = OUTWARD_STEPS[i];
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
	const close = (): void => {
		if (run.length >= 6) runs.push(run);
		run = [];
	};
	const last = new Float64Array(5);
	for (const chain of lines.chains) {
		nodeAt(chain[0], previous);
		last.set(previous);
		let open = seen(previous);
		if (open) run.push(shown[0], shown[1], previous[2]);
		let finelyUntil = 0;
		for (let i = 1; i < chain.length; i++) {
			nodeAt(chain[i], place);
			let gap = inViewApart(place, previous);
			if (open) {
				// Nodes closer together than half a step add nothing that would be seen.
				while (gap < 0.5 * sight.step && i + 1 < chain.length) {
					nodeAt(chain[++i], place);
					gap = inViewApart(place, previous);
				}
			} else if (i > finelyUntil) {
				let j = i;
				for (let way = gap; way < HIDDEN_STRIDE && j + 1 < chain.length; j++) {
					nodeAt(chain[j + 1], probe);
					way += inViewApart(probe, place);
					place.set(probe);
				}
				if (!seen(place)) {
					previous.set(place);
					last.set(place);
					i = j;
					continue;
				}
				// Something shows at the end of the stride: walk it again, finely.
				finelyUntil = j;
				nodeAt(chain[i], place);
			}
			const steps = Math.max(1, Math.ceil(gap / sight.step));
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
					run.push(shown[0], shown[1], middle[2]);
					if (open) close();
				}
				if (now) {
					seen(probe);
					run.push(shown[0], shown[1], probe[2]);
				}
				open = now;
				last.set(probe);
			}
			previous.set(place);
		}
		close();
	}
	return runs;
}

const scratch = new Float64Array(5);

const inViewApart = (p: Float64Array, q: Float64Array): number => {
	const dx = p[0] - q[0];
	const dy = p[1] - q[1];
	return Math.sqrt(dx * dx + dy * dy);
};

function lengthInView(run: readonly number[]): number {
	let sum = 0;
	for (let i = 3; i < run.length; i += 3) {
		const dx = run[i] - run[i - 3];
		const dy = run[i + 1] - run[i - 2];
		sum += Math.sqrt(dx * dx + dy * dy);
	}
	return sum;
}

/** x and y of a run (three numbers a place) without the corners that lie within `tolerance` of the line left (Douglas and Peucker 1973). */
export function thinOut(points: ArrayLike<number>, tolerance: number): Float64Array {
	const n = points.length / 3;
	const keep = new Uint8Array(n);
	keep[0] = 1;
	keep[n - 1] = 1;
	const stack = [0, n - 1];
	while (stack.length > 0) {
		const b = stack.pop() as number;
		const a = stack.pop() as number;
		const ax = points[3 * a];
		const ay = points[3 * a + 1];
		const dx = points[3 * b] - ax;
		const dy = points[3 * b + 1] - ay;
		const length2 = dx * dx + dy * dy;
		let worst = tolerance * tolerance;
		let at = -1;
		for (let i = a + 1; i < b; i++) {
			const px = points[3 * i] - ax;
			const py = points[3 * i + 1] - ay;
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
	for (let i = 0; i < n; i++) if (keep[i]) out.push(points[3 * i], points[3 * i + 1]);
	return Float64Array.from(out);
}
