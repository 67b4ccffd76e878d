/** How numbers are stored in the plan. */

import type { Vec3 } from "../../vector.ts";

/** Lengths are stored to a millionth of a millimetre, directions to 1e-12: far under any bench, and short to read. */
export const mm = (value: number): number => Math.round(value * 1e6) / 1e6 + 0;
export const mm3 = (v: Vec3): [number, number, number] => [mm(v[0]), mm(v[1]), mm(v[2])];
export const direction = (v: Vec3): [number, number, number] => {
	const r = (x: number): number => Math.round(x * 1e12) / 1e12 + 0;
	return [r(v[0]), r(v[1]), r(v[2])];
};
