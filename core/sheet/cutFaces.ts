/** The faces that the cuts leave, as seen from outside: zero corner, arrows, and where drill lines enter. */

import type { Plan } from "../plan/planFile.ts";
import { layFlat } from "./faceDrawing.ts";
import { sketchRows } from "./faceSketches.ts";
import type { Flow } from "./flow.ts";

const TALLEST = 58;

export function cutFaceSketches(flow: Flow, plan: Plan): void {
	const cutNames = new Set(plan.cuts.map((cut) => cut.name));
	const flats = (plan.afterCuts?.faces ?? [])
		.filter((face) => cutNames.has(face.name))
		.map((face) => layFlat(plan, face));
	if (flats.length === 0) return;
	flow.heading("The faces that the cuts leave, as seen from outside", TALLEST + 24);
	flow.paragraph(
		"Measured from the corner with the red spot, along the edge beside the arrow u, so that no place on the face lies before it. Each is drawn with v upwards, however it lies on the stone.",
	);
	flow.gap(2);
	sketchRows(flow, plan, flats, TALLEST);
}
