/** Boxes along the axes: of a surface, of a placed one, of several things together. mm */

import type { Placement, Vec3 } from "../../core/vector.ts";

export interface Bounds {
	readonly min: Vec3;
	readonly max: Vec3;
}

/** Joins bounds; null where there is nothing. */
export function joined(a: Bounds | null, b: Bounds | null): Bounds | null {
	if (!a || !b) return a ?? b;
	const pick = (f: (p: number, q: number) => number, p: Vec3, q: Vec3): Vec3 => [
		f(p[0], q[0]),
		f(p[1], q[1]),
		f(p[2], q[2]),
	];
	return { min: pick(Math.min, a.min, b.min), max: pick(Math.max, a.max, b.max) };
}

export function boundsOf(positions: Float32Array): Bounds {
	const min = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
	const max = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
	for (let i = 0; i < positions.length; i++) {
		const k = i % 3;
		if (positions[i] < min[k]) min[k] = positions[i];
		if (positions[i] > max[k]) max[k] = positions[i];
	}
	return { min: [min[0], min[1], min[2]], max: [max[0], max[1], max[2]] };
}

/** Bounds of placed bounds. */
export function turnedBounds(bounds: Bounds, { rotation: r, translation: t }: Placement): Bounds {
	const min = [0, 0, 0];
	const max = [0, 0, 0];
	for (let i = 0; i < 3; i++) {
		min[i] = t[i];
		max[i] = t[i];
		for (let j = 0; j < 3; j++) {
			const a = r[3 * i + j] * bounds.min[j];
			const b = r[3 * i + j] * bounds.max[j];
			min[i] += Math.min(a, b);
			max[i] += Math.max(a, b);
		}
	}
	return { min: [min[0], min[1], min[2]], max: [max[0], max[1], max[2]] };
}
