/** Marked areas in gold over whatever else colour says. */

import type { GoldBrush } from "../state/gilding.ts";
import type { Place } from "./picker.ts";
import type { VertexLook } from "./vertexLook.ts";

/** Green of plain plaster, about. */
const PLAIN_GREEN = 50000;
/** Linear, 16 bit: sRGB 196, 148, 44. */
const GOLD = [36040, 19350, 1680] as const;

/**
 * Share of gold at every vertex: what the planner has found, and what the brush that is still down goes over (without its
 * creases, which are found when it is lifted). null where nothing is marked.
 */
export function goldMarked(
	positions: ArrayLike<number>,
	found: Float32Array | null,
	draft: readonly Place[],
	{ kind, radius_mm, adds }: GoldBrush,
): Float32Array | null {
	const vertices = positions.length / 3;
	const known = found?.length === vertices ? found : null;
	if (draft.length === 0 || kind === "fill") return known;
	const marked = known ? Float32Array.from(known) : new Float32Array(vertices);
	const within = radius_mm * radius_mm;
	for (const { position } of draft)
		for (let v = 0; v < vertices; v++) {
			const x = positions[3 * v] - position[0];
			const y = positions[3 * v + 1] - position[1];
			const z = positions[3 * v + 2] - position[2];
			if (x * x + y * y + z * z <= within) marked[v] = adds ? 1 : 0;
		}
	return marked;
}

export function goldOver(look: VertexLook, marked: Float32Array): VertexLook {
	return {
		...look,
		paint(v, colours, at) {
			look.paint(v, colours, at);
			const share = marked[v] ?? 0;
			if (share === 0) return;
			// Light and hollow of what lies under it stay to be seen: gold is dimmed as plaster is.
			const light = Math.min(1, colours[at + 1] / PLAIN_GREEN);
			for (let k = 0; k < 3; k++) colours[at + k] = (1 - share) * colours[at + k] + share * GOLD[k] * light;
		},
	};
}
