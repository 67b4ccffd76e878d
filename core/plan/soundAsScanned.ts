/** The verdict on a scan as it lies in its file, before anything is mended. */

import { listShells } from "../scan/shellList.ts";
import { judgeSoundness, type Soundness } from "../scan/soundness.ts";
import type { OpenedScan } from "./answers.ts";
import { newCommission } from "./commission.ts";

/** `mm` to a unit of the scan. */
export function soundAsScanned({ name, file, health }: OpenedScan, mm: number): Soundness {
	const { shellOf, loops, flippedTriangles } = health.places;
	const inward = health.volume !== null && health.volume < 0;
	return judgeSoundness({
		health,
		// The planner turns a scan that faces inwards over as a whole.
		flipped: inward ? health.triangles - flippedTriangles.length : flippedTriangles.length,
		pieces: listShells(file.mesh, shellOf, health.shells).shells.map(({ area }) => area),
		rims: Array.from(loops.length, (length) => length * mm),
		area: health.area * mm * mm,
		done: newCommission(name).scan.mend,
	});
}
