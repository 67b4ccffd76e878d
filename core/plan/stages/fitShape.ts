/** The figure's best place in a stone, however the stone is described. */

import type { Job } from "../../job.ts";
import type { TriangleMesh } from "../../scan/mesh.ts";
import type { FitOptions, StoneFit } from "../../stone/fitBlock.ts";
import { fitScanned } from "../../stone/fitScanned.ts";
import { fitStone } from "../../stone/fitStone.ts";
import type { Hull } from "../../stone/hull.ts";
import type { StoneShape } from "./stoneShape.ts";

/** `figure` is asked about only in a scanned stone; `held` is its hull with the holding foot. */
export const fitShape = (
	figure: TriangleMesh,
	held: Hull,
	{ scanned, stone }: StoneShape,
	options: FitOptions,
): Job<StoneFit> => (scanned ? fitScanned(figure, held, scanned, options) : fitStone(held, stone, options));
