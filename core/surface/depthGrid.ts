/**
 * How deep places lie inside a closed surface, looked up in a grid: a few nanoseconds instead of microseconds, good to a
 * fraction of a cell. For searches; what is found is measured on the surface itself afterwards.
 */

import type { Job } from "../job.ts";
import type { RayHit, SurfaceIndex } from "./surfaceIndex.ts";

export interface DepthGrid {
	readonly origin: readonly [number, number, number];
	/** mm between nodes, the same along all axes. */
	readonly step: number;
	readonly counts: readonly [number, number, number];
	/** mm, positive inside; x runs fastest. */
	readonly depth: Float64Array;
}

/** Nodes along the longest side. */
const NODES = 44;
/** Cells beyond the surface on every side. */
const AROUND = 2;

export function* depthGrid(surface: SurfaceIndex): Job<DepthGrid> {
	const { positions } = surface.mesh;
	const min = [Infinity, Infinity, Infinity];
	const max = [-Infinity, -Infinity, -Infinity];
	for (let i = 0; i < positions.length; i++) {
		min[i % 3] = Math.min(min[i % 3], positions[i]);
		max[i % 3] = Math.max(max[i % 3], positions[i]);
	}
	const longest = Math.max(max[0] - min[0], max[1] - min[1], max[2] - min[2]);
	const step = longest / (NODES - 1);
	// A little off the lattice of the surface's own numbers, so that no column of nodes runs along a sawn face.
	const origin = [0, 1, 2].map((k) => min[k] - (AROUND + 0.1307 + 0.0171 * k) * step);
	const counts = [0, 1, 2].map((k) => Math.ceil((max[k] - origin[k]) / step) + AROUND + 1);
	const [nx, ny, nz] = counts;
	const depth = new Float64Array(nx * ny * nz);
	const point: [number, number, number] = [0, 0, 0];
	const close = { distance: 0, triangle: 0, x: 0, y: 0, z: 0 };
	const hit: RayHit = { distance: 0, triangle: 0 };
	for (let j = 0; j < ny; j++) {
		for (let i = 0; i < nx; i++) {
			point[0] = origin[0] + i * step;
			point[1] = origin[1] + j * step;
			// Up the column: every crossing turns outside into inside and back.
			let low = origin[2];
			let crossing = nextCrossing(surface, point, low, longest, hit);
			let inside = false;
			for (let k = 0; k < nz; k++) {
				const z = origin[2] + k * step;
				while (crossing < z) {
					inside = !inside;
					low = crossing + 1e-9 * longest;
					crossing = nextCrossing(surface, point, low, longest, hit);
				}
				point[2] = z;
				const distance = surface.closestPoint(point, Number.POSITIVE_INFINITY, close)?.distance ?? 0;
				depth[i + nx * (j + ny * k)] = inside ? distance : -distance;
			}
		}
		yield { stage: "sounding the stone", share: j / ny };
	}
	return { origin: [origin[0], origin[1], origin[2]], step, counts: [nx, ny, nz], depth };
}

const UPWARDS = [0, 0, 1] as const;

function nextCrossing(
	surface: SurfaceIndex,
	column: [number, number, number],
	from: number,
	size: number,
	hit: RayHit,
): number {
	column[2] = from;
	return surface.castRay(column, UPWARDS, 4 * size, hit) ? from + hit.distance : Infinity;
}

/** Depth and its gradient at a place, between the nodes; outside of the grid less by the way to it. `into`: depth, x, y, z. */
export function depthAt(grid: DepthGrid, x: number, y: number, z: number, into: Float64Array): void {
	const { origin, step, counts, depth } = grid;
	const [nx, ny, nz] = counts;
	const gx = (x - origin[0]) / step;
	const gy = (y - origin[1]) / step;
	const gz = (z - origin[2]) / step;
	const cx = Math.min(nx - 1.000001, Math.max(0, gx));
	const cy = Math.min(ny - 1.000001, Math.max(0, gy));
	const cz = Math.min(nz - 1.000001, Math.max(0, gz));
	const i = Math.floor(cx);
	const j = Math.floor(cy);
	const k = Math.floor(cz);
	const u = cx - i;
	const v = cy - j;
	const w = cz - k;
	const at = i + nx * (j + ny * k);
	const up = nx * ny;
	const d000 = depth[at];
	const d100 = depth[at + 1];
	const d010 = depth[at + nx];
	const d110 = depth[at + nx + 1];
	const d001 = depth[at + up];
	const d101 = depth[at + up + 1];
	const d011 = depth[at + up + nx];
	const d111 = depth[at + up + nx + 1];
	const a00 = d000 + u * (d100 - d000);
	const a10 = d010 + u * (d110 - d010);
	const a01 = d001 + u * (d101 - d001);
	const a11 = d011 + u * (d111 - d011);
	const b0 = a00 + v * (a10 - a00);
	const b1 = a01 + v * (a11 - a01);
	const offX = gx - cx;
	const offY = gy - cy;
	const offZ = gz - cz;
	const off = Math.sqrt(offX * offX + offY * offY + offZ * offZ);
	into[0] = b0 + w * (b1 - b0) - off * step;
	const s = 1 / step;
	if (off > 0) {
		into[1] = -offX / off;
		into[2] = -offY / off;
		into[3] = -offZ / off;
		return;
	}
	const e0 = d100 - d000 + v * (d110 - d010 - d100 + d000);
	const e1 = d101 - d001 + v * (d111 - d011 - d101 + d001);
	into[1] = (e0 + w * (e1 - e0)) * s;
	into[2] = (a10 - a00 + w * (a11 - a01 - a10 + a00)) * s;
	into[3] = (b1 - b0) * s;
}
