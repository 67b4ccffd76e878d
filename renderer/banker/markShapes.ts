/** The shapes that lie over the scene, each drawn on a canvas whose unit is a CSS pixel. */

import type { Place } from "./picker.ts";
import type { Projection } from "./projection.ts";

export interface MarkLook {
	readonly ink: string;
	readonly halo: string;
	readonly raddle: string;
	readonly onRaddle: string;
	readonly focus: string;
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

type Pixels = readonly [x: number, y: number];

/** How much wider the halo is than what is drawn over it, px. */
const HALO = 2.8;

/** What `stroke` draws, in a colour, over the same in the halo's. */
function haloed(
	pen: CanvasRenderingContext2D,
	look: MarkLook,
	colour: string,
	width: number,
	stroke: () => void,
): void {
	pen.strokeStyle = look.halo;
	pen.lineWidth = width + HALO;
	stroke();
	pen.strokeStyle = colour;
	pen.lineWidth = width;
	stroke();
}

/** A line through each run of places. */
function lines(pen: CanvasRenderingContext2D, ...runs: readonly (readonly Pixels[])[]): void {
	pen.beginPath();
	for (const [first, ...others] of runs) {
		pen.moveTo(...first);
		for (const place of others) pen.lineTo(...place);
	}
	pen.stroke();
}

const cross = (x: number, y: number): Pixels[][] => [
	[
		[x - 6, y - 6],
		[x + 6, y + 6],
	],
	[
		[x + 6, y - 6],
		[x - 6, y + 6],
	],
];

/** Bold words in the hand from a place on, with a halo. */
export function write(
	pen: CanvasRenderingContext2D,
	look: MarkLook,
	words: string,
	[x, y]: Pixels,
	{ colour = look.raddle, size = 12, align = "left" as CanvasTextAlign } = {},
): void {
	pen.font = `bold ${size}px ${look.font}`;
	pen.textAlign = align;
	pen.lineWidth = HALO;
	pen.strokeStyle = look.halo;
	pen.strokeText(words, x, y);
	pen.fillStyle = colour;
	pen.fillText(words, x, y);
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
	pen.fillStyle = look.halo;
	pen.fill();
	haloed(pen, look, look.raddle, 2, () => pen.stroke());
	write(pen, look, words, [x + 9, y - 4]);
}

/** A picked point before it has a number: a raddle cross. */
export function drawPick(pen: CanvasRenderingContext2D, x: number, y: number, look: MarkLook): void {
	haloed(pen, look, look.raddle, 2.4, () => lines(pen, ...cross(x, y)));
}

/** An end of a calliper pair: a dot in a ring, and the number of the pair that it shares with the other end. */
export function drawCastEnd(pen: CanvasRenderingContext2D, x: number, y: number, pair: number, look: MarkLook): void {
	haloed(pen, look, look.raddle, 2, () => ring(pen, x, y, 6));
	pen.fillStyle = look.raddle;
	disc(pen, x, y, 2);
	write(pen, look, String(pair), [x + 10, y]);
}

/** The weight as a plumb: a quartered disc with its line down to the foot. */
export function drawWeight(pen: CanvasRenderingContext2D, at: Pixels, foot: Pixels, look: MarkLook): void {
	const [x, y] = at;
	const [fx, fy] = foot;
	const ground: Pixels[] = [
		[fx - 5, fy],
		[fx + 5, fy],
	];
	haloed(pen, look, look.raddle, 1.8, () => lines(pen, [at, foot], ground));
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
	ring(pen, x, y, 9);
}

/** Where a pick would go: a ring, and which way the surface faces there. */
export function drawGhost(pen: CanvasRenderingContext2D, ghost: Place, project: Projection, look: MarkLook): void {
	const [x, y] = project.toScreen(ghost.position);
	const n = ghost.normal;
	const p = ghost.position;
	const out = project.toScreen([p[0] + 14 * n[0], p[1] + 14 * n[1], p[2] + 14 * n[2]]);
	haloed(pen, look, look.raddle, 2, () => ring(pen, x, y, 8));
	lines(pen, [[x, y], out]);
}

/** The place that is stepped to: four corners that leave it free, so that what is wrong there stays to be seen. */
export function drawStop(pen: CanvasRenderingContext2D, [x, y]: Pixels, radius: number, look: MarkLook): void {
	const r = Math.max(16, radius + 6);
	const arm = Math.min(14, r / 2);
	const corner = (sx: number, sy: number): Pixels[] => [
		[x + sx * r, y + sy * (r - arm)],
		[x + sx * r, y + sy * r],
		[x + sx * (r - arm), y + sy * r],
	];
	haloed(pen, look, look.raddle, 2, () => lines(pen, corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)));
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
export function drawCrosshair(pen: CanvasRenderingContext2D, [x, y]: Pixels, look: MarkLook): void {
	const arm = (dx: number, dy: number): Pixels[] => [
		[x + 22 * dx, y + 22 * dy],
		[x + 6 * dx, y + 6 * dy],
	];
	haloed(pen, look, look.focus, 1.6, () => lines(pen, arm(-1, 0), arm(1, 0), arm(0, -1), arm(0, 1)));
}

/** From an undercut to what stands in its way, in dashes like chalk, with a cross where it stands. */
export function drawBlocked(pen: CanvasRenderingContext2D, from: Pixels, by: Pixels, look: MarkLook): void {
	haloed(pen, look, look.raddle, 2.2, () => {
		pen.setLineDash([7, 5]);
		lines(pen, [from, by]);
		pen.setLineDash([]);
		lines(pen, ...cross(...by));
	});
}

/** The rule between two places, pixels, with end ticks and what it reads beside its middle. */
export function drawRule(
	pen: CanvasRenderingContext2D,
	[a, b]: readonly Pixels[],
	words: string,
	look: MarkLook,
): void {
	const long = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
	const across = [(a[1] - b[1]) / long, (b[0] - a[0]) / long];
	const tick = ([x, y]: Pixels): Pixels[] => [
		[x - 7 * across[0], y - 7 * across[1]],
		[x + 7 * across[0], y + 7 * across[1]],
	];
	haloed(pen, look, look.ink, 1.8, () => lines(pen, [a, b], tick(a), tick(b)));
	pen.textBaseline = "middle";
	const middle: Pixels = [(a[0] + b[0]) / 2 + 16 * across[0], (a[1] + b[1]) / 2 + 16 * across[1]];
	write(pen, look, words, middle, { colour: look.ink, size: 13, align: "center" });
}
