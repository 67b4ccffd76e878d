/** Vertices that no triangle uses. */

import type { Job } from "../job.ts";
import type { TriangleMesh } from "./mesh.ts";

const STAGE = "leaving out loose vertices";
/** Vertices or corners handled between two yields. */
const SLICE = 1 << 19;

/** Leaves out the vertices that no triangle uses; the order of the others stays. `triangles` is renumbered in place. */
export function* withoutLoose(
	positions: Float64Array,
	triangles: Uint32Array,
	colours: Uint8Array | null,
): Job<{ mesh: TriangleMesh; loose: number }> {
	const n = positions.length / 3;
	const place = new Uint32Array(n);
	for (let from = 0; from < triangles.length; from += SLICE) {
		const to = Math.min(from + SLICE, triangles.length);
		for (let i = from; i < to; i++) place[triangles[i]] = 1;
		yield { stage: STAGE, share: 1 };
	}
	let kept = 0;
	for (let v = 0; v < n; v++) kept += place[v];
	if (kept === n) return { mesh: meshOf(positions, triangles, colours), loose: 0 };
	const keptPositions = new Float64Array(3 * kept);
	const keptColours = colours ? new Uint8Array(3 * kept) : null;
	let to = 0;
	for (let v = 0; v < n; v++) {
		if (place[v] === 0) continue;
		for (let k = 0; k < 3; k++) {
			keptPositions[3 * to + k] = positions[3 * v + k];
			if (keptColours && colours) keptColours[3 * to + k] = colours[3 * v + k];
		}
		place[v] = to++;
		if (v % SLICE === SLICE - 1) yield { stage: STAGE, share: 1 };
	}
	for (let from = 0; from < triangles.length; from += SLICE) {
		const end = Math.min(from + SLICE, triangles.length);
		for (let i = from; i < end; i++) triangles[i] = place[triangles[i]];
		yield { stage: STAGE, share: 1 };
	}
	return { mesh: meshOf(keptPositions, triangles, keptColours), loose: n - kept };
}

const meshOf = (positions: Float64Array, triangles: Uint32Array, colours: Uint8Array | null): TriangleMesh =>
	colours ? { positions, triangles, colours } : { positions, triangles };
