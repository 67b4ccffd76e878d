/** Simplifies a scan for drawing while it moves (meshoptimizer; quadric error metrics, Garland and Heckbert 1997). */

import { MeshoptSimplifier } from "meshoptimizer/simplifier";
import type { CoarseAsked, CoarseMade } from "../state/coarse.ts";
import { cutApart } from "./pieces.ts";

/** Triangles that a slow machine still turns smoothly. */
const COARSE_TRIANGLES = 120_000;
/** Share of the model's extent that the stand-in may lie off; it is seen for moments only. */
const MOST_OFF = 0.02;

self.onmessage = async ({ data }: MessageEvent<CoarseAsked>) => {
	await MeshoptSimplifier.ready;
	const [made] = MeshoptSimplifier.simplify(data.triangles, data.positions, 3, 3 * COARSE_TRIANGLES, MOST_OFF);
	const pieces = cutApart(made, data.positions.length / 3);
	const transfer = pieces.flatMap(({ vertices, corners }) => [vertices.buffer, corners.buffer]);
	self.postMessage({ version: data.version, pieces } satisfies CoarseMade, { transfer });
};
