/** By how much a stone falls short. */

import { FACES_ALONG, type StoneFit } from "./fitBlock.ts";

/**
 * By how much the block falls short along x, y and z in the best placement, mm; 0 where it does not. A single length, what lacks
 * at the tightest face, where that cannot be told by sides: an offcut, whose faces lie in no pairs, and a figure that was moved
 * too near to one face of a block with room enough.
 */
export function lacksOf({ gaps, spare }: Pick<StoneFit, "gaps" | "spare">): number[] {
	if (!FACES_ALONG.flat().every((face) => gaps.some((g) => g.face === face))) return [-spare];
	const lacks = FACES_ALONG.map((pair) => {
		const over = gaps.filter((g) => pair.some((face) => face === g.face)).reduce((sum, g) => sum + g.gap - g.margin, 0);
		return Math.max(0, -over);
	});
	return lacks.some((lack) => lack > 0) ? lacks : [-spare];
}
