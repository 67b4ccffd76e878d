/** Marked areas in gold over whatever else colour says. */

import type { GoldBrush } from "../state/gilding.ts";
import { createDabGrid } from "./dabGrid.ts";
import type { Place } from "./picker.ts";
import type { VertexLook, VertexValue } from "./vertexLook.ts";

/** Green of plain plaster, about. */
const PLAIN_GREEN = 50000;
/** Linear, 16 bit: sRGB 196, 148, 44. */
const GOLD = [36040, 19350, 1680] as const;

/**
 * Share of gold at a vertex: what the planner has found, and what the brush that is still down goes over (without its
 * creases, which are found when it is lifted). null where nothing is marked.
 */
export function goldMarked(
	positions: ArrayLike<number>,
	found: Float32Array | null,
	draft: readonly Place[],
	{ kind, radius_mm, adds }: GoldBrush,
): VertexValue | null {
	const known = found?.length === positions.length / 3 ? found : null;
	const before: VertexValue | null = known && ((v) => known[v]);
	if (draft.length === 0 || kind === "fill") return before;
	const near = createDabGrid(draft.map(({ position }) => ({ at: position, radius: radius_mm })));
	return (v) => {
		const [x, y, z] = [positions[3 * v], positions[3 * v + 1], positions[3 * v + 2]];
		for (const dab of near(x, y, z)) {
			const { position: at } = draft[dab];
			const [dx, dy, dz] = [x - at[0], y - at[1], z - at[2]];
			if (dx * dx + dy * dy + dz * dz <= radius_mm * radius_mm) return adds ? 1 : 0;
		}
		return before ? before(v) : 0;
	};
}

export function goldOver(look: VertexLook, marked: VertexValue): VertexLook {
	return {
		...look,
		paint(v, colours, at) {
			look.paint(v, colours, at);
			const share = marked(v);
			if (share === 0) return;
			// Light and hollow of what lies under it stay to be seen: gold is dimmed as plaster is.
			const light = Math.min(1, colours[at + 1] / PLAIN_GREEN);
			for (let k = 0; k < 3; k++) colours[at + k] = (1 - share) * colours[at + k] + share * GOLD[k] * light;
		},
	};
}
