/**
 * The drill lines that a face allows: leans along u and v in whole degrees, every second line of the half-degree grid
 * that the sheet prints, so that rounding on paper never turns a line (handbook 8). Finer steps cost four times the search
 * and find lines that are less tilted by a quarter of a degree.
 */

import { cosDegrees, tanDegrees } from "../exactAngle.ts";
import { lineWithLeans, type StoneFace } from "../stone/block.ts";
import { add, dot, type Mat3, turnBack, unit, type Vec3 } from "../vector.ts";

export const LEAN_STEP_DEG = 1;
/** Lines along each side of a tile: on the finest grid they lie within 3.3° of its middle. */
const TILE_LINES = 5;

/**
 * All lines of one face whose lean from square is at most the limit. Line g has leans (u[g]°, v[g]°) and a
 * unit direction out of the stone, x, y, z at 3 g. Lines of a tile stand together.
 */
export interface LeanGrid {
	readonly face: StoneFace;
	readonly u: Int16Array;
	readonly v: Int16Array;
	/** Directions in the model frame, and the same in the stone frame. */
	readonly inModel: Float64Array;
	readonly inStone: Float64Array;
	/** First line of each tile, and one place more at the end. */
	readonly tileFrom: Int32Array;
	/** Middle of each tile: unit direction in the model frame, then cosine and sine of the widest angle from it. */
	readonly tiles: Float64Array;
}
export const TILE_NUMBERS = 5;

/** The grid of a face, every `step`-th line of it. `rotation` maps model to stone frame; 0 ≤ limitDeg ≤ 45. */
export function leanGrid(face: StoneFace, rotation: Mat3, limitDeg: number, step = 1): LeanGrid {
	const steps = Math.floor(limitDeg / LEAN_STEP_DEG / step + 1e-9);
	const most = steps * step;
	const tile = step * Math.max(3, Math.round(TILE_LINES / step));
	const tangent = Array.from({ length: most + 1 }, (_, i) => tanDegrees(i * LEAN_STEP_DEG));
	const tan = (i: number): number => (i < 0 ? -tangent[-i] : tangent[i]);
	const limitCosine = cosDegrees(limitDeg) - 1e-12;
	const u: number[] = [];
	const v: number[] = [];
	const inModel: number[] = [];
	const inStone: number[] = [];
	const tileFrom: number[] = [];
	const tiles: number[] = [];
	for (let i0 = -most; i0 <= most; i0 += tile) {
		for (let j0 = -most; j0 <= most; j0 += tile) {
			const from = u.length;
			for (let i = i0; i < i0 + tile && i <= most; i += step) {
				for (let j = j0; j < j0 + tile && j <= most; j += step) {
					const line = lineWithLeans(face, tan(i), tan(j));
					if (dot(line, face.normal) < limitCosine) continue;
					u.push(i);
					v.push(j);
					inStone.push(...line);
					inModel.push(...turnBack(rotation, line));
				}
			}
			if (u.length === from) continue;
			tileFrom.push(from);
			tiles.push(...coneAround(inModel.slice(3 * from)));
		}
	}
	tileFrom.push(u.length);
	return {
		face,
		u: Int16Array.from(u),
		v: Int16Array.from(v),
		inModel: Float64Array.from(inModel),
		inStone: Float64Array.from(inStone),
		tileFrom: Int32Array.from(tileFrom),
		tiles: Float64Array.from(tiles),
	};
}

/** Direction g of a grid, model frame. */
export const directionOf = ({ inModel }: LeanGrid, g: number): Vec3 => [
	inModel[3 * g],
	inModel[3 * g + 1],
	inModel[3 * g + 2],
];

/** Place in the grid of the line with these leans, or −1. */
export function lineAt(grid: LeanGrid, leanDeg: readonly [number, number]): number {
	const u = Math.round(leanDeg[0] / LEAN_STEP_DEG);
	const v = Math.round(leanDeg[1] / LEAN_STEP_DEG);
	for (let g = 0; g < grid.u.length; g++) if (grid.u[g] === u && grid.v[g] === v) return g;
	return -1;
}

function coneAround(flat: readonly number[]): number[] {
	const lines: Vec3[] = [];
	for (let i = 0; i < flat.length; i += 3) lines.push([flat[i], flat[i + 1], flat[i + 2]]);
	const middle = unit(lines.reduce<Vec3>((sum, line) => add(sum, line), [0, 0, 0]));
	// A hair wider, so that rounding never loses the line on the rim.
	const cosine = Math.min(1, ...lines.map((line) => dot(line, middle))) - 1e-12;
	return [...middle, cosine, Math.sqrt(Math.max(0, 1 - cosine * cosine))];
}
