/** Numbers on a map keep off the words that stand on it. */

import { expect, it } from "vitest";
import { type Drawing, newDrawing } from "../../../core/sheet/drawing.ts";
import { blockExtent, FACE_VIEWS } from "../../../core/sheet/faces.ts";
import type { Box } from "../../../core/sheet/labels.ts";
import { drawBlock, paperFrame, placeNumbers, wordBoxes } from "../../../core/sheet/mapPicture.ts";
import { readFonts } from "../../../core/sheet/sheetPdf.ts";
import type { Vec3 } from "../../../core/vector.ts";
import { handPlan } from "../../support/handPlan.ts";
import { sheetFonts } from "../../support/sheetFonts.ts";

const fonts = readFonts(sheetFonts());
const { plan } = handPlan({ seed: 3, points: 30, rings: 8 });
const meet = (a: Box, b: Box): boolean => a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1;

it.each(["front", "left", "back"] as const)("%s: none stands on the block's sizes or on its corner's name", (face) => {
	const on: Drawing = newDrawing(210, 297, face);
	const room = { x0: 20, y0: 30, x1: 200, y1: 260 };
	const extent = blockExtent(plan.stone.extent_mm as Vec3, FACE_VIEWS[face]);
	const toPaper = paperFrame(room, extent, 2);
	drawBlock(on, plan, face, toPaper);
	const words = wordBoxes(fonts, on);
	// u, v, the corner and the sizes; the longest of them is the sizes'.
	expect(words).toHaveLength(4);
	// A row of points right under every word: each number would stand on it if it stood where it likes best.
	const shown = words.flatMap((box) =>
		[0.2, 0.5, 0.8].map((share, i) => {
			const [x0, y0] = toPaper(0, 0);
			return {
				point: plan.points[i],
				x: (box.x0 + share * (box.x1 - box.x0) - 4 - x0) * 2,
				y: (y0 - (box.y0 + box.y1) / 2) * 2,
				visible: true,
			};
		}),
	);
	const placed = placeNumbers(fonts, shown, toPaper, room, words);
	const careless = placeNumbers(fonts, shown, toPaper, room, []);
	const covered = (labels: typeof placed): number =>
		labels.filter((label) => label !== null && words.some((box) => meet(label.box, box))).length;
	expect(covered(careless)).toBeGreaterThan(0);
	expect(covered(placed)).toBe(0);
	expect(placed.filter((label) => label !== null).length).toBeGreaterThan(shown.length / 2);
});
