/** The figure drawn as lines from every side of the stone and from the views that the carver added. */

import { type Job, within } from "../job.ts";
import type { FaceName } from "../plan/commission.ts";
import type { SheetInput } from "./drawSheets.ts";
import { FACE_ORDER, FACE_VIEWS, type ViewAxes } from "./faces.ts";
import { drawFigure, type FigureLines, prepareFigure } from "./figureLines.ts";
import { addedViews, type MapView, placementOf, shareOutPoints } from "./mapViews.ts";

export interface DrawnViews {
	/** Maps with their points, in the order in which they are printed. */
	readonly maps: readonly MapView[];
	linesFrom(face: FaceName): FigureLines;
	linesOf(map: MapView): FigureLines;
}

/** `ratio`: mm of stone to a millimetre of paper, of a view with those axes. */
export function* drawViews(input: SheetInput, ratio: (axes: ViewAxes) => number): Job<DrawnViews> {
	const { plan, mesh } = input;
	const prepared = prepareFigure(mesh, input.normals, input.curvature ?? null, input.grounds ?? []);
	const figure = yield* within(prepared, 0, 0.15);
	const placement = placementOf(plan);
	const added = addedViews(plan);
	const all: { name: string; axes: ViewAxes }[] = [
		...FACE_ORDER.map((face) => ({ name: face, axes: FACE_VIEWS[face] })),
		...added,
	];
	const drawn = new Map<string, FigureLines>();
	for (const [i, { name, axes }] of all.entries()) {
		const job = drawFigure(figure, axes, placement, 0.1 * ratio(axes), plan.sheet.contour_mm);
		drawn.set(name, yield* within(job, 0.15 + (0.85 * i) / all.length, 0.15 + (0.85 * (i + 1)) / all.length));
	}
	const linesNamed = (name: string): FigureLines => drawn.get(name) as FigureLines;
	const looked = added.map((view) => ({ view, grid: linesNamed(view.name).grid }));
	return {
		maps: shareOutPoints(plan, (face) => linesNamed(face).grid, looked),
		linesFrom: linesNamed,
		linesOf: (map) => linesNamed(map.name),
	};
}
