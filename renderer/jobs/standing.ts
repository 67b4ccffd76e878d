/** What the window is told of the model as it stands. */

import type { ModelAnswer, ThicknessAnswer } from "../../core/plan/answers.ts";
import { type Finding, findingsOf } from "../../core/scan/findings.ts";
import { type TriangleMesh, triangleCount } from "../../core/scan/mesh.ts";
import type { ModelShown, Standing, ThicknessShown } from "./shown.ts";

export function modelShown({ mesh: _, health, ...rest }: ModelAnswer): ModelShown {
	const { places: __, ...light } = health;
	return { ...rest, health: light };
}

export function standingOf(model: ModelAnswer, normals: Float64Array): Standing {
	const { mesh, health, turnedOver } = model;
	const { flippedTriangles } = health.places;
	// Turned over as a whole, what faced the wrong way faces the right one, and the other way round.
	const places = turnedOver ? { ...health.places, flippedTriangles: others(mesh, flippedTriangles) } : health.places;
	const findings = findingsOf(mesh, normals, { ...health, places });
	return { model: modelShown(model), findings };
}

/** The triangles that are not in the rising list. */
function others(mesh: TriangleMesh, list: Uint32Array): Uint32Array {
	const rest = new Uint32Array(triangleCount(mesh) - list.length);
	for (let t = 0, i = 0, to = 0; t < triangleCount(mesh); t++) {
		if (list[i] === t) i++;
		else rest[to++] = t;
	}
	return rest;
}

/** The buffers that go along. */
export const findingBuffers = (findings: readonly Finding[]): Transferable[] =>
	findings.flatMap(({ places }) => places.map(({ lines }) => lines.buffer));

export const thicknessShown = ({ thickness, marks, parts }: ThicknessAnswer): ThicknessShown => ({
	thickness: Float32Array.from(thickness),
	marks: Uint8Array.from(marks),
	parts,
});
