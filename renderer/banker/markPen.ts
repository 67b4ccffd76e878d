/** The marks of the printed map on a canvas: the same shapes from the same place, so that screen and paper agree. */

import type { PlanPoint } from "../../core/plan/planFile.ts";
import { type Drawing, newDrawing } from "../../core/sheet/drawing.ts";
import { drawMark, roundColour } from "../../core/sheet/roundMarks.ts";
import { PAPER } from "../../core/sheet/style.ts";

interface Stroke {
	readonly path: Path2D;
	readonly fill: string | null;
	readonly line: { readonly colour: string; readonly width: number; readonly dash: readonly number[] } | null;
}

const kept = new Map<string, readonly Stroke[]>();

/** A done point's mark: full of its ink, what stands inside left white. */
function filled([outline, ...inside]: readonly Stroke[], colour: string): Stroke[] {
	return [
		{ ...outline, fill: colour },
		...inside.map(({ path, fill, line }) => ({
			path,
			fill: fill === null ? null : PAPER,
			line: line && { ...line, colour: PAPER },
		})),
	];
}

function strokesOf(drawing: Drawing): Stroke[] {
	return drawing.shapes.flatMap((shape): Stroke[] => {
		if (shape.kind === "text") return [];
		const path = new Path2D();
		if (shape.kind === "disc") path.arc(shape.x, shape.y, shape.radius, 0, 2 * Math.PI);
		else
			for (const points of shape.lines) {
				for (let i = 0; i < points.length; i += 2)
					if (i === 0) path.moveTo(points[0], points[1]);
					else path.lineTo(points[i], points[i + 1]);
				if (shape.closed) path.closePath();
			}
		const pen = shape.pen;
		return [
			{
				path,
				fill: shape.fill ?? null,
				line: pen ? { colour: pen.colour, width: pen.width, dash: pen.dash ?? [] } : null,
			},
		];
	});
}

/** Draws the mark of a point about (x, y), `radius` in the units of the canvas; dark all over once it is `done`. */
export function penMark(
	pen: CanvasRenderingContext2D,
	x: number,
	y: number,
	round: number,
	side: PlanPoint["side"] | null,
	undercut: boolean,
	radius: number,
	done = false,
): void {
	const key = `${round} ${side} ${undercut} ${radius} ${done}`;
	let strokes = kept.get(key);
	if (!strokes) {
		const drawing = newDrawing(0, 0, "");
		drawMark(drawing, 0, 0, round, side, undercut, radius);
		strokes = done ? filled(strokesOf(drawing), roundColour(round)) : strokesOf(drawing);
		kept.set(key, strokes);
	}
	pen.save();
	pen.translate(x, y);
	for (const { path, fill, line } of strokes) {
		if (fill !== null) {
			pen.fillStyle = fill;
			pen.fill(path);
		}
		if (line) {
			pen.strokeStyle = line.colour;
			pen.lineWidth = line.width;
			pen.setLineDash([...line.dash]);
			pen.stroke(path);
		}
	}
	pen.restore();
}
