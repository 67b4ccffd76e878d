/** Stone between every vertex of the placed figure and the nearest face of its stone. */

import type { StoneFace } from "../../core/stone/block.ts";
import { dot, type Placement, turnBack } from "../../core/vector.ts";

/**
 * mm at a vertex, square to the nearest face; negative where the figure stands out. `positions`: model frame, 3 a vertex.
 * Asked vertex by vertex, because all of a great scan at once would hold the window up.
 */
export function gapToFaces(
	positions: Float32Array,
	{ rotation, translation }: Placement,
	faces: readonly Pick<StoneFace, "normal" | "offset">[],
): (vertex: number) => number {
	// Faces in the model frame, so that no vertex is turned: n · (R x + t) ≤ b is (Rᵀn) · x ≤ b − n · t.
	const planes = new Float64Array(4 * faces.length);
	faces.forEach(({ normal, offset }, i) => {
		planes.set([...turnBack(rotation, normal), offset - dot(normal, translation)], 4 * i);
	});
	return (v) => {
		let least = Number.POSITIVE_INFINITY;
		for (let p = 0; p < planes.length; p += 4) {
			const gap =
				planes[p + 3] -
				planes[p] * positions[3 * v] -
				planes[p + 1] * positions[3 * v + 1] -
				planes[p + 2] * positions[3 * v + 2];
			if (gap < least) least = gap;
		}
		return least;
	};
}
