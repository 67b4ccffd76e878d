/** How far the figure reaches in a direction, asked hundreds of thousands of times while turns are searched. */
import type { Vec3 } from "../vector.ts";
import type { Hull } from "./hull.ts";

/** The corners of a hull around its middle, each with the corners that it shares an edge with. */
export interface Body {
	/** x, y, z of the corners less `middle`, mm. */
	readonly corners: Float64Array;
	/** Middle of the axis-parallel bounds, in the frame of the hull. */
	readonly middle: readonly [number, number, number];
	/** Greatest distance of a corner from the middle, mm. */
	readonly radius: number;
	/** Where the neighbours of each corner start in `neighbours`; one more entry than corners. */
	readonly starts: Uint32Array;
	readonly neighbours: Uint32Array;
}

export function bodyOf(hull: Hull): Body {
	const { vertices, triangles } = hull;
	const count = vertices.length / 3;
	const low = [Infinity, Infinity, Infinity];
	const high = [-Infinity, -Infinity, -Infinity];
	for (let i = 0; i < vertices.length; i++) {
		low[i % 3] = Math.min(low[i % 3], vertices[i]);
		high[i % 3] = Math.max(high[i % 3], vertices[i]);
	}
	const middle = [(low[0] + high[0]) / 2, (low[1] + high[1]) / 2, (low[2] + high[2]) / 2] as const;
	const corners = vertices.map((x, i) => x - middle[i % 3]);
	let radius = 0;
	for (let i = 0; i < corners.length; i += 3) {
		radius = Math.max(
			radius,
			corners[i] * corners[i] + corners[i + 1] * corners[i + 1] + corners[i + 2] * corners[i + 2],
		);
	}
	// The triangles of a closed surface run every edge once each way, so counting one way finds every neighbour once.
	const starts = new Uint32Array(count + 1);
	for (const v of triangles) starts[v + 1]++;
	for (let v = 0; v < count; v++) starts[v + 1] += starts[v];
	const filled = starts.slice(0, count);
	const neighbours = new Uint32Array(triangles.length);
	for (let t = 0; t < triangles.length; t += 3) {
		for (let i = 0; i < 3; i++) neighbours[filled[triangles[t + i]]++] = triangles[t + ((i + 1) % 3)];
	}
	return { corners, middle, radius: Math.sqrt(radius), starts, neighbours };
}

/** A corner from the middle. */
export const cornerOf = ({ corners }: Body, v: number): Vec3 => [
	corners[3 * v],
	corners[3 * v + 1],
	corners[3 * v + 2],
];

/** The corner that lies furthest along (dx, dy, dz), found by climbing from corner `from` over the edges of the hull. */
export function furthestCorner(body: Body, from: number, dx: number, dy: number, dz: number): number {
	const { corners, starts, neighbours } = body;
	let at = from;
	let reach = corners[3 * at] * dx + corners[3 * at + 1] * dy + corners[3 * at + 2] * dz;
	for (;;) {
		let next = at;
		const end = starts[at + 1];
		for (let k = starts[at]; k < end; k++) {
			const v = neighbours[k];
			const r = corners[3 * v] * dx + corners[3 * v + 1] * dy + corners[3 * v + 2] * dz;
			if (r > reach) {
				reach = r;
				next = v;
			}
		}
		if (next === at) return at;
		at = next;
	}
}
