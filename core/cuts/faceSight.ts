/** What a saw meets that goes straight into the stone from a face: a grid of depths, by rays against the scan. */

import type { Job } from "../job.ts";
import { onFace, type StoneFace } from "../stone/block.ts";
import type { Hull } from "../stone/hull.ts";
import { along, cross, dot, length, placeBack, scale, sub, turnBack, unit, type Vec3 } from "../vector.ts";
import { FINEST, type Guard } from "./clearOf.ts";
import { keptOver, type Saw, stopSaw } from "./saws.ts";
import { boxOf, type StopField } from "./stopField.ts";
import type { DepthGrid } from "./stopWindow.ts";
import { triangleOf } from "./waste.ts";

/** Cells of the grid, mm. */
export const GRID = 6;

export interface Sawn extends Guard {
	/** Of the figure with its holding foot, model frame. */
	readonly hull: Hull;
	readonly saw: Saw;
}

/** What is seen from the cells of a face, straight into the stone: v by rows, u by columns. */
export interface FaceSight {
	readonly face: StoneFace;
	readonly rows: number;
	readonly columns: number;
	/** Least u and v of the face. */
	readonly low: readonly [number, number];
	/** Way to the figure or to what is kept, no more than the saw can use; −1 off the face. */
	readonly hit: Float64Array;
	/** Way to the grown hull; Infinity where there is none. */
	readonly entered: Float64Array;
}

export function* sightInto({ index, placement, kept, hull, saw: chosen }: Sawn, face: StoneFace): Job<FaceSight> {
	const saw = stopSaw(chosen);
	const over = keptOver(saw);
	const inwards = scale(face.normal, -1);
	const flat = face.outline.map((at) => [dot(sub(at, face.origin), face.u), dot(sub(at, face.origin), face.v)]);
	const low = [Math.min(...flat.map((p) => p[0])), Math.min(...flat.map((p) => p[1]))] as const;
	const columns = Math.floor((Math.max(...flat.map((p) => p[0])) - low[0]) / GRID);
	const rows = Math.floor((Math.max(...flat.map((p) => p[1])) - low[1]) / GRID);
	const hit = new Float64Array(rows * columns).fill(-1);
	const entered = new Float64Array(rows * columns).fill(Number.POSITIVE_INFINITY);
	const d = turnBack(placement.rotation, inwards);
	const walls = wallsAgainst(hull, d);
	for (let row = 0; row < rows; row++) {
		for (let column = 0; column < columns; column++) {
			const on = cellAt(face, low, row, column);
			if (!inside(face, on, GRID / 2)) continue;
			const start = placeBack(placement, on);
			const cell = row * columns + column;
			hit[cell] = index.castRay(start, d, saw.reach + over)?.distance ?? saw.reach + over;
			if (kept.some((one) => (one.kind === "boss" || one.kind === "bridge") && ahead(one, on, inwards, over)))
				hit[cell] = 0;
			entered[cell] = enters(walls, start, over);
		}
		if (row % 4 === 3) yield { stage: "looking for stop cuts", share: row / rows };
	}
	return { face, rows, columns, low, hit, entered };
}

const cellAt = (face: StoneFace, low: readonly [number, number], row: number, column: number): Vec3 =>
	onFace(face, low[0] + (column + 0.5) * GRID, low[1] + (row + 0.5) * GRID);

/** How deep each cell of a face can be sawn with the allowance left and clear of the fields before, rows across the kerfs. */
export function depthGrid({ saw }: Sawn, sight: FaceSight, runs: "u" | "v", before: readonly StopField[]): DepthGrid {
	const { face, rows, columns, low } = sight;
	const over = keptOver(stopSaw(saw));
	const inwards = scale(face.normal, -1);
	const hit = sight.hit.map((way, cell) =>
		way <= 0
			? way
			: Math.min(
					way,
					fieldsAhead(before, cellAt(face, low, Math.floor(cell / columns), cell % columns), inwards) + over,
				),
	);
	// Half a cell more to the sides, because a strip ends at its cells' edges, and what the halving does not tell clear.
	const safe = lowered(hit, rows, columns, over + GRID / 2 + 2 * FINEST);
	const { entered } = sight;
	if (runs === "u") return { rows, columns, cell: GRID, low: [low[1], low[0]], safe, entered };
	const turned = (values: Float64Array): Float64Array =>
		values.map((_, i) => values[(i % rows) * columns + Math.floor(i / rows)]);
	return {
		rows: columns,
		columns: rows,
		cell: GRID,
		low: [low[0], low[1]],
		safe: turned(safe),
		entered: turned(entered),
	};
}

/** The least depth, at each cell, at which a ball of that radius touches what the rays found around it. */
function lowered(hit: Float64Array, rows: number, columns: number, radius: number): Float64Array {
	const safe = new Float64Array(hit.length);
	const cells = Math.ceil(radius / GRID);
	for (let row = 0; row < rows; row++) {
		for (let column = 0; column < columns; column++) {
			let least = hit[row * columns + column] - radius;
			if (hit[row * columns + column] <= 0) continue;
			for (let i = Math.max(0, row - cells); i <= Math.min(rows - 1, row + cells); i++) {
				for (let j = Math.max(0, column - cells); j <= Math.min(columns - 1, column + cells); j++) {
					const aside = GRID * GRID * ((i - row) * (i - row) + (j - column) * (j - column));
					if (aside >= radius * radius || hit[i * columns + j] < 0) continue;
					least = Math.min(least, hit[i * columns + j] - Math.sqrt(radius * radius - aside));
				}
			}
			safe[row * columns + column] = Math.max(0, least);
		}
	}
	return safe;
}

/** Within the face and that far from its edges. */
function inside({ outline, normal }: StoneFace, at: Vec3, margin: number): boolean {
	return outline.every((from, k) => {
		const way = sub(outline[(k + 1) % outline.length], from);
		return length(way) === 0 || dot(unit(cross(normal, way)), sub(at, from)) >= margin;
	});
}

/** Normals, offsets and speeds of the hull's faces that a line in that direction enters by; model frame. */
function wallsAgainst(hull: Hull, d: Vec3): Float64Array {
	const walls: number[] = [];
	for (let t = 0; t < hull.triangles.length; t += 3) {
		const { ring, normal } = triangleOf(hull, t);
		walls.push(...normal, dot(normal, ring[0]), dot(normal, d));
	}
	return Float64Array.from(walls);
}

/** Where a line enters the hull grown by `over`; Infinity where it passes it by. */
function enters(walls: Float64Array, start: Vec3, over: number): number {
	let from = 0;
	let until = Number.POSITIVE_INFINITY;
	for (let w = 0; w < walls.length; w += 5) {
		const away = walls[w] * start[0] + walls[w + 1] * start[1] + walls[w + 2] * start[2] - walls[w + 3] - over;
		const speed = walls[w + 4];
		if (speed < 0) from = Math.max(from, away / -speed);
		else if (speed > 0) until = Math.min(until, -away / speed);
		else if (away > 0) return Number.POSITIVE_INFINITY;
	}
	return from < until ? from : Number.POSITIVE_INFINITY;
}

/** Whether a boss or bridge stands within `over` of the line into the stone. */
function ahead(one: { from: Vec3; to: Vec3; radius: number }, at: Vec3, inwards: Vec3, over: number): boolean {
	const aside = (end: Vec3): Vec3 => {
		const from = sub(end, at);
		return along(from, inwards, -dot(from, inwards));
	};
	const [a, b] = [aside(one.from), aside(one.to)];
	const way = sub(b, a);
	const share = Math.max(0, Math.min(1, -dot(a, way) / (dot(way, way) || 1)));
	return length(along(a, way, share)) < one.radius + over;
}

/** How far into the stone a line meets a field that is knocked off already; Infinity where it meets none. */
function fieldsAhead(before: readonly StopField[], at: Vec3, inwards: Vec3): number {
	let least = Number.POSITIVE_INFINITY;
	for (const field of before) {
		const box = boxOf(field);
		let from = 0;
		let until = Number.POSITIVE_INFINITY;
		for (const axis of box.axes) {
			const half = dot(axis, axis);
			const away = dot(sub(at, box.middle), axis);
			const speed = dot(inwards, axis);
			if (speed === 0) {
				if (Math.abs(away) > half) until = -1;
				continue;
			}
			const [s, t] = [(-half - away) / speed, (half - away) / speed];
			from = Math.max(from, Math.min(s, t));
			until = Math.min(until, Math.max(s, t));
		}
		if (from <= until) least = Math.min(least, from);
	}
	return least;
}
