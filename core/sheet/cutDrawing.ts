/** One cut as a carver sees the stone: from a corner and from above, its line in red, the piece tinted, marks lettered. */

import type { ConvexSolid } from "../cuts/convexSolid.ts";
import { faceOf, planeOf } from "../cuts/convexSolid.ts";
import type { Plan } from "../plan/planFile.ts";
import { cutOutline } from "../stone/faceOutline.ts";
import { cross, dot, unit, type Vec3 } from "../vector.ts";
import { type Drawing, disc, line, polygon, text } from "./drawing.ts";
import { BODY, bodyBold, PALE, PAPER, quiet, RADDLE, SLATE } from "./style.ts";

/** The piece that comes off. */
const PIECE = "#f1ddd2";

export interface CornerView {
	readonly right: Vec3;
	readonly up: Vec3;
	readonly towards: Vec3;
	/** "the front right" and so on. */
	readonly words: string;
}

/** From the corner, of the four upper ones, that looks most squarely at the cut. */
export function viewOf(normal: Vec3): CornerView {
	let best: { view: CornerView; facing: number } | null = null;
	for (const [sx, sy, words] of [
		[1, -1, "the front right"],
		[-1, -1, "the front left"],
		[1, 1, "the back right"],
		[-1, 1, "the back left"],
	] as const) {
		const towards = unit([0.62 * sx, sy, 0.62]);
		const facing = dot(towards, normal);
		if (best !== null && facing <= best.facing) continue;
		const right = unit(cross([0, 0, 1], towards));
		best = { view: { right, up: cross(towards, right), towards, words }, facing };
	}
	return (best as { view: CornerView }).view;
}

/** Letters of the marks, in the order of the plan. */
export const markLetter = (i: number): string => "abcdefghijklmnopqrstuvwxyz"[i % 26];

export interface CutPicture {
	readonly solid: ConvexSolid;
	readonly cut: Plan["cuts"][number];
	readonly view: CornerView;
	/** Corners of the figure's outline in the view, x and y in turn. */
	readonly figure: readonly number[];
}

/** Draws into the box (x, y, width, height). */
export function drawCut(on: Drawing, picture: CutPicture, x: number, y: number, width: number, height: number): void {
	const { solid, cut, view, figure } = picture;
	const flat = (at: Vec3): [number, number] => [dot(view.right, at), dot(view.up, at)];
	const faces = solid.names.map((name, f) => ({ name, plane: planeOf(solid, f), ring: faceOf(solid, f) }));
	const places = faces.flatMap(({ ring }) => ring.map(flat));
	const low = [0, 1].map((k) => Math.min(...places.map((p) => p[k])));
	const high = [0, 1].map((k) => Math.max(...places.map((p) => p[k])));
	const inner = 9;
	const scale = Math.min((width - 2 * inner) / (high[0] - low[0]), (height - 2 * inner) / (high[1] - low[1]));
	const onPaper = ([px, py]: readonly [number, number]): [number, number] => [
		x + width / 2 + (px - (low[0] + high[0]) / 2) * scale,
		y + height / 2 - (py - (low[1] + high[1]) / 2) * scale,
	];
	const put = (at: Vec3): [number, number] => onPaper(flat(at));
	const ringOnPaper = (ring: readonly Vec3[]): number[] => ring.flatMap(put);
	const seen = ({ normal }: { normal: Vec3 }): boolean => dot(normal, view.towards) > 1e-9;
	const [nx, ny, nz, b] = cut.plane;

	for (const { plane, ring } of faces) {
		if (seen(plane)) continue;
		polygon(on, ringOnPaper(ring), { pen: { colour: PALE, width: 0.2, dash: [1.2, 1.2] } });
	}
	for (const { plane, ring } of faces) {
		if (!seen(plane)) continue;
		polygon(on, ringOnPaper(ring), { fill: PAPER });
		const piece = cutOutline(ring, [-nx, -ny, -nz], -b);
		if (piece.length > 2) polygon(on, ringOnPaper(piece), { fill: PIECE });
	}
	const outline: number[] = [];
	for (let i = 0; i < figure.length; i += 2) outline.push(...onPaper([figure[i], figure[i + 1]]));
	polygon(on, outline, { pen: { colour: SLATE, width: 0.22, dash: [0.5, 0.9] } });
	for (const { name, plane, ring } of faces) {
		if (!seen(plane)) continue;
		polygon(on, ringOnPaper(ring), { pen: { colour: SLATE, width: 0.4 } });
		faceName(on, name, ringOnPaper(ring));
	}
	const corners = cut.outline_mm as readonly Vec3[];
	corners.forEach((from, i) => {
		const to = corners[(i + 1) % corners.length];
		const lies = faces.filter(
			({ plane }) =>
				Math.abs(dot(plane.normal, from) - plane.offset) < 1e-3 &&
				Math.abs(dot(plane.normal, to) - plane.offset) < 1e-3,
		);
		const visible = lies.some(({ plane }) => seen(plane));
		const pen = visible ? { colour: RADDLE, width: 0.75 } : { colour: RADDLE, width: 0.35, dash: [1.6, 1.2] };
		line(on, pen, ...put(from), ...put(to));
	});
	if (faces.some(({ plane, ring }) => seen(plane) && ring.some((at) => dot(at, at) < 1e-6)))
		disc(on, ...put([0, 0, 0]), 1.3, { fill: RADDLE });
	letters(on, cut, put, [x + width / 2, y + height / 2]);
}

function faceName(on: Drawing, name: string, ring: readonly number[]): void {
	let [mx, my] = [0, 0];
	for (let i = 0; i < ring.length; i += 2) {
		mx += (2 * ring[i]) / ring.length;
		my += (2 * ring[i + 1]) / ring.length;
	}
	text(on, mx, my + BODY / 3, name, { ...quiet, anchor: "middle" });
}

/** A letter beside each mark, away from the middle of the stone. */
function letters(
	on: Drawing,
	cut: Plan["cuts"][number],
	put: (at: Vec3) => [number, number],
	middle: readonly [number, number],
): void {
	cut.marks.forEach((mark, i) => {
		const [px, py] = put(mark.at_mm as Vec3);
		const [ax, ay] = [px - middle[0], py - middle[1]];
		const l = Math.sqrt(ax * ax + ay * ay) || 1;
		disc(on, px, py, 0.8, { fill: RADDLE });
		const [lx, ly] = [px + (ax / l) * 3.6, py + (ay / l) * 3.6];
		disc(on, lx, ly, 2, { fill: PAPER });
		text(on, lx, ly + 1.15, markLetter(i), { ...bodyBold, colour: RADDLE, anchor: "middle" });
	});
}

/** Corners of the outline that a cloud of places has in a view (its convex outline, Andrew's monotone chain 1979). */
export function outlineIn(
	positions: ArrayLike<number>,
	toView: (x: number, y: number, z: number) => readonly [number, number],
): number[] {
	const places: [number, number][] = [];
	for (let i = 0; i < positions.length; i += 3) {
		const [px, py] = toView(positions[i], positions[i + 1], positions[i + 2]);
		places.push([px, py]);
	}
	places.sort((a, b) => a[0] - b[0] || a[1] - b[1]);
	const half = (order: Iterable<[number, number]>): [number, number][] => {
		const chain: [number, number][] = [];
		for (const p of order) {
			while (chain.length > 1) {
				const [a, b] = chain.slice(-2);
				if ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) > 0) break;
				chain.pop();
			}
			chain.push(p);
		}
		return chain.slice(0, -1);
	};
	return [...half(places), ...half([...places].reverse())].flat();
}
