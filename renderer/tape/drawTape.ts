/** Draws the tape: strokes, runs with their marks, and numbers as on a rule. */

import type { Plan, PlanPoint } from "../../core/plan/planFile.ts";
import { penMark } from "../banker/markPen.ts";
import type { TapeLayout } from "./tapeLayout.ts";

/** Rows above and below the strokes, pixels. */
export const HEAD = 20;
export const BASE = 22;

/** How much of its ink a stroke keeps while its point is not done. */
const OPEN = 0.35;

export interface TapeColours {
	readonly ink: string;
	readonly line: string;
	readonly brush: string;
	readonly raddle: string;
	readonly onRaddle: string;
	readonly font: string;
}

export interface TapeDrawn {
	readonly plan: Plan;
	/** Those that the layout was made from. */
	readonly points: readonly PlanPoint[];
	readonly laid: TapeLayout;
	readonly pointed: number | null;
	/** Numbers of the brushed run. */
	readonly brushed: ReadonlySet<number> | null;
	/** Numbers of the points that are done: filled strokes among open ones, once anything is done. */
	readonly done: ReadonlySet<number>;
}

export function drawTape(
	pen: CanvasRenderingContext2D,
	{ plan, points, laid, pointed, brushed, done }: TapeDrawn,
	width: number,
	height: number,
	colours: TapeColours,
): void {
	const floor = height - BASE;
	pen.clearRect(0, 0, width, height);
	if (brushed) {
		pen.fillStyle = colours.brush;
		points.forEach((point, i) => {
			if (brushed.has(point.number)) pen.fillRect(laid.strokes[i].x - laid.pitch / 2, 0, laid.pitch + 0.5, height);
		});
	}
	pen.strokeStyle = colours.line;
	pen.lineWidth = 1;
	line(pen, 0, floor + 0.5, width, floor + 0.5);
	pen.font = `11px ${colours.font}`;
	pen.textBaseline = "middle";
	for (const part of laid.runs) {
		const x = Math.round(part.x) + 0.5;
		line(pen, x, 0, x, height);
		if (part.width > 18) penMark(pen, part.x + 9, HEAD / 2, part.round, null, false, 4.5);
		const lie = part.lie === null ? "undercut" : plan.lies[part.lie].name;
		const { name } = plan.rounds[part.round];
		const words = plan.lies.length > 1 ? [`${name}, ${lie}`, name] : [name];
		pen.fillStyle = colours.ink;
		pen.textAlign = "left";
		const fitting = words.find((text) => pen.measureText(text).width + 22 < part.width);
		if (fitting) pen.fillText(fitting, part.x + 18, HEAD / 2 + 0.5);
	}
	const thick = Math.max(1, Math.min(5, laid.pitch * 0.55));
	points.forEach((point, i) => {
		const { x, height: tall } = laid.strokes[i];
		const lit = point.number === pointed;
		pen.fillStyle = lit ? colours.raddle : colours.ink;
		if (tall > 0) {
			const wide = lit ? Math.max(4, thick + 2) : thick;
			pen.globalAlpha = lit || done.size === 0 || done.has(point.number) ? 1 : OPEN;
			pen.fillRect(x - wide / 2, floor - tall, wide, tall);
			pen.globalAlpha = 1;
			return;
		}
		// No hole: a small cross on the line.
		pen.strokeStyle = pen.fillStyle;
		pen.lineWidth = 1.2;
		const a = Math.min(3, laid.pitch / 2);
		line(pen, x - a, floor - 5 - a, x + a, floor - 5 + a);
		line(pen, x - a, floor - 5 + a, x + a, floor - 5 - a);
		pen.lineWidth = 1;
	});
	numbers(pen, points, laid, height, colours);
	const at = points.findIndex((point) => point.number === pointed);
	if (at < 0) return;
	const text = String(points[at].number);
	const x = laid.strokes[at].x;
	pen.font = `bold 12px ${colours.font}`;
	const room = pen.measureText(text).width / 2 + 4;
	pen.fillStyle = colours.raddle;
	pen.fillRect(x - room, height - BASE + 2, 2 * room, BASE - 4);
	pen.fillStyle = colours.onRaddle;
	pen.textAlign = "center";
	pen.fillText(text, x, height - BASE / 2 + 0.5);
}

/** As many as have room, and round ones where the whole tape is shown. */
function numbers(
	pen: CanvasRenderingContext2D,
	points: readonly PlanPoint[],
	laid: TapeLayout,
	height: number,
	colours: TapeColours,
): void {
	const room = 8 + pen.measureText("0000").width;
	const every = [1, 5, 10, 20, 50, 100, 200, 500].find((n) => n * laid.pitch > room) ?? 1000;
	pen.textAlign = "center";
	pen.fillStyle = colours.ink;
	let last = Number.NEGATIVE_INFINITY;
	points.forEach((point, i) => {
		const x = laid.strokes[i].x;
		if ((i === 0 || point.number % every === 0) && x - last > room) {
			pen.fillText(String(point.number), x, height - BASE / 2);
			last = x;
		}
	});
}

function line(pen: CanvasRenderingContext2D, x0: number, y0: number, x1: number, y1: number): void {
	pen.beginPath();
	pen.moveTo(x0, y0);
	pen.lineTo(x1, y1);
	pen.stroke();
}
