/**
 * The drill lines that a face allows: leans along u and v on the half-degree grid that the sheet prints, so that rounding
 * on paper never turns a line (handbook 8).
 */

import { cosDegrees, tanDegrees } from "../exactAngle.ts";
import type { StoneFace } from "../stone/block.ts";
import { lineWithLeans } from "../stone/block.ts";
import { dot, type Mat3, scale, turnBack, type Vec3 } from "../vector.ts";

export const LEAN_STEP_DEG = 0.5;
/** Half-degree steps along each side of a tile: the lines of a tile lie within 3.6° of its middle. */
const TILE_STEPS = 10;

/**
 * All lines of one face whose lean from square is at most the limit. Line g has leans (0.5° × u[g], 0.5° × v[g]) and the
 * unit direction (x, y, z)[3g…] in the *model* frame, out of the stone. Lines of a tile stand together.
 */
export interface LeanGrid {
	readonly face: StoneFace;
	readonly u: Int16Array;
	readonly v: Int16Array;
	readonly directions: Float64Array;
	/** First line of each tile, and one place more at the end. */
	readonly tileFrom: Int32Array;
	/** Middle of each tile: unit direction in the model frame, then cosine and sine of the widest angle from it. */
	readonly tiles: Float64Array;
}
export const TILE_NUMBERS = 5;

/** The grid of a face. `rotation` maps model to stone frame; 0 ≤ limitDeg ≤ 45. */
export function leanGrid(face: StoneFace, rotation: Mat3, limitDeg: number): LeanGrid {
	const most = Math.floor(limitDeg / LEAN_STEP_DEG + 1e-9);
	const tangent = Array.from({ length: most + 1 }, (_, i) => tanDegrees(i * LEAN_STEP_DEG));
	const tan = (i: number): number => (i < 0 ? -tangent[-i] : tangent[i]);
	const limitCosine = cosDegrees(limitDeg) - 1e-12;
	const u: number[] = [];
	const v: number[] = [];
	const directions: number[] = [];
	const tileFrom: number[] = [];
	const tiles: number[] = [];
	for (let i0 = -most; i0 <= most; i0 += TILE_STEPS) {
		for (let j0 = -most; j0 <= most; j0 += TILE_STEPS) {
			const from = u.length;
			for (let i = i0; i < i0 + TILE_STEPS && i <= most; i++) {
				for (let j = j0; j < j0 + TILE_STEPS && j <= most; j++) {
					const line = lineWithLeans(face, tan(i), tan(j));
					if (dot(line, face.normal) < limitCosine) continue;
					u.push(i);
					v.push(j);
					directions.push(...turnBack(rotation, line));
				}
			}
			if (u.length === from) continue;
			tileFrom.push(from);
			tiles.push(...tileCone(directions, from, u.length));
		}
	}
	tileFrom.push(u.length);
	return {
		face,
		u: Int16Array.from(u),
		v: Int16Array.from(v),
		directions: Float64Array.from(directions),
		tileFrom: Int32Array.from(tileFrom),
		tiles: Float64Array.from(tiles),
	};
}

/** Direction g of a grid. */
export const directionOf = (grid: LeanGrid, g: number): Vec3 => [
	grid.directions[3 * g],
	grid.directions[3 * g + 1],
	grid.directions[3 * g + 2],
];

function tileCone(directions: readonly number[], from: number, to: number): number[] {
	let middle: Vec3 = [0, 0, 0];
	const at = (g: number): Vec3 => [directions[3 * g], directions[3 * g + 1], directions[3 * g + 2]];
	for (let g = from; g < to; g++) {
		const d = at(g);
		middle = [middle[0] + d[0], middle[1] + d[1], middle[2] + d[2]];
	}
	middle = scale(middle, 1 / Math.sqrt(dot(middle, middle)));
	let cosine = 1;
	for (let g = from; g < to; g++) cosine = Math.min(cosine, dot(at(g), middle));
	// A hair wider, so that rounding never loses the line on the tile's rim.
	cosine -= 1e-12;
	return [...middle, cosine, Math.sqrt(Math.max(0, 1 - cosine * cosine))];
}
