/** Points, datums and picks over the scene: constant in size, numbered where there is room, gone where the surface hides them. */

import type { PlanPoint } from "../../core/plan/planFile.ts";
import { roundColour } from "../../core/sheet/roundMarks.ts";
import type { Vec3 } from "../../core/vector.ts";
import { type Labelled, placeLabels } from "./labelLayout.ts";
import { penMark } from "./markPen.ts";
import {
	DATUM_RADIUS,
	disc,
	drawBlocked,
	drawCastEnd,
	drawCrosshair,
	drawDatum,
	drawGhost,
	drawPick,
	drawPlanePlace,
	drawRule,
	drawSign,
	drawStop,
	drawWeight,
	type MarkLook,
	ring,
	write,
} from "./markShapes.ts";
import type { Place } from "./picker.ts";
import type { Projection } from "./projection.ts";

export type Mark =
	| {
			readonly kind: "point";
			readonly number: number;
			readonly place: Place;
			readonly round: number;
			readonly side: PlanPoint["side"];
			readonly undercut: boolean;
			readonly done: boolean;
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
	| { readonly kind: "pick"; readonly index: number; readonly place: Place }
	/** A place that is read and not drilled for its own sake: a proof mark P, a point of a link L. */
	| { readonly kind: "sign"; readonly words: string; readonly index: number; readonly place: Place }
	/** An end of a calliper pair. */
	| { readonly kind: "cast"; readonly index: number; readonly place: Place }
	/** One of the three places of the plane to stand on. */
	| { readonly kind: "plane"; readonly index: number; readonly place: Place };

/** What of the marks is lit. */
export interface MarkState {
	readonly pointed: number | null;
	readonly run: ReadonlySet<number> | null;
	readonly held: { readonly kind: "datum" | "pick"; readonly set?: number; readonly index: number } | null;
	/** Where a pick would go. */
	readonly ghost: Place | null;
	/** Where the figure's weight acts, and the place of the foot's plane under it; model frame. */
	readonly weight: { readonly at: Vec3; readonly under: Vec3 } | null;
	/** An undercut that is pointed at, and the nearest place that stands in the way of its lines; model frame. */
	readonly blocked: { readonly at: Vec3; readonly by: Vec3 } | null;
	/** The place that is stepped to, mm. */
	readonly stop: { readonly centre: Vec3; readonly radius: number } | null;
	/** The rule, once both ends are laid, and what it reads. */
	readonly rule: { readonly ends: readonly [Vec3, Vec3]; readonly words: string } | null;
	/** The keyboard's crosshair, pixels. */
	readonly crosshair: readonly [number, number] | null;
}

const POINT_RADIUS = 5;
const DOT_RADIUS = 2;
const SMALL_DOT_RADIUS = 1.3;
/** How much larger the dot of a done point is. */
const DONE_DOT = 1.2;
const CROWD = 250;
const NUMBER_SIZE = 11;
/** Width of a digit of the hand at NUMBER_SIZE. */
const DIGIT = 6.3;

export interface Projected {
	readonly mark: Mark;
	readonly x: number;
	readonly y: number;
}

const priority = (mark: Mark, state: MarkState): number => {
	if (mark.kind === "datum") return 1e9;
	if (mark.kind === "pick" || mark.kind === "cast" || mark.kind === "plane" || mark.kind === "sign") return 1e8;
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
	pixelsPerMm: number,
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
			const size = mark.done ? dot + DONE_DOT : dot;
			disc(pen, x, y, size + 0.8);
			pen.fillStyle = roundColour(mark.round);
			disc(pen, x, y, size);
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
		penMark(pen, x, y, mark.round, mark.side, mark.undercut, POINT_RADIUS, mark.done);
		if (place === null) return;
		const at = [place.x + 1, place.y + NUMBER_SIZE / 2 + 1] as const;
		write(pen, look, String(mark.number), at, { colour: look.ink, size: NUMBER_SIZE });
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
		else if (mark.kind === "pick") drawPick(pen, x, y, look);
		else if (mark.kind === "sign") drawSign(pen, x, y, mark.words, look);
		else if (mark.kind === "plane") drawPlanePlace(pen, x, y, look);
		else drawCastEnd(pen, x, y, mark.index + 1, look);
	}
	if (state.weight) drawWeight(pen, project.toScreen(state.weight.at), project.toScreen(state.weight.under), look);
	if (state.blocked) drawBlocked(pen, project.toScreen(state.blocked.at), project.toScreen(state.blocked.by), look);
	if (state.stop) drawStop(pen, project.toScreen(state.stop.centre), state.stop.radius * pixelsPerMm, look);
	if (state.rule) drawRule(pen, state.rule.ends.map(project.toScreen), state.rule.words, look);
	if (state.ghost) drawGhost(pen, state.ghost, project, look);
	if (state.crosshair) drawCrosshair(pen, state.crosshair, look);
}
