import { describe, expect, it } from "vitest";
import { solidOf } from "../../../core/cuts/convexSolid.ts";
import { describeCut } from "../../../core/cuts/describeCut.ts";
import { USUAL_SAWS } from "../../../core/cuts/saws.ts";
import { planFaces } from "../../../core/plan/parts/planStone.ts";
import type { Plan } from "../../../core/plan/planFile.ts";
import { seededRandom } from "../../../core/random.ts";
import { outlineIn } from "../../../core/sheet/cutDrawing.ts";
import { cutPages } from "../../../core/sheet/cutPages.ts";
import { PAPER_SIZES } from "../../../core/sheet/paper.ts";
import { readFonts } from "../../../core/sheet/sheetPdf.ts";
import { stoneCut, stoneOf } from "../../../core/stone/block.ts";
import { dot, unit, type Vec3 } from "../../../core/vector.ts";
import { handPlan } from "../../support/handPlan.ts";
import { sheetFonts } from "../../support/sheetFonts.ts";

/** The hand-made plan with one cut off its top back edge. */
function withCut(): { plan: Plan; mesh: ReturnType<typeof handPlan>["mesh"] } {
	const { plan, mesh } = handPlan({ points: 12 });
	const size = plan.stone.extent_mm as Vec3;
	const stone = stoneOf({ kind: "box", size });
	const normal = unit([0, 1, 1]);
	const plane = { normal, offset: dot(normal, [0, size[1], size[2] - 20]) };
	const saw = USUAL_SAWS["hand disc"];
	const report = describeCut(solidOf(stone), plane, "cut 1", "bed", saw, [2600, 2800]);
	if (report === null) throw new Error("the cut takes nothing");
	const left = stoneCut(stone, [{ name: "cut 1", ...plane }]);
	return {
		mesh,
		plan: {
			...plan,
			stone: { ...plan.stone, faces: planFaces(stone) },
			saw: { kind: saw.kind, allowance_mm: 25, kerf_mm: 4, reach_mm: 125, removableWaste_mm3: 5e6 },
			stopCuts: [],
			afterCuts: { volume_mm3: left.volume, mass_kg: [50, 60], faces: planFaces(left) },
			cuts: [
				{
					name: "cut 1",
					by: "proposed",
					plane: [...normal, plane.offset],
					removed_mm3: report.volume,
					removed_kg: 31,
					removedRange_kg: [28, 31],
					marks: report.marks.map((m) => ({
						edge: m.faces.join(" / "),
						from: m.from,
						distance_mm: m.distance,
						at_mm: [...m.at],
					})),
					outline_mm: report.section.map((at) => [...at]),
					spare_mm: 0,
					nearest: "the figure",
					sides: report.sides,
					loose: report.loose,
					wasteShare: 0.31,
					stands: true,
					tipping_mm: 90,
				},
			],
		},
	};
}

describe("the pages of the cuts", () => {
	it("draw each cut with its marks, weight, props and cautions, and the face that it leaves", () => {
		const { plan, mesh } = withCut();
		const pages = cutPages(readFonts(sheetFonts()), plan, mesh, PAPER_SIZES.A4);
		const words = pages.flatMap((page) =>
			page.drawing.shapes.flatMap((shape) => (shape.kind === "text" ? [shape.text] : [])),
		);
		const all = words.join(" ");
		for (const { edge, from, distance_mm } of plan.cuts[0].marks)
			expect(all).toContain(`${edge}: ${distance_mm.toFixed(1)} from ${from}`);
		for (const part of [
			"cut 1",
			"28.0 to 31.0 kg",
			"over the 25 kg of the HSE guideline",
			"Kickback",
			"Pinch",
			"Dust",
			"SafeWork NSW",
			"leave the line",
			"slides down the cut",
		])
			expect(all).toContain(part);
		// Nothing runs out of the paper.
		for (const { drawing } of pages)
			for (const shape of drawing.shapes)
				if (shape.kind === "lines")
					for (const l of shape.lines)
						for (let i = 0; i < l.length; i += 2) {
							expect(l[i]).toBeGreaterThan(0);
							expect(l[i]).toBeLessThan(drawing.width);
						}
	});

	it("are none where nothing is sawn", () => {
		const { plan, mesh } = handPlan({ points: 4 });
		expect(cutPages(readFonts(sheetFonts()), plan, mesh, PAPER_SIZES.A4)).toEqual([]);
	});

	it("draw the figure's outline around every place of it, with corners of its own", () => {
		const random = seededRandom(5);
		const places = Float64Array.from({ length: 900 }, () => random.normal());
		const outline = outlineIn(places, (x, y) => [x, y]);
		const corners = Array.from({ length: outline.length / 2 }, (_, i) => [outline[2 * i], outline[2 * i + 1]]);
		corners.forEach(([ax, ay], i) => {
			const [bx, by] = corners[(i + 1) % corners.length];
			for (let k = 0; k < 900; k += 3)
				expect((bx - ax) * (places[k + 1] - ay) - (by - ay) * (places[k] - ax)).toBeGreaterThan(-1e-12);
		});
	});
});
