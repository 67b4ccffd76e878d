/** The shapes that lie over the scene, each drawn on a canvas whose unit is a CSS pixel. */

import type { Place } from "./picker.ts";
import type { Projection } from "./projection.ts";

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

export const DATUM_RADIUS = 10;

export function disc(pen: CanvasRenderingContext2D, x: number, y: number, radius: number): void {
	pen.beginPath();
	pen.arc(x, y, radius, 0, 2 * Math.PI);
	pen.fill();
}

export function ring(pen: CanvasRenderingContext2D, x: number, y: number, radius: number): void {
	pen.beginPath();
	pen.arc(x, y, radius, 0, 2 * Math.PI);
	pen.stroke();
}

/** A datum is a raddle square stood on its corner: three of them are found at a glance among discs. */
export function drawDatum(pen: CanvasRenderingContext2D, x: number, y: number, letter: string, look: MarkLook): void {
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

/** A place that is only read: a raddle triangle stood on its point, with its words beside it. */
export function drawSign(pen: CanvasRenderingContext2D, x: number, y: number, words: string, look: MarkLook): void {
	pen.beginPath();
	pen.moveTo(x, y + 1);
	pen.lineTo(x - 6, y - 10);
	pen.lineTo(x + 6, y - 10);
	pen.closePath();
	pen.lineWidth = 4;
	pen.strokeStyle = look.halo;
	pen.stroke();
	pen.lineWidth = 2;
	pen.strokeStyle = look.raddle;
	pen.fillStyle = look.halo;
	pen.fill();
	pen.stroke();
	pen.font = `bold 12px ${look.font}`;
	pen.textAlign = "left";
	pen.lineWidth = 3;
	pen.strokeStyle = look.halo;
	pen.strokeText(words, x + 9, y - 4);
	pen.fillStyle = look.raddle;
	pen.fillText(words, x + 9, y - 4);
}

/** A picked point before it has a number: a raddle cross. */
export function drawPick(pen: CanvasRenderingContext2D, x: number, y: number, look: MarkLook): void {
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

/** An end of a calliper pair: a dot in a ring, and the number of the pair that it shares with the other end. */
export function drawCastEnd(pen: CanvasRenderingContext2D, x: number, y: number, pair: number, look: MarkLook): void {
	for (const [colour, width] of [
		[look.halo, 5],
		[look.raddle, 2],
	] as const) {
		pen.strokeStyle = colour;
		pen.lineWidth = width;
		ring(pen, x, y, 6);
	}
	pen.fillStyle = look.raddle;
	disc(pen, x, y, 2);
	pen.font = `bold 12px ${look.font}`;
	pen.textAlign = "left";
	pen.lineWidth = 3;
	pen.strokeStyle = look.halo;
	pen.strokeText(String(pair), x + 10, y);
	pen.fillStyle = look.raddle;
	pen.fillText(String(pair), x + 10, y);
}

/** The weight as a plumb: a quartered disc with its line down to the foot. */
export function drawWeight(
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

/** Where a pick would go: a ring, and which way the surface faces there. */
export function drawGhost(pen: CanvasRenderingContext2D, ghost: Place, project: Projection, look: MarkLook): void {
	const [x, y] = project.toScreen(ghost.position);
	const n = ghost.normal;
	const p = ghost.position;
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

/** The place that is stepped to: four corners that leave it free, so that what is wrong there stays to be seen. */
export function drawStop(
	pen: CanvasRenderingContext2D,
	[x, y]: readonly [number, number],
	radius: number,
	look: MarkLook,
): void {
	const r = Math.max(16, radius + 6);
	const arm = Math.min(14, r / 2);
	for (const [colour, width] of [
		[look.halo, 5],
		[look.raddle, 2],
	] as const) {
		pen.strokeStyle = colour;
		pen.lineWidth = width;
		pen.beginPath();
		for (const [sx, sy] of [
			[-1, -1],
			[1, -1],
			[1, 1],
			[-1, 1],
		]) {
			pen.moveTo(x + sx * r, y + sy * (r - arm));
			pen.lineTo(x + sx * r, y + sy * r);
			pen.lineTo(x + sx * (r - arm), y + sy * r);
		}
		pen.stroke();
	}
}

/** A place of the plane that the figure is to stand on: a filled triangle, point up. */
export function drawPlanePlace(pen: CanvasRenderingContext2D, x: number, y: number, look: MarkLook): void {
	pen.beginPath();
	pen.moveTo(x, y - 8);
	pen.lineTo(x + 7, y + 5);
	pen.lineTo(x - 7, y + 5);
	pen.closePath();
	pen.lineWidth = 4;
	pen.strokeStyle = look.halo;
	pen.stroke();
	pen.fillStyle = look.raddle;
	pen.fill();
}

/** The keyboard's aim. */
export function drawCrosshair(pen: CanvasRenderingContext2D, at: readonly [number, number], look: MarkLook): void {
	const [x, y] = at;
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

/** From an undercut to what stands in its way, in dashes like chalk, with a cross where it stands. */
export function drawBlocked(
	pen: CanvasRenderingContext2D,
	[x, y]: readonly [number, number],
	[bx, by]: readonly [number, number],
	look: MarkLook,
): void {
	for (const [colour, width] of [
		[look.halo, 5],
		[look.raddle, 2.2],
	] as const) {
		pen.strokeStyle = colour;
		pen.lineWidth = width;
		pen.setLineDash([7, 5]);
		pen.beginPath();
		pen.moveTo(x, y);
		pen.lineTo(bx, by);
		pen.stroke();
		pen.setLineDash([]);
		pen.beginPath();
		pen.moveTo(bx - 6, by - 6);
		pen.lineTo(bx + 6, by + 6);
		pen.moveTo(bx + 6, by - 6);
		pen.lineTo(bx - 6, by + 6);
		pen.stroke();
	}
}

/** The rule between two places, pixels, with end ticks and what it reads beside its middle. */
export function drawRule(
	pen: CanvasRenderingContext2D,
	[a, b]: readonly (readonly [number, number])[],
	words: string,
	look: MarkLook,
): void {
	const long = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
	const across = [(a[1] - b[1]) / long, (b[0] - a[0]) / long];
	for (const [width, colour] of [
		[4.5, look.halo],
		[1.8, look.ink],
	] as const) {
		pen.strokeStyle = colour;
		pen.lineWidth = width;
		pen.beginPath();
		pen.moveTo(a[0], a[1]);
		pen.lineTo(b[0], b[1]);
		for (const end of [a, b]) {
			pen.moveTo(end[0] - 7 * across[0], end[1] - 7 * across[1]);
			pen.lineTo(end[0] + 7 * across[0], end[1] + 7 * across[1]);
		}
		pen.stroke();
	}
	pen.font = `bold 13px ${look.font}`;
	pen.textAlign = "center";
	pen.textBaseline = "middle";
	const [x, y] = [(a[0] + b[0]) / 2 + 16 * across[0], (a[1] + b[1]) / 2 + 16 * across[1]];
	pen.strokeStyle = look.halo;
	pen.lineWidth = 4;
	pen.strokeText(words, x, y);
	pen.fillStyle = look.ink;
	pen.fillText(words, x, y);
}
