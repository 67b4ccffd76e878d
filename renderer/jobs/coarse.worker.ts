/** Simplifies a scan for drawing while it moves (meshoptimizer; quadric error metrics, Garland and Heckbert 1997). */

import { MeshoptSimplifier } from "meshoptimizer/simplifier";
import type { CoarseAsked, CoarseMade } from "../state/coarse.ts";

/** Triangles that a slow machine still turns smoothly. */
const COARSE_TRIANGLES = 120_000;
/** Share of the model's extent that the stand-in may lie off; it is seen for moments only. */
const MOST_OFF = 0.02;

self.onmessage = async ({ data }: MessageEvent<CoarseAsked>) => {
	await MeshoptSimplifier.ready;
	const [made] = MeshoptSimplifier.simplify(data.triangles, data.positions, 3, 3 * COARSE_TRIANGLES, MOST_OFF);
	const triangles = made.slice() as Uint32Array<ArrayBuffer>;
	self.postMessage({ version: data.version, triangles } satisfies CoarseMade, { transfer: [triangles.buffer] });
};
