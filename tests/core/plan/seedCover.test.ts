/** The demo figures at the default rounds, eye factor 1: what is claimed is not cut, enough is claimed, the rest has its reason. */

import { describe, expect, test } from "vitest";
import { finish } from "../../../core/job.ts";
import { DEFAULT_ROUNDS, roundSchema } from "../../../core/plan/commission.ts";
import { createPlanner } from "../../../core/plan/planner.ts";
import { vertexAreas } from "../../../core/surface/vertexNormals.ts";
import { demoInput, seedNames } from "../../support/demoPlans.ts";
import { proving } from "../../support/prove.ts";
import { bruteCover } from "../pointing/bruteJoin.ts";

const rounds = DEFAULT_ROUNDS.map((round) => roundSchema.parse({ ...round, eyeFactor: 1 })).slice(0, proving ? 4 : 2);

describe.each(proving ? seedNames : seedNames.slice(1))("%s", (figure) => {
	const { scan, commission } = demoInput(figure);
	const { plan, model, rounds: reports, waits } = finish(createPlanner().work(scan, { ...commission, rounds }));
	if (!plan || !model) throw new Error(JSON.stringify(waits));
	const areas = vertexAreas(model.mesh);
	// Drilled points stand on vertices of the mesh, to the millionth of a millimetre that the plan is written to.
	const keyOf = (at: ArrayLike<number>, i = 0): string => [0, 1, 2].map((k) => Math.round(at[i + k] * 1e6) + 0).join();
	const vertexOf = new Map(Array.from(areas, (_, v) => [keyOf(model.mesh.positions, 3 * v), v]));

	test.each(rounds.map((r, i) => [r.name, i] as const).filter(([, i]) => i > 0))("%s", (name, i) => {
		const points = plan.points
			.filter((p) => p.round <= i && !p.undercut)
			.map((p) => ({ vertex: vertexOf.get(keyOf(p.model_mm)) as number, position: p.model_mm, normal: p.normal }));
		expect(points.every(({ vertex }) => vertex !== undefined)).toBe(true);
		// The back that an open shell is given is never joined: facets run over the carved side alone.
		const carved = { ...model.mesh, triangles: model.mesh.triangles.slice(0, 3 * model.firstAddedTriangle) };
		const brute = bruteCover(carved, points, rounds[i].join_mm);
		let [cut, claimed] = [0, 0];
		for (const [v, area] of areas.entries()) {
			if (!reports[i].claimed[v]) continue;
			claimed += area;
			if (brute.nearest[v] < 0) cut += area;
		}
		const { points: placed, earlier, foreseen, claimedShare, unclaimed } = plan.rounds[i];
		console.info(
			`${figure}, ${name}: ${placed} placed beside ${earlier}, ${Math.round(foreseen)} foreseen, ${claimedShare} claimed, ${cut / claimed} of it cut`,
		);
		expect(cut / claimed).toBeLessThan(0.001);
		expect(claimedShare as number).toBeGreaterThan(name === "last net" ? 0.7 : 0.8);
		expect(unclaimed.every(({ reason }) => reason !== "")).toBe(true);
		expect(unclaimed.reduce((sum, { share }) => sum + share, claimedShare as number)).toBeCloseTo(1, 3);
	});
});
