/** The owl below the neck: trunk, legs and tail, in millimetres, looking to −y. */
import { cosDegrees, sinDegrees } from "../core/exactAngle.ts";
import type { Vec3 } from "../core/vector.ts";
import { scales, vanes } from "./feathers.ts";
import {
	angleOf,
	chain,
	clamp,
	curveThrough,
	ellipsoid,
	type Field,
	type Knuckle,
	smoothMax,
	smoothMin,
	smoothStep,
	TURN,
} from "./field.ts";

/** The vertical axis about which body and wings are laid out: x = 0, y = this. */
export const AXIS_Y = 4;

export const body = (x: number, y: number, z: number): number => {
	const trunk = ellipsoid(x, y - AXIS_Y, z - 208, 70, 62, 122);
	const chest = ellipsoid(x, y + 16, z - 240, 60, 54, 76);
	const skirt = ellipsoid(x, y - 2, z - 112, 45, 43, 42);
	return smoothMin(smoothMin(trunk, chest, 18), skirt, 10);
};
export const thighs = (x: number, y: number, z: number): number =>
	ellipsoid(Math.abs(x) - 26, y + 24 + (z - 130) * 0.12, z - 130, 23, 25, 42);

/** Rows of breast feathers grow downwards: row number against height. */
const breastRow = curveThrough([
	[96, 15.2],
	[140, 12.4],
	[200, 8],
	[250, 3.8],
	[300, -1.2],
]);
/** Height of the feathers over the whole trunk. */
export const breastFeathers = (x: number, y: number, z: number): number => {
	const fade = smoothStep(306, 284, z) * smoothStep(98, 112, z);
	if (fade <= 0) return 0;
	const turn = angleOf(y - AXIS_Y, x) / TURN;
	return fade * 3.5 * (scales(turn * 26, breastRow(z) + 4, 26, 0.26, 0.2) - 0.4);
};

const tailWidth = curveThrough([
	[0, 24],
	[0.5, 29],
	[0.9, 33],
	[1, 31],
]);
export const tail = (x: number, y: number, z: number): number => {
	// From the rump down and back, behind the cushion.
	const t = clamp((170 - z) / 112, 0, 1);
	const middle = 46 + 34 * t - 10 * t * t;
	const u = x / 13 + 0.5;
	const vane = 2.6 * (vanes(x < 0 ? -u + 1 : u, 0.16) - 0.5) * smoothStep(0.1, 0.4, t);
	const across = y - middle + (x * x) / 190;
	const face = Math.abs(across) - 8 + 3 * t - (across > 0 ? vane : 0);
	const c = u - Math.floor(u);
	const end = 58 + 9 * (4 * (c - 0.5) * (c - 0.5)) + (x * x) / 90;
	return smoothMax(smoothMax(face, Math.abs(x) - tailWidth(t), 5), smoothMax(end - z, z - 190, 2), 3);
};

/** One toe of each foot with its claw over the cushion's edge; `spread` in degrees outwards from straight ahead. */
export const toe = (spread: number): Field => {
	const s = sinDegrees(spread);
	const c = cosDegrees(spread);
	const at = (out: number, z: number): Vec3 => [28 + s * out, -26 - c * out, z];
	const path: readonly Knuckle[] = [
		[at(0, 96), 9],
		[at(13, 93.5), 8.4],
		[at(24, 86), 7.8],
		[at(30.5, 76), 6.6],
		[at(31.5, 67), 4.8],
		[at(26.5, 56), 1.4],
	];
	return (x, y, z) => chain(Math.abs(x), y, z, path, 1.5);
};
