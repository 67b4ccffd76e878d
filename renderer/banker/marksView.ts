/** Points, datums and picks over the scene: constant in size, numbered where there is room, gone where the surface hides them. */

import type { PlanPoint } from "../../core/plan/planFile.ts";
import { roundColour } from "../../core/sheet/roundMarks.ts";
import type { Vec3 } from "../../core/vector.ts";
import { type Axes, axesOf, type Pose } from "./camera.ts";
import { type Labelled, placeLabels } from "./labelLayout.ts";
import { penMark } from "./markPen.ts";
import type { Picker, Place } from "./picker.ts";

export type Mark =
	| {
			readonly kind: "point";
			readonly number: number;
			readonly place: Place;
			readonly round: number;
			readonly side: PlanPoint["side"];
			readonly undercut: boolean;
			/** Left out by the filter: shown only when pointed at. */
			readonly faint: boolean;
	  }
	| {
			readonly kind: "datum";
			readonly letter: string;
			readonly set: number;
			readonly index: 0 | 1 | 2;
			readonly place: Place;
	  }
	| { readonly kind: "pick"; readonly index: number; readonly place: Place };

export interface MarkLook {
	readonly ink: string;
	readonly halo: string;
	readonly raddle: string;
	readonly onRaddle: string;
	readonly focus: string;
	readonly soft: string;
	readonly font: string;
	readonly bookFont: string;
}

/** What of the marks is lit. */
export interface MarkState {
	readonly pointed: number | null;
	readonly run: ReadonlySet<number> | null;
	readonly held: { readonly kind: "datum" | "pick"; readonly set?: number; readonly index: number } | null;
	/** Where a pick would go. */
	readonly ghost: Place | null;
	/** Where the figure's weight acts, and the place of the foot's plane under it; model frame. */
	readonly weight: { readonly at: Vec3; readonly under: Vec3 } | null;
	/** The keyboard's crosshair, pixels. */
	readonly crosshair: readonly [number, number] | null;
}

const POINT_RADIUS = 5;
const DOT_RADIUS = 2;
const SMALL_DOT_RADIUS = 1.3;
const CROWD = 250;
const DATUM_RADIUS = 10;
const NUMBER_SIZE = 11;
/** Width of a digit of the hand at NUMBER_SIZE. */
const DIGIT = 6.3;

export interface Projected {
	readonly mark: Mark;
	readonly x: number;
	readonly y: number;
}

/** Joins model frame and screen for one pose. */
export interface Projection {
	readonly axes: Axes;
	/** Towards the viewer, model frame. */
	readonly eye: Vec3;
	toScreen(model: Vec3): readonly [number, number];
	shownToScreen(shown: Vec3): readonly [number, number];
}

export function projection(
	pose: Pose,
	width: number,
	height: number,
	toShown: (model: Vec3) => Vec3,
	turnBack: (direction: Vec3) => Vec3,
): Projection {
	const axes = axesOf(pose);
	const perMm = height / pose.span;
	const shownToScreen = (p: Vec3): readonly [number, number] => {
		const d: Vec3 = [p[0] - pose.target[0], p[1] - pose.target[1], p[2] - pose.target[2]];
		const right = d[0] * axes.right[0] + d[1] * axes.right[1] + d[2] * axes.right[2];
		const up = d[0] * axes.up[0] + d[1] * axes.up[1] + d[2] * axes.up[2];
		return [width / 2 + right * perMm, height / 2 - up * perMm];
	};
	return { axes, eye: turnBack(axes.eye), shownToScreen, toScreen: (model) => shownToScreen(toShown(model)) };
}

/** The marks that the surface does not hide and that lie within the view. */
export function visibleMarks(
	marks: readonly Mark[],
	project: Projection,
	picker: Picker | null,
	width: number,
	height: number,
): Projected[] {
	const seen: Projected[] = [];
	for (const mark of marks) {
		const [x, y] = project.toScreen(mark.place.position);
		if (x < -20 || y < -20 || x > width + 20 || y > height + 20) continue;
		if (picker?.hidden(mark.place.position, mark.place.normal, project.eye)) continue;
		seen.push({ mark, x, y });
	}
	return seen;
}

const priority = (mark: Mark, state: MarkState): number => {
	if (mark.kind === "datum") return 1e9;
	if (mark.kind === "pick") return 1e8;
	if (mark.number === state.pointed) return 2e9;
	const lit = state.run?.has(mark.number) ? 1e7 : 0;
	return lit + (mark.faint ? -1e6 : 0) - mark.round * 1e4 - mark.number;
};

/** Draws the marks on a canvas whose unit is a CSS pixel. */
export function drawMarks(
	pen: CanvasRenderingContext2D,
	seen: readonly Projected[],
	project: Projection,
	state: MarkState,
	look: MarkLook,
): void {
	const labelled: Labelled[] = seen.map(({ mark, x, y }) => {
		const digits = mark.kind === "point" ? String(mark.number).length : 0;
		const radius = mark.kind === "datum" ? DATUM_RADIUS : POINT_RADIUS + 1;
		return { x, y, radius, width: digits * DIGIT + 3, height: NUMBER_SIZE + 1, priority: priority(mark, state) };
	});
	const places = placeLabels(labelled);
	// Unnumbered dots first, so that they never cover a number; the more there are, the smaller, so that the form shows through.
	const dot = seen.length > CROWD ? SMALL_DOT_RADIUS : DOT_RADIUS;
	seen.forEach(({ mark, x, y }, i) => {
		if (mark.kind === "point" && (places[i] === null || mark.faint)) {
			if (mark.faint) return;
			pen.globalAlpha = 0.9;
			pen.fillStyle = look.halo;
			disc(pen, x, y, dot + 0.8);
			pen.fillStyle = roundColour(mark.round);
			disc(pen, x, y, dot);
			pen.globalAlpha = 1;
		}
	});
	pen.textBaseline = "middle";
	pen.lineJoin = "round";
	seen.forEach(({ mark, x, y }, i) => {
		const place = places[i];
		if (mark.kind !== "point") return;
		const lit = mark.number === state.pointed || state.run?.has(mark.number);
		if (place === null && !lit) return;
		if (mark.faint && !lit) return;
		if (lit) {
			pen.fillStyle = look.raddle;
			disc(pen, x, y, POINT_RADIUS + 4);
		}
		penMark(pen, x, y, mark.round, mark.side, mark.undercut, POINT_RADIUS);
		if (place === null) return;
		pen.font = `bold ${NUMBER_SIZE}px ${look.font}`;
		pen.textAlign = "left";
		pen.lineWidth = 2.6;
		pen.strokeStyle = look.halo;
		pen.strokeText(String(mark.number), place.x + 1, place.y + NUMBER_SIZE / 2 + 1);
		pen.fillStyle = look.ink;
		pen.fillText(String(mark.number), place.x + 1, place.y + NUMBER_SIZE / 2 + 1);
	});
	for (const { mark, x, y } of seen) {
		if (mark.kind === "point") continue;
		const isHeld =
			state.held?.kind === mark.kind &&
			state.held.index === mark.index &&
			(mark.kind !== "datum" || state.held.set === mark.set);
		if (isHeld) {
			pen.strokeStyle = look.focus;
			pen.lineWidth = 3;
			ring(pen, x, y, DATUM_RADIUS + 4);
		}
		if (mark.kind === "datum") drawDatum(pen, x, y, mark.letter, look);
		else drawPick(pen, x, y, look);
	}
	if (state.weight) drawWeight(pen, project.toScreen(state.weight.at), project.toScreen(state.weight.under), look);
	if (state.ghost) {
		const [x, y] = project.toScreen(state.ghost.position);
		const n = state.ghost.normal;
		const p = state.ghost.position;
		const [nx, ny] = project.toScreen([p[0] + 14 * n[0], p[1] + 14 * n[1], p[2] + 14 * n[2]]);
		pen.strokeStyle = look.halo;
		pen.lineWidth = 5;
		ring(pen, x, y, 8);
		pen.strokeStyle = look.raddle;
		pen.lineWidth = 2;
		ring(pen, x, y, 8);
		pen.beginPath();
		pen.moveTo(x, y);
		pen.lineTo(nx, ny);
		pen.stroke();
	}
	if (state.crosshair) {
		const [x, y] = state.crosshair;
		for (const [colour, width] of [
			[look.halo, 4],
			[look.focus, 1.6],
		] as const) {
			pen.strokeStyle = colour;
			pen.lineWidth = width;
			pen.beginPath();
			pen.moveTo(x - 22, y);
			pen.lineTo(x - 6, y);
			pen.moveTo(x + 6, y);
			pen.lineTo(x + 22, y);
			pen.moveTo(x, y - 22);
			pen.lineTo(x, y - 6);
			pen.moveTo(x, y + 6);
			pen.lineTo(x, y + 22);
			pen.stroke();
		}
	}
}

function disc(pen: CanvasRenderingContext2D, x: number, y: number, radius: number): void {
	pen.beginPath();
	pen.arc(x, y, radius, 0, 2 * Math.PI);
	pen.fill();
}

function ring(pen: CanvasRenderingContext2D, x: number, y: number, radius: number): void {
	pen.beginPath();
	pen.arc(x, y, radius, 0, 2 * Math.PI);
	pen.stroke();
}

/** A datum is a raddle square stood on its corner: three of them are found at a glance among discs. */
function drawDatum(pen: CanvasRenderingContext2D, x: number, y: number, letter: string, look: MarkLook): void {
	const r = DATUM_RADIUS + 2;
	pen.beginPath();
	pen.moveTo(x, y - r);
	pen.lineTo(x + r, y);
	pen.lineTo(x, y + r);
	pen.lineTo(x - r, y);
	pen.closePath();
	pen.lineWidth = 2.5;
	pen.strokeStyle = look.onRaddle;
	pen.stroke();
	pen.fillStyle = look.raddle;
	pen.fill();
	pen.fillStyle = look.onRaddle;
	pen.font = `bold 12px ${look.bookFont}`;
	pen.textAlign = "center";
	pen.fillText(letter, x, y + 0.5);
}

/** A picked point before it has a number: a raddle cross. */
function drawPick(pen: CanvasRenderingContext2D, x: number, y: number, look: MarkLook): void {
	for (const [colour, width] of [
		[look.halo, 5],
		[look.raddle, 2.4],
	] as const) {
		pen.strokeStyle = colour;
		pen.lineWidth = width;
		pen.beginPath();
		pen.moveTo(x - 6, y - 6);
		pen.lineTo(x + 6, y + 6);
		pen.moveTo(x + 6, y - 6);
		pen.lineTo(x - 6, y + 6);
		pen.stroke();
	}
}

/** The weight as a plumb: a quartered disc with its line down to the foot. */
function drawWeight(
	pen: CanvasRenderingContext2D,
	[x, y]: readonly [number, number],
	[fx, fy]: readonly [number, number],
	look: MarkLook,
): void {
	for (const [colour, width] of [
		[look.halo, 4],
		[look.raddle, 1.8],
	] as const) {
		pen.strokeStyle = colour;
		pen.lineWidth = width;
		pen.beginPath();
		pen.moveTo(x, y);
		pen.lineTo(fx, fy);
		pen.moveTo(fx - 5, fy);
		pen.lineTo(fx + 5, fy);
		pen.stroke();
	}
	pen.fillStyle = look.halo;
	disc(pen, x, y, 10);
	pen.fillStyle = look.raddle;
	for (const start of [0, Math.PI]) {
		pen.beginPath();
		pen.moveTo(x, y);
		pen.arc(x, y, 9, start, start + Math.PI / 2);
		pen.closePath();
		pen.fill();
	}
	pen.strokeStyle = look.raddle;
	pen.lineWidth = 1.8;
	ring(pen, x, y, 9);
}
