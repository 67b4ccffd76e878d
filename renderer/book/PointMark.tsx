/** A round's mark beside words: the shape of the printed map, as a drawing of its own. */

import type { PlanPoint } from "../../core/plan/planFile.ts";
import { newDrawing } from "../../core/sheet/drawing.ts";
import { drawMark } from "../../core/sheet/roundMarks.ts";

export function PointMark(props: { round: number; side?: PlanPoint["side"] | null; undercut?: boolean }) {
	const { round, side = null, undercut = false } = props;
	const drawing = newDrawing(14, 14, "");
	drawMark(drawing, 7, 7, round, side, undercut, 5);
	return (
		<svg class="mark" viewBox="0 0 14 14" aria-hidden="true">
			{drawing.shapes.map((shape, i) => {
				if (shape.kind === "text") return null;
				const look = {
					fill: shape.fill ?? "none",
					stroke: shape.pen?.colour ?? "none",
					"stroke-width": shape.pen?.width ?? 0,
				};
				if (shape.kind === "disc") return <circle key={i} cx={shape.x} cy={shape.y} r={shape.radius} {...look} />;
				const path = shape.lines
					.map((points) => {
						const steps: string[] = [];
						for (let k = 0; k < points.length; k += 2)
							steps.push(`${k === 0 ? "M" : "L"}${points[k]} ${points[k + 1]}`);
						return steps.join("") + (shape.closed ? "Z" : "");
					})
					.join("");
				return <path key={i} d={path} {...look} />;
			})}
		</svg>
	);
}
