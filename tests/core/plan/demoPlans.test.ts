import { describe, expect, it } from "vitest";
import type { Triangle } from "../../../core/datum/seatError.ts";
import { aimOf, drillOf } from "../../../core/drilling/drill.ts";
import { createLineSearch } from "../../../core/drilling/lineSearch.ts";
import { finish } from "../../../core/job.ts";
import { planSchema } from "../../../core/plan/planFile.ts";
import { seededRandom } from "../../../core/random.ts";
import { buildSurfaceIndex } from "../../../core/surface/surfaceIndex.ts";
import { vertexAreas } from "../../../core/surface/vertexNormals.ts";
import { depthShown } from "../../../core/text/length.ts";
import { along, distance, length, type Placement, place, type Vec3 } from "../../../core/vector.ts";
import { demoPlan, planAnew, seedNames } from "../../support/demoPlans.ts";
import { placeFromLengths } from "../../support/placeFromLengths.ts";

describe.each(seedNames)("the plan of the %s", (name) => {
	const { plan, answers, commission } = demoPlan(name);
	const drilled = plan.points.filter((p) => !p.undercut);

	it("is a valid document with its numbers in order of work", () => {
		expect(planSchema.parse(JSON.parse(JSON.stringify(plan)))).toEqual(plan);
		expect(plan.points.map((p) => p.number)).toEqual(plan.points.map((_, i) => i + 1));
		expect(drilled.length).toBeGreaterThan(100);
	});

	it("fits its block, proved", () => {
		expect(plan.stone.fits).toBe(true);
		expect(plan.stone.certified).toBe(true);
		const mesh = answers.model?.mesh;
		if (!mesh) throw new Error("no model");
		const placement = plan.stone.placement as Placement;
		let least = Number.POSITIVE_INFINITY;
		for (let i = 0; i < mesh.positions.length; i += 3) {
			const at = place(placement, [mesh.positions[i], mesh.positions[i + 1], mesh.positions[i + 2]]);
			for (let k = 0; k < 3; k++) least = Math.min(least, at[k], plan.stone.extent_mm[k] - at[k]);
		}
		expect(least).toBeCloseTo(plan.stone.clearance_mm, 5);
	});

	it("counts depth from the skin to the tip, and rounds it short", () => {
		for (const point of drilled) {
			const target = place(plan.stone.placement as Placement, point.model_mm);
			expect(length(point.line!)).toBeCloseTo(1, 9);
			const tip = along(target, point.line!, point.stop_mm!);
			expect(distance(along(point.entry_mm!, point.line!, -point.depth_mm!), tip)).toBeLessThan(1e-4);
			expect(depthShown(point.depth_mm!, "mm")).toBeLessThanOrEqual(point.depth_mm!);
			expect(point.lean_deg!.every((lean) => lean * 2 === Math.round(lean * 2))).toBe(true);
			const onSkin = point.entry_mm!.map((x, k) => Math.min(Math.abs(x), Math.abs(plan.stone.extent_mm[k] - x)));
			expect(Math.min(...onSkin)).toBeLessThan(1e-5);
		}
	});

	it("gives calliper lengths that meet at the target and at the floor of the hole", () => {
		const [set] = plan.datumSets;
		const onModel = set.datums.map((d) => d.model_mm) as unknown as Triangle;
		const inStone = set.datums.map((d) => d.stone_mm) as unknown as Triangle;
		const placement = plan.stone.placement as Placement;
		for (const datum of set.datums)
			expect(distance(place(placement, datum.model_mm), datum.stone_mm)).toBeLessThan(1e-5);
		for (const point of drilled) {
			const onBench = point.callipers_mm!.model;
			const target = ([1, -1] as const).map((side) => placeFromLengths(onModel, onBench, side, 0.1));
			expect(Math.min(...target.map((p) => (p ? distance(p, point.model_mm) : 1e9)))).toBeLessThan(0.02);
			const floor = along(place(placement, point.model_mm), point.line!, point.stop_mm!);
			const met = ([1, -1] as const).map((side) => placeFromLengths(inStone, point.callipers_mm!.stone, side, 0.1));
			expect(Math.min(...met.map((p) => (p ? distance(p, floor) : 1e9)))).toBeLessThan(0.02);
		}
	});

	// The share that the issue of the demo scans asks for, by drill lines with the plan's own tools and aim.
	it("has at least 5 % of its area in undercuts and at least 85 % within reach, 1,000 places by area, seed 1", () => {
		const { model, stone, field } = answers;
		if (!model || !stone || !field) throw new Error("no answers");
		const { lines, lies, rounds } = commission;
		const search = createLineSearch({
			index: finish(buildSurfaceIndex(model.mesh)),
			stone: stone.stone,
			placement: stone.fit.placement,
			lies,
			coneDeg: lines.cone_deg,
			leanDeg: lines.lean_deg,
			outsideMm: lines.outside_mm,
			aim: aimOf(plan.transfer, commission.aim),
		});
		// The back that was added is no part of the figure.
		const { positions, triangles } = model.mesh;
		const upTo = vertexAreas({ positions, triangles: triangles.subarray(0, 3 * model.firstAddedTriangle) });
		for (let v = 1; v < upTo.length; v++) upTo[v] += upTo[v - 1];
		const random = seededRandom(1);
		const drill = drillOf(rounds[rounds.length - 1].tool);
		let reached = 0;
		for (let i = 0; i < 1000; i++) {
			const area = random.next() * upTo[upTo.length - 1];
			const v = upTo.findIndex((sum) => sum > area);
			const at = (list: Float64Array): Vec3 => [list[3 * v], list[3 * v + 1], list[3 * v + 2]];
			if (search.reaches({ position: at(model.mesh.positions), normal: at(field.normals) }, drill, 2)) reached++;
		}
		console.info(`${name}: ${reached / 10} % within reach of drill lines`);
		expect(reached).toBeLessThanOrEqual(950);
		expect(reached).toBeGreaterThanOrEqual(850);
	});

	it("is the same to the byte when it is planned again from nothing", () => {
		expect(JSON.stringify(planAnew(name).plan)).toBe(JSON.stringify(plan));
	});
});
