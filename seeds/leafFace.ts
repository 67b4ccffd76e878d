/** A keystone with a face among leaves: an invented commission, an open shell that looks to −y and has no back. */
import type { Job } from "../core/job.ts";
import { within } from "../core/job.ts";
import type { TriangleMesh } from "../core/scan/mesh.ts";
import type { Vec3 } from "../core/vector.ts";
import { type Box, carve, ellipsoid, rod, type Stroke, smoothMax, smoothMin, smoothStep } from "./field.ts";
import { type Leaf, leafStroke } from "./leaf.ts";
import { scanned } from "./noise.ts";
import { polygonise } from "./polygonise.ts";

const BOX: Box = [-132, -14, -8, 132, 122, 340];
const STEP_MM = 2.14;
/** The plane of the rim. */
const BACK_Y = 115;
const HEIGHT_MM = 330;
const GROUND_Y = 70;

// --- the keystone: a wedge with a sunk panel -------------------------------------------------------------------------

const keystone = (x: number, y: number, z: number): number => {
	// Half width grows upwards: the joints of the arch.
	const side = (Math.abs(x) - (88 + (z * 32) / HEIGHT_MM)) * 0.995;
	const end = Math.abs(z - HEIGHT_MM / 2) - HEIGHT_MM / 2;
	const outer = smoothMax(side, end, 3);
	const panel = smoothMax(side + 11, end + 11, 6);
	const face = GROUND_Y - 8 - y + 8 * smoothStep(2, -2, panel);
	return smoothMax(outer, face, 2.5);
};

// --- the face --------------------------------------------------------------------------------------------------------

const lips: readonly [Vec3, Vec3, number, number][] = [
	[[0, 10, 119], [9, 11, 120.5], 4.2, 4.4],
	[[9, 11, 120.5], [25, 21, 115], 4.4, 2],
	[[0, 10.5, 106], [12, 13, 107], 5.4, 4.8],
	[[12, 13, 107], [25, 21, 114], 4.8, 2],
];
const face = (x: number, y: number, z: number): number => {
	const ax = Math.abs(x);
	let d = ellipsoid(x, y - 74, z - 168, 62, 57, 92);
	d = smoothMin(d, ellipsoid(ax - 31, y - 36, z - 148, 22, 19, 19), 12);
	d = smoothMin(d, ellipsoid(x, y - 32, z - 90, 19, 18, 15), 14);
	d = smoothMin(d, ellipsoid(x, y - 27, z - 113, 30, 17, 20), 12);
	// Brow, sockets, eyes with lids.
	d = smoothMin(d, rod(ax, y, z, [4, 22, 192], 8, [46, 36, 199], 7), 9);
	d = smoothMax(d, -ellipsoid(ax - 24, y - 14, z - 177, 18, 15, 11), 8);
	const ex = ax - 24;
	const ey = y - 35;
	const ez = z - 176;
	const ball = Math.sqrt(ex * ex + ey * ey + ez * ez);
	let eye = ball - 13.5;
	eye = smoothMax(eye, -(Math.sqrt((ex + 1) * (ex + 1) + (ey + 14) * (ey + 14) + ez * ez) - 3.4), 1);
	const upper = smoothMax(ball - 16, 3.5 - ez - 0.02 * ex * ex * -1 - 0.2 * ex, 1.2);
	const lower = smoothMax(ball - 15.4, ez + 6.5 - 0.015 * ex * ex, 1.2);
	d = smoothMin(smoothMin(Math.min(d, eye), upper, 1), lower, 1);
	// Nose.
	d = smoothMin(d, rod(x, y, z, [0, 22, 192], 6.5, [0, 5, 150], 9.5), 7);
	d = smoothMin(d, ellipsoid(x, y - 4, z - 147, 9.5, 9, 8.5), 4);
	d = smoothMin(d, ellipsoid(ax - 10.5, y - 12, z - 144, 7, 9, 6.5), 3);
	d = smoothMax(d, -ellipsoid(ax - 6.5, y - 8, z - 137, 3.4, 5, 4), 2);
	// Mouth.
	for (const [a, b, ra, rb] of lips) d = smoothMin(d, rod(ax, y, z, a, ra, b, rb), 4);
	d = smoothMax(d, -ellipsoid(x, y - 10, z - 113 + 0.006 * x * x, 24, 14, 3.6), 2);
	return d;
};

// --- the leaves ------------------------------------------------------------------------------------------------------

const LEAVES: readonly Leaf[] = [
	// From back to front.
	{
		base: [40, 196],
		heading: 66,
		bend: -30,
		length: 88,
		width: 32,
		lobes: 3,
		bays: 0.42,
		rise: [38, 40, 42, 50, 46],
		fall: 8,
		thickness: 9,
		paired: true,
	},
	{
		base: [36, 118],
		heading: 132,
		bend: -26,
		length: 82,
		width: 29,
		lobes: 3,
		bays: 0.42,
		rise: [34, 36, 40, 48, 44],
		fall: 8,
		thickness: 9,
		paired: true,
	},
	{
		base: [38, 152],
		heading: 96,
		bend: -34,
		length: 84,
		width: 34,
		lobes: 3,
		bays: 0.42,
		rise: [32, 30, 34, 44, 42],
		fall: 9,
		thickness: 9,
		paired: true,
	},
	{
		base: [18, 208],
		heading: 30,
		bend: 18,
		length: 112,
		width: 34,
		lobes: 4,
		bays: 0.42,
		rise: [28, 24, 26, 34, 28],
		fall: 9,
		thickness: 9,
		paired: true,
	},
	{
		base: [13, 98],
		heading: 160,
		bend: -14,
		length: 88,
		width: 26,
		lobes: 4,
		bays: 0.42,
		rise: [26, 26, 30, 38, 34],
		fall: 8,
		thickness: 9,
		paired: true,
	},
	{
		base: [0, 206],
		heading: 0,
		bend: 0,
		length: 112,
		width: 36,
		lobes: 4,
		bays: 0.42,
		rise: [24, 14, 12, 14, 2],
		fall: 10,
		thickness: 9,
		paired: false,
	},
	{
		base: [0, 100],
		heading: 180,
		bend: 0,
		length: 90,
		width: 28,
		lobes: 4,
		bays: 0.42,
		rise: [26, 18, 17, 20, 10],
		fall: 9,
		thickness: 9,
		paired: false,
	},
	{
		base: [8, 128],
		heading: 112,
		bend: -62,
		length: 84,
		width: 18,
		lobes: 3,
		bays: 0.4,
		rise: [16, 15, 18, 26, 24],
		fall: 6,
		thickness: 8,
		paired: true,
	},
	{
		base: [5, 192],
		heading: 62,
		bend: 42,
		length: 58,
		width: 12,
		lobes: 3,
		bays: 0.4,
		rise: [15, 14, 18, 26, 30],
		fall: 4,
		thickness: 7,
		paired: true,
	},
];

const STROKES: readonly Stroke[] = [
	{ kind: "add", box: [-126, 58, -4, 126, 130, 334], blend: 0, field: keystone },
	{ kind: "add", box: [-66, -6, 70, 66, 120, 262], blend: 10, field: face },
	...LEAVES.map(leafStroke),
];

/** Makes the keystone's scan: millimetres, z up, the lower bed at z = 0, open in the plane y = 115. */
export function* makeLeafFace(): Job<TriangleMesh> {
	const net = { box: BOX, step: STEP_MM, inside: [0, 80, 165], openAtY: BACK_Y } as const;
	const clean = yield* within(polygonise(carve(STROKES, BOX), net), 0, 0.95);
	return scanned(clean, { seed: 330, grainMm: 0.05, driftMm: 0.05, patchMm: 14 });
}
