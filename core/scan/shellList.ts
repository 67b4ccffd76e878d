/** The shells of a scan one by one, for choosing which of them stay. */

import type { Vec3 } from "../vector.ts";
import { areaBetween } from "./measures.ts";
import type { TriangleMesh } from "./mesh.ts";

/** Units and frame of the mesh. */
export interface ListedShell {
	/** As `examine` and `MendChoices.keepShells` count, from 0. */
	readonly number: number;
	readonly triangles: number;
	readonly area: number;
	readonly min: Vec3;
	readonly max: Vec3;
}

export interface ShellList {
	/** Of all shells, also those that are not listed. */
	readonly count: number;
	/** The largest by area first, ties by number. */
	readonly shells: readonly ListedShell[];
}

/** Nobody chooses among more; a scan with more is one figure and its crumbs. */
export const MOST_LISTED = 60;

/** Lists the `MOST_LISTED` largest of `count` shells; `shellOf` names the shell of every triangle. */
export function listShells({ positions: p, triangles }: TriangleMesh, shellOf: Uint32Array, count: number): ShellList {
	const area = new Float64Array(count);
	const number = new Uint32Array(count);
	for (let t = 0; t < shellOf.length; t++) {
		const s = shellOf[t];
		number[s]++;
		area[s] += areaBetween(p, triangles[3 * t], triangles[3 * t + 1], triangles[3 * t + 2]);
	}
	const largest = largestOf(area);
	const rank = new Int32Array(count).fill(-1);
	largest.forEach((s, i) => {
		rank[s] = i;
	});
	const min = new Float64Array(3 * largest.length).fill(Infinity);
	const max = new Float64Array(3 * largest.length).fill(-Infinity);
	for (let h = 0; h < triangles.length; h++) {
		const i = rank[shellOf[Math.floor(h / 3)]];
		if (i < 0) continue;
		for (let k = 0; k < 3; k++) {
			const x = p[3 * triangles[h] + k];
			if (x < min[3 * i + k]) min[3 * i + k] = x;
			if (x > max[3 * i + k]) max[3 * i + k] = x;
		}
	}
	const at = (list: Float64Array, i: number): Vec3 => [list[3 * i], list[3 * i + 1], list[3 * i + 2]];
	const shells = largest.map((s, i) => ({
		number: s,
		triangles: number[s],
		area: area[s],
		min: at(min, i),
		max: at(max, i),
	}));
	return { count, shells };
}

/** Indices of the greatest values, at most `MOST_LISTED`, falling, ties by index; one pass, as there may be a million crumbs. */
function largestOf(values: Float64Array): number[] {
	const kept: number[] = [];
	for (let i = 0; i < values.length; i++) {
		if (kept.length === MOST_LISTED && values[kept[MOST_LISTED - 1]] >= values[i]) continue;
		let at = kept.length;
		while (at > 0 && values[kept[at - 1]] < values[i]) at--;
		kept.splice(at, 0, i);
		if (kept.length > MOST_LISTED) kept.pop();
	}
	return kept;
}
