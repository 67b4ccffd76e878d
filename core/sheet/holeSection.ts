/**
 * A cut through the model along the hole of one point: what the carver would see if stone and model were sawn in two there.
 * The plane holds the drill line and the place of the model that keeps the drill from going deeper.
 */

import { type Aim, type AimedSolid, type Drill, growth, holeSolid, setWorstAim } from "../drilling/drill.ts";
import { createHoleGauge, type HoleLine } from "../drilling/holeGauge.ts";
import { type Job, within } from "../job.ts";
import type { Stone } from "../stone/block.ts";
import { newTouch } from "../surface/holeProbe.ts";
import type { SurfaceIndex } from "../surface/surfaceIndex.ts";
import { capReach } from "../surface/sweptSolid.ts";
import { along, cross, dot, length, type Placement, placeBack, squareTo, sub, unit, type Vec3 } from "../vector.ts";
import { cutLine, cutPolygon, type Window } from "./clip.ts";
import type { Line } from "./drawing.ts";
import { chainBuilder, levelLines } from "./levelLines.ts";

/** What is cut. */
export interface DrilledHole {
	/** Model frame; `line.direction` likewise. */
	readonly line: HoleLine;
	/** Unit surface normal at the target. */
	readonly normal: Vec3;
	readonly drill: Drill;
	readonly allowance: number;
	readonly aim: Aim;
	/** Tip back-off from the target, mm. */
	readonly stop: number;
}

export interface CutGround {
	readonly index: SurfaceIndex;
	/** Unit vertex normals, outward. */
	readonly normals: Float64Array;
	/** Whether the model encloses a volume, so that its inside can be filled. */
	readonly closed: boolean;
	readonly stone: Stone;
	/** Model to stone frame. */
	readonly placement: Placement;
}

/** mm in the plane of the cut: x across, y along the drill line out of the stone, the target at (0, 0). */
export interface HoleSection {
	/** The whole cut through the model; closed chains repeat their first place. */
	readonly model: readonly Line[];
	/** The same as areas to be filled, holes the other way round; empty for an open shell. */
	readonly inside: readonly Line[];
	/** Where the model's distance is the allowance, outside it, within the close view. */
	readonly allowance: readonly Line[];
	/** Outlines of the hole from the skin round its end and back to the skin. */
	readonly asAimed: Line;
	readonly worstAim: Line;
	/** Sides of the stone. */
	readonly skin: readonly { readonly face: string; readonly line: Line }[];
	/** The place of the model that decides the stop, and whether it does so at worst aim. */
	readonly decides: { readonly x: number; readonly y: number; readonly atWorstAim: boolean } | null;
	/** How much deeper the tip could go before it touches at worst aim, mm. */
	readonly worstSpare: number;
	/** Where the tip stands, and where the skin is met. */
	readonly tip: number;
	readonly entry: number;
	/** Half the width of the hole at worst aim where it is widest: at the tip. */
	readonly widest: number;
	readonly close: Window;
}

const STAGE = "cutting along the hole";
/** Height of the close view in its widths. */
const CLOSE_TALL = 1.3;
/** Cells of the grid on which distances are taken, along the close view's width. */
const CELLS = 64;

export function* holeSection(ground: CutGround, hole: DrilledHole): Job<HoleSection> {
	const { index, placement, stone } = ground;
	const { line, drill, allowance, aim, stop } = hole;
	const gauge = createHoleGauge(index);
	const touch = newTouch();
	const deepest = gauge.stopOnSurface(line, drill, allowance, aim, touch);
	const met: Vec3 | null = touch.triangle >= 0 && stop - deepest < 0.01 ? [touch.x, touch.y, touch.z] : null;
	const out = line.direction;
	const across = acrossOf(hole, met);
	const square = cross(out, across);
	const flat = (p: Vec3): [number, number] => {
		const d = sub(p, line.target);
		return [dot(d, across), dot(d, out)];
	};

	const worst = holeSolid(drill, 0);
	setWorstAim(worst, aim, growth(aim), line.entry, line.leanSine);
	const widest = drill.holeRadius + worst.wider - worst.widening * stop;
	const half = widest + allowance + drill.holeRadius + 2;
	const tall = 2 * half * CLOSE_TALL;
	const close: Window = { x: -half, y: Math.min(0, stop) - 0.35 * tall, width: 2 * half, height: tall };

	yield { stage: STAGE, share: 0 };
	const model = cutByPlane(ground, line.target, square, flat);
	yield { stage: STAGE, share: 0.2 };
	const inPlane = (x: number, y: number): Vec3 => along(along(line.target, across, x), out, y);
	const offset = yield* within(offsetLines(ground, allowance, close, inPlane), 0.2, 1);
	return {
		model,
		inside: ground.closed ? turnedByNesting(model.filter(isClosed)) : [],
		allowance: offset,
		asAimed: outline(holeSolid(drill, 0), stop, line.entry),
		worstAim: outline(worst, stop, line.entry),
		skin: skinLines(stone, placement, line.target, square, flat),
		decides: met && { x: flat(met)[0], y: flat(met)[1], atWorstAim: touch.solid === 1 },
		worstSpare: gauge.worstSpare(line, drill, stop, aim),
		tip: stop,
		entry: line.entry,
		widest,
		close,
	};
}

/** Square to the line, towards the place that decides; or, where that lies on the line, towards where the surface falls. */
function acrossOf({ line, normal }: DrilledHole, met: Vec3 | null): Vec3 {
	const aside = (d: Vec3): Vec3 => along(d, line.direction, -dot(d, line.direction));
	const towards = met ? aside(sub(met, line.target)) : ([0, 0, 0] as Vec3);
	if (length(towards) > 0.05) return unit(towards);
	const falls = aside(normal);
	return length(falls) > 0.02 ? unit(falls) : squareTo(line.direction);
}

function cutByPlane({ index }: CutGround, origin: Vec3, square: Vec3, flat: (p: Vec3) => [number, number]): Line[] {
	const { positions: p, triangles } = index.mesh;
	const offset = dot(square, origin);
	const height = new Float64Array(p.length / 3);
	for (let v = 0; v < height.length; v++)
		height[v] = square[0] * p[3 * v] + square[1] * p[3 * v + 1] + square[2] * p[3 * v + 2] - offset;
	const { from, to, share, chains } = levelLines(triangles, height, 0, 1, 1);
	return chains.map((chain) => {
		const places = new Float64Array(2 * chain.length);
		for (const [k, n] of chain.entries()) {
			const [a, b, s] = [3 * from[n], 3 * to[n], share[n]];
			const at: Vec3 = [
				p[a] + s * (p[b] - p[a]),
				p[a + 1] + s * (p[b + 1] - p[a + 1]),
				p[a + 2] + s * (p[b + 2] - p[a + 2]),
			];
			places.set(flat(at), 2 * k);
		}
		return places;
	});
}

const isClosed = (l: Line): boolean => l.length >= 8 && l[0] === l[l.length - 2] && l[1] === l[l.length - 1];

/** Loops turned so that each runs against the one around it: filled by winding, holes stay open. */
function turnedByNesting(loops: readonly Line[]): Line[] {
	return loops.map((loop, i) => {
		const depth = loops.filter((other, k) => k !== i && holds(other, loop[0], loop[1])).length;
		if (signedArea(loop) > 0 === (depth % 2 === 0)) return loop;
		const turned = new Float64Array(loop.length);
		for (let k = 0; k < loop.length; k += 2) {
			turned[k] = loop[loop.length - 2 - k];
			turned[k + 1] = loop[loop.length - 1 - k];
		}
		return turned;
	});
}

function signedArea(l: Line): number {
	let sum = 0;
	for (let i = 0; i + 3 < l.length; i += 2) sum += l[i] * l[i + 3] - l[i + 2] * l[i + 1];
	return sum / 2;
}

/** Whether a closed loop runs round the place (x, y), by crossings of a ray. */
function holds(l: Line, x: number, y: number): boolean {
	let within = false;
	for (let i = 0; i + 3 < l.length; i += 2) {
		if (l[i + 1] > y === l[i + 3] > y) continue;
		if (x < l[i] + ((y - l[i + 1]) / (l[i + 3] - l[i + 1])) * (l[i + 2] - l[i])) within = !within;
	}
	return within;
}

/**
 * From the skin down one side, round the end and up the other side. The solid's outline lies at x = tip − G(w) with
 * rho = w + c − k x (`SweptSolid`), on its side at full width.
 */
function outline(solid: AimedSolid, stop: number, entry: number): Line {
	const width = solid.shoulder + solid.rounding;
	const one: [number, number][] = [[width + solid.wider - solid.widening * entry, entry]];
	const steps = solid.rounding > 0 || solid.coneSlope > 0 ? 24 : 1;
	for (let i = steps; i >= 0; i--) {
		const w = (width * i) / steps;
		const y = stop - solid.push - capReach(solid, w);
		one.push([w + solid.wider - solid.widening * y, y]);
	}
	const places: number[] = [];
	for (const [x, y] of one) places.push(x, y);
	for (const [x, y] of one.reverse()) places.push(-x, y);
	return places;
}

/** Lines at which the outward distance from the model is `allowance`, by squares of a grid (marching squares). */
function* offsetLines(
	{ index, normals }: CutGround,
	allowance: number,
	window: Window,
	at: (x: number, y: number) => Vec3,
): Job<Line[]> {
	const cell = window.width / CELLS;
	const columns = CELLS + 1;
	const rows = Math.ceil(window.height / cell) + 1;
	const value = new Float64Array(columns * rows).fill(Number.NaN);
	for (let r = 0; r < rows; r++) {
		for (let c = 0; c < columns; c++) {
			const distance = outwardDistance(
				index,
				normals,
				at(window.x + c * cell, window.y + r * cell),
				allowance + 2 * cell,
			);
			if (distance !== null) value[r * columns + c] = distance - allowance;
		}
		yield { stage: STAGE, share: r / rows };
	}
	const chains = chainBuilder(value.length);
	const node = (p: number, q: number): number => chains.node(p, q, 0, value[p] / (value[p] - value[q]));
	const triangle = (a: number, b: number, c: number): void => {
		const [over, under] = [[a, b, c].filter((v) => value[v] >= 0), [a, b, c].filter((v) => value[v] < 0)];
		// Places farther away than was looked carry no value and take part in no line.
		if (over.length + under.length < 3 || over.length === 0 || under.length === 0) return;
		const [lone, pair] = over.length === 1 ? [over[0], under] : [under[0], over];
		chains.segment(node(lone, pair[0]), node(lone, pair[1]));
	};
	for (let r = 0; r + 1 < rows; r++)
		for (let c = 0; c + 1 < columns; c++) {
			const a = r * columns + c;
			triangle(a, a + 1, a + columns);
			triangle(a + 1, a + columns + 1, a + columns);
		}
	const { from, to, share, chains: found } = chains.finish();
	return found.map((chain) => {
		const places: number[] = [];
		for (const n of chain) {
			const [p, q, s] = [from[n], to[n], share[n]];
			const column = (p % columns) + s * ((q % columns) - (p % columns));
			const row = Math.floor(p / columns) + s * (Math.floor(q / columns) - Math.floor(p / columns));
			places.push(window.x + column * cell, window.y + row * cell);
		}
		return places;
	});
}

/** Distance from the model, negative on its inner side; null beyond `most`. */
function outwardDistance(
	{ mesh, closestPoint }: SurfaceIndex,
	normals: Float64Array,
	at: Vec3,
	most: number,
): number | null {
	const hit = closestPoint(at, most);
	if (!hit) return null;
	const away = sub(at, [hit.x, hit.y, hit.z]);
	const corners = [0, 1, 2].map((k) => 3 * mesh.triangles[3 * hit.triangle + k]);
	const [a, b, c] = corners.map((v): Vec3 => [mesh.positions[v], mesh.positions[v + 1], mesh.positions[v + 2]]);
	let side = dot(unit(cross(sub(b, a), sub(c, a))), away);
	// Nearest to an edge, the triangle's own normal may look the wrong way.
	if (Math.abs(side) < 0.9 * hit.distance)
		side = corners.reduce((sum, v) => sum + dot([normals[v], normals[v + 1], normals[v + 2]], away), 0);
	return side < 0 ? -hit.distance : hit.distance;
}

/** Where the plane passes the sides of the stone. */
function skinLines(
	stone: Stone,
	placement: Placement,
	origin: Vec3,
	square: Vec3,
	flat: (p: Vec3) => [number, number],
): HoleSection["skin"][number][] {
	return stone.faces.flatMap((face) => {
		const corners = face.outline.map((corner) => placeBack(placement, corner));
		const heights = corners.map((corner) => dot(square, sub(corner, origin)));
		const places: number[] = [];
		for (let i = 0; i < corners.length; i++) {
			const k = (i + 1) % corners.length;
			if (heights[i] >= 0 === heights[k] >= 0) continue;
			places.push(...flat(along(corners[i], sub(corners[k], corners[i]), heights[i] / (heights[i] - heights[k]))));
		}
		return places.length === 4 ? [{ face: face.name, line: places }] : [];
	});
}

/** What of the lines lies in the window. */
export const linesWithin = (lines: readonly Line[], window: Window): Line[] =>
	lines.flatMap((l) => cutLine(l, window, false)).filter((l) => l.length >= 4);

export const areasWithin = (loops: readonly Line[], window: Window): Line[] =>
	loops.map((l) => cutPolygon(l, window)).filter((l) => l.length >= 6);
