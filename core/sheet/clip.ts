/** Takes a rectangle out of a drawing: what a sheet of a drawing on several sheets shows. */

import type { Drawing, Line, Shape } from "./drawing.ts";
import { type Fonts, textWidth } from "./fontMetrics.ts";
import { CAP_HEIGHT } from "./style.ts";

/** mm of the drawing that is cut. */
export interface Window {
	readonly x: number;
	readonly y: number;
	readonly width: number;
	readonly height: number;
}

/**
 * The shapes of `drawing` that lie in the window, in the drawing's own coordinates. Lines and filled polygons are cut at its
 * edges; discs and texts are kept when they lie wholly inside (sheets overlap, so that each is whole on one of them).
 */
export function cutOut(fonts: Fonts, drawing: Drawing, w: Window): Shape[] {
	const shapes: Shape[] = [];
	for (const s of drawing.shapes) {
		if (s.kind === "lines") {
			const lines = s.lines.flatMap((l) => (s.fill ? [cutPolygon(l, w)] : cutLine(l, w, s.closed ?? false)));
			const kept = lines.filter((l) => l.length >= 4);
			if (kept.length > 0) shapes.push({ ...s, lines: kept, closed: s.fill !== undefined });
		} else if (s.kind === "disc") {
			if (inside(w, s.x - s.radius, s.y - s.radius, s.x + s.radius, s.y + s.radius)) shapes.push(s);
		} else {
			const width = textWidth(fonts, s.text, s.size, s.bold);
			const back = width * (s.anchor === "start" ? 0 : s.anchor === "middle" ? 0.5 : 1);
			const tall = s.size * CAP_HEIGHT;
			const whole = s.turned
				? inside(w, s.x - tall, s.y + back - width, s.x, s.y + back)
				: inside(w, s.x - back, s.y - tall, s.x - back + width, s.y);
			if (whole) shapes.push(s);
		}
	}
	return shapes;
}

const inside = (w: Window, x0: number, y0: number, x1: number, y1: number): boolean =>
	x0 >= w.x && y0 >= w.y && x1 <= w.x + w.width && y1 <= w.y + w.height;

/** The pieces of a polyline inside the window (each segment cut as by Liang and Barsky 1984). */
export function cutLine(l: Line, w: Window, closed: boolean): number[][] {
	const pieces: number[][] = [];
	let piece: number[] = [];
	const n = l.length / 2;
	for (let i = 0; i < (closed ? n : n - 1); i++) {
		const [ax, ay] = [l[2 * i], l[2 * i + 1]];
		const j = (i + 1) % n;
		const [bx, by] = [l[2 * j], l[2 * j + 1]];
		let t0 = 0;
		let t1 = 1;
		for (const [from, by1, low, high] of [
			[ax, bx - ax, w.x, w.x + w.width],
			[ay, by - ay, w.y, w.y + w.height],
		]) {
			if (by1 === 0) {
				if (from < low || from > high) t1 = -1;
				continue;
			}
			const p = (low - from) / by1;
			const q = (high - from) / by1;
			t0 = Math.max(t0, Math.min(p, q));
			t1 = Math.min(t1, Math.max(p, q));
		}
		if (t0 > t1) {
			piece = [];
			continue;
		}
		if (piece.length === 0 || t0 > 0) {
			piece = [ax + t0 * (bx - ax), ay + t0 * (by - ay)];
			pieces.push(piece);
		}
		piece.push(ax + t1 * (bx - ax), ay + t1 * (by - ay));
		if (t1 < 1) piece = [];
	}
	return pieces;
}

/** The part of a polygon inside the window (Sutherland and Hodgman 1974). */
export function cutPolygon(l: Line, w: Window): number[] {
	let points: number[] = Array.from({ length: l.length }, (_, i) => l[i]);
	for (const [axis, bound, sign] of [
		[0, w.x, 1],
		[0, w.x + w.width, -1],
		[1, w.y, 1],
		[1, w.y + w.height, -1],
	]) {
		const kept: number[] = [];
		const n = points.length / 2;
		for (let i = 0; i < n; i++) {
			const j = (i + 1) % n;
			const a = sign * (points[2 * i + axis] - bound);
			const b = sign * (points[2 * j + axis] - bound);
			if (a >= 0) kept.push(points[2 * i], points[2 * i + 1]);
			if (a >= 0 !== b >= 0) {
				const t = a / (a - b);
				for (const k of [0, 1]) kept.push(points[2 * i + k] + t * (points[2 * j + k] - points[2 * i + k]));
			}
		}
		points = kept;
	}
	return points;
}
