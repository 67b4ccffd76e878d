/**
 * The stone that a flat join leaves over the finished surface: the cover of a vertex is its signed distance to the facet over
 * it, among the facets of its nearest point and of that point's neighbours (handbook 6).
 */

import type { Job } from "../job.ts";
import { type Facets, PLANE } from "./facets.ts";
import type { Surface } from "./ground.ts";

/** mm by which a projection may lie outside a facet's edge and still count as held, against rounding. */
const EDGE_SLACK = 1e-9;
const SLICE = 4096;

/** How a vertex was measured. */
export const NOT_MEASURED = 0;
/** The join ends short of it: no facet holds it. */
export const PAST_BORDER = 1;
/** Against a facet, and no other facet over it says worse than `floor`. */
export const HELD = 2;
/** The same, but a facet across the other diagonal, or one of a join that folds back over itself, runs under it past `floor`. */
export const DOUBTFUL = 3;

export interface Cover {
	/** Signed mm, positive while stone is left; NaN where not measured. */
	readonly cover: Float32Array;
	/** One of the four constants above. */
	readonly state: Uint8Array;
	/** How far a vertex past the border lies from the edge of the join, mm straight; 0 elsewhere. */
	readonly past: Float32Array;
}

export interface CoverAsked {
	readonly surface: Surface;
	/** Unit normals of the vertices, 3 each. */
	readonly normals: Float64Array;
	/** The seed to which each vertex belongs. */
	readonly label: Int32Array;
	readonly facets: Facets;
	/** The seeds, raised by the allowance, x, y, z, mm. */
	readonly raised: Float64Array;
	/** mm; see `DOUBTFUL`. */
	readonly floor: number;
	/** 1 for the seeds whose vertices are measured. */
	readonly dirty: Uint8Array;
	/** 1 for the vertices of those that are measured; null: all. */
	readonly sampled: Uint8Array | null;
	/** Where the cover is written. */
	readonly target: Cover;
}

/**
 * Measures the cover. Of several facets that hold the projection the nearest counts. Over an edge between two facets that
 * falls away from both, where neither holds it, the distance to the edge counts, with the sign of its facets.
 */
export function* measureCover(asked: CoverAsked, stage: string): Job<void> {
	const vertices = asked.label.length;
	for (let begin = 0; begin < vertices; begin += SLICE) {
		const end = Math.min(vertices, begin + SLICE);
		if (measureSlice(asked, begin, end)) yield { stage, share: begin / vertices };
	}
}

function measureSlice(asked: CoverAsked, begin: number, end: number): boolean {
	const { surface, normals, label, facets, raised, floor, dirty, sampled, target } = asked;
	const { planes, count, nearStart, nearList } = facets;
	const p = surface.mesh.positions;
	let measured = false;
	for (let v = begin; v < end; v++) {
		const s = label[v];
		if (s < 0 || !dirty[s] || (sampled && !sampled[v])) continue;
		measured = true;
		const x = p[3 * v];
		const y = p[3 * v + 1];
		const z = p[3 * v + 2];
		const nx = normals[3 * v];
		const ny = normals[3 * v + 1];
		const nz = normals[3 * v + 2];
		let best = Number.POSITIVE_INFINITY;
		let cover = Number.NaN;
		let least = Number.POSITIVE_INFINITY;
		let past = 0;
		let holder = -1;
		for (let i = nearStart[s]; i < nearStart[s + 1]; i++) {
			const at = PLANE * nearList[i];
			if (planes[at + 4] * x + planes[at + 5] * y + planes[at + 6] * z < planes[at + 7] - EDGE_SLACK) continue;
			if (planes[at + 8] * x + planes[at + 9] * y + planes[at + 10] * z < planes[at + 11] - EDGE_SLACK) continue;
			if (planes[at + 12] * x + planes[at + 13] * y + planes[at + 14] * z < planes[at + 15] - EDGE_SLACK) continue;
			// A facet that faces away belongs to the other side of a thin part; few do, so this is asked last.
			if (planes[at] * nx + planes[at + 1] * ny + planes[at + 2] * nz <= 0) continue;
			const d = planes[at + 3] - (planes[at] * x + planes[at + 1] * y + planes[at + 2] * z);
			if (d < least) least = d;
			if (nearList[i] < count && Math.abs(d) < best) {
				best = Math.abs(d);
				cover = d;
				holder = nearList[i];
			}
		}
		if (holder < 0) {
			const edge = nearestEdge(facets, raised, s, x, y, z, nx, ny, nz);
			if (edge.facet >= 0) {
				cover = edge.distance;
				holder = edge.facet;
			}
			past = edge.facet < 0 ? Math.abs(edge.distance) : 0;
		}
		target.cover[v] = cover;
		target.past[v] = past;
		target.state[v] = holder < 0 ? PAST_BORDER : least < floor && cover >= floor ? DOUBTFUL : HELD;
	}
	return measured;
}

const edgeResult = { facet: -1, distance: 0 };

/** Signed distance to the nearest edge among the facets near seed s; facet -1 when the join ends there. */
function nearestEdge(
	facets: Facets,
	raised: Float64Array,
	s: number,
	x: number,
	y: number,
	z: number,
	nx: number,
	ny: number,
	nz: number,
): { facet: number; distance: number } {
	const { corners, planes, count, across, onBorder, nearStart, nearList } = facets;
	let best = Number.POSITIVE_INFINITY;
	edgeResult.facet = -1;
	for (let i = nearStart[s]; i < nearStart[s + 1]; i++) {
		const f = nearList[i];
		if (f >= count) continue;
		const at = PLANE * f;
		if (planes[at] * nx + planes[at + 1] * ny + planes[at + 2] * nz <= 0) continue;
		for (let k = 0; k < 3; k++) {
			const from = corners[3 * f + k];
			const to = corners[3 * f + ((k + 1) % 3)];
			const a = 3 * from;
			const b = 3 * to;
			const ex = raised[b] - raised[a];
			const ey = raised[b + 1] - raised[a + 1];
			const ez = raised[b + 2] - raised[a + 2];
			const vx = x - raised[a];
			const vy = y - raised[a + 1];
			const vz = z - raised[a + 2];
			const t = Math.max(0, Math.min(1, (vx * ex + vy * ey + vz * ez) / (ex * ex + ey * ey + ez * ez)));
			const qx = t * ex - vx;
			const qy = t * ey - vy;
			const qz = t * ez - vz;
			const d = qx * qx + qy * qy + qz * qz;
			if (!(d < best)) continue;
			best = d;
			const other = across[3 * f + k];
			const past = t === 0 ? onBorder[from] === 1 : t === 1 ? onBorder[to] === 1 : other < 0;
			edgeResult.facet = past ? -1 : f;
			// The vertex lies under the join when it lies under its two facets taken together.
			const o = PLANE * (other < 0 ? f : other);
			const side =
				qx * (planes[at] + planes[o]) + qy * (planes[at + 1] + planes[o + 1]) + qz * (planes[at + 2] + planes[o + 2]);
			edgeResult.distance = side < 0 ? -Math.sqrt(d) : Math.sqrt(d);
		}
	}
	return edgeResult;
}
