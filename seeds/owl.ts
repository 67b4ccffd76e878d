/** An owl finial for a newel post: an invented commission, a closed figure that stands on a turned base, looking to −y. */
import { type Job, within } from "../core/job.ts";
import type { TriangleMesh } from "../core/scan/mesh.ts";
import { type Box, carve, type Stroke } from "./field.ts";
import { scanned } from "./noise.ts";
import { body, breastFeathers, tail, thighs, toe } from "./owlBody.ts";
import { head } from "./owlHead.ts";
import { wings } from "./owlWings.ts";
import { polygonise } from "./polygonise.ts";
import { turnedBase } from "./turnedBase.ts";

const BOX: Box = [-100, -100, -4, 100, 100, 418];
/** Gives about 290,000 triangles. */
const STEP_MM = 1.55;

const STROKES: readonly Stroke[] = [
	{ kind: "add", box: [-72, -72, 84, 72, 68, 330], blend: 0, field: body },
	{ kind: "add", box: [-52, -60, 86, 52, 6, 174], blend: 10, field: thighs },
	{ kind: "press", box: [-76, -76, 104, 76, 72, 304], blend: 0, field: breastFeathers },
	{ kind: "add", box: [-36, 30, 55, 36, 82, 192], blend: 6, field: tail },
	{ kind: "add", box: [-94, -70, 66, 94, 96, 326], blend: 5, field: wings },
	{ kind: "add", box: [-76, -80, 262, 76, 70, 414], blend: 7, field: head },
	{ kind: "add", box: [-78, -78, -2, 78, 78, 95], blend: 5, field: turnedBase },
	...[-24, 0, 24].map(
		(spread): Stroke => ({ kind: "add", box: [-60, -76, 54, 60, -14, 108], blend: 2, field: toe(spread) }),
	),
];

/** The owl itself, before anything scanned it. */
export const carveOwl = (step = STEP_MM): Job<TriangleMesh> =>
	polygonise(carve(STROKES, BOX), { box: BOX, step, inside: [0, 0, 208] });

/** Makes the owl's scan: millimetres, z up, the foot at z = 0. A finer step scans the same figure with more triangles. */
export function* makeOwl(step = STEP_MM): Job<TriangleMesh> {
	const clean = yield* within(carveOwl(step), 0, 0.9);
	return yield* within(scanned(clean, { seed: 412, grainMm: 0.05, driftMm: 0.05, patchMm: 14 }), 0.9, 1);
}
