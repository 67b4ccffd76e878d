/**
 * High points: places that stand highest in their neighbourhood, as wide as the round's spacing (handbook 6).
 * The neighbourhood of a vertex is the connected ground within half a spacing of it; *highest* is along the mean normal
 * of that neighbourhood. Climbing from starts spread over the ground to the highest place, again and again, ends on
 * the noses, brows and knees. They are taken from the proudest down, a spacing apart.
 */

import type { Job } from "../job.ts";
import type { Ground, Surface } from "./ground.ts";

const STAGE = "finding the high points";
/** Starts of the climb stand this share of a spacing apart. */
const START_GAP = 0.25;
/** A climb that has not settled by then is on a ridge, where any place is as good. */
const MOST_STEPS = 24;
/** mm per mm of spacing: a place less proud of its neighbourhood than this is flat ground, not a high point. */
const LEAST_PROUD = 1 / 40;

/** A search for connected ground around a vertex, with its lists kept between calls. */
class Patch {
	readonly found: Int32Array;
	count = 0;
	private readonly stamp: Int32Array;
	private turn = 0;
	private readonly ground: Ground;
	private readonly surface: Surface;

	constructor(ground: Ground, surface: Surface) {
		this.ground = ground;
		this.surface = surface;
		this.found = new Int32Array(ground.areas.length);
		this.stamp = new Int32Array(ground.areas.length);
	}

	/** Fills `found` with the vertices joined to v within `radius` mm of it (straight), v first. */
	gather(v: number, radius: number): void {
		const p = this.ground.mesh.positions;
		const { neighbourStart, neighbourList } = this.surface.adjacency;
		const { found, stamp } = this;
		const turn = ++this.turn;
		const x = p[3 * v];
		const y = p[3 * v + 1];
		const z = p[3 * v + 2];
		const r2 = radius * radius;
		found[0] = v;
		stamp[v] = turn;
		let end = 1;
		for (let next = 0; next < end; next++) {
			const u = found[next];
			for (let i = neighbourStart[u]; i < neighbourStart[u + 1]; i++) {
				const w = neighbourList[i];
				if (stamp[w] === turn) continue;
				stamp[w] = turn;
				const dx = p[3 * w] - x;
				const dy = p[3 * w + 1] - y;
				const dz = p[3 * w + 2] - z;
				if (dx * dx + dy * dy + dz * dz <= r2) found[end++] = w;
			}
		}
		this.count = end;
	}
}

/** Vertices of the high points, from the proudest down; none nearer than a spacing to one of `taken` or to each other. */
export function* findHighPoints(
	ground: Ground,
	surface: Surface,
	spacing: Float32Array,
	taken: readonly number[],
	usable: (v: number) => boolean,
): Job<number[]> {
	const vertices = spacing.length;
	const { onRim } = surface.adjacency;
	const patch = new Patch(ground, surface);
	const covered = new Uint8Array(vertices);
	const ends = new Map<number, number>();
	const result = { highest: 0, proud: 0 };
	for (let v = 0, work = 0; v < vertices; v++) {
		if (covered[v] || !surface.carries[v]) continue;
		patch.gather(v, START_GAP * spacing[v]);
		for (let i = 0; i < patch.count; i++) covered[patch.found[i]] = 1;
		let at = v;
		for (let step = 0; step < MOST_STEPS; step++) {
			patch.gather(at, spacing[at] / 2);
			work += patch.count;
			highest(ground, patch, result);
			if (result.highest === at) break;
			at = result.highest;
		}
		// A place on a rim is highest only because the scan ends there.
		if (!onRim[at] && result.proud >= LEAST_PROUD * spacing[at]) ends.set(at, result.proud);
		if (work > 100_000) {
			work = 0;
			yield { stage: STAGE, share: v / vertices };
		}
	}
	const near = new Uint8Array(vertices);
	const claim = (v: number): void => {
		patch.gather(v, spacing[v]);
		for (let i = 0; i < patch.count; i++) near[patch.found[i]] = 1;
	};
	for (const v of taken) claim(v);
	const high: number[] = [];
	for (const [v] of [...ends].sort((a, b) => b[1] - a[1] || a[0] - b[0])) {
		if (near[v] || !usable(v)) continue;
		high.push(v);
		claim(v);
	}
	return high;
}

/** The highest vertex of the patch along its mean normal, and how proud it stands of the patch's centre, mm. */
function highest(ground: Ground, patch: Patch, target: { highest: number; proud: number }): void {
	const p = ground.mesh.positions;
	const { areas } = ground;
	const { normals } = ground.field;
	const { found, count } = patch;
	let nx = 0;
	let ny = 0;
	let nz = 0;
	let cx = 0;
	let cy = 0;
	let cz = 0;
	let sum = 0;
	for (let i = 0; i < count; i++) {
		const v = found[i];
		const a = areas[v];
		nx += a * normals[3 * v];
		ny += a * normals[3 * v + 1];
		nz += a * normals[3 * v + 2];
		cx += a * p[3 * v];
		cy += a * p[3 * v + 1];
		cz += a * p[3 * v + 2];
		sum += a;
	}
	const n = Math.sqrt(nx * nx + ny * ny + nz * nz);
	target.highest = found[0];
	target.proud = 0;
	if (!(n > 0 && sum > 0)) return;
	let best = Number.NEGATIVE_INFINITY;
	for (let i = 0; i < count; i++) {
		const v = found[i];
		const d = nx * p[3 * v] + ny * p[3 * v + 1] + nz * p[3 * v + 2];
		if (d > best || (d === best && v < target.highest)) {
			best = d;
			target.highest = v;
		}
	}
	target.proud = (best - (nx * cx + ny * cy + nz * cz) / sum) / n;
}
