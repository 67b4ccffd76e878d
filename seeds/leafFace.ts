/** A keystone with a face among leaves: an invented commission, an open shell that looks to −y and has no back. */
import type { Job } from "../core/job.ts";
import { within } from "../core/job.ts";
import { seededRandom } from "../core/random.ts";
import type { TriangleMesh } from "../core/scan/mesh.ts";
import type { Vec3 } from "../core/vector.ts";
import {
	type Box,
	carve,
	clamp,
	ellipsoid,
	FAR_MM,
	hill,
	rod,
	type Stroke,
	smoothMax,
	smoothMin,
	smoothStep,
} from "./field.ts";
import { type Leaf, leafStroke } from "./leaf.ts";
import { scanned } from "./noise.ts";
import { polygonise } from "./polygonise.ts";

const BOX: Box = [-140, -16, -8, 140, 124, 340];
const STEP_MM = 1.83;
/** The plane of the rim. */
const BACK_Y = 115;
const HEIGHT_MM = 330;
/** The face of the border. */
const GROUND_Y = 62;
/** How far the ground inside the border swells out of its sinking. */
const SWELL_MM = 21;

// --- the keystone: a wedge with a sunk panel, and the swelling ground from which the leaves are cut ------------------

/** How far outside the wedge seen from the front, mm; half its width grows upwards, as the joints of the arch ask. */
const beyondJoint = (x: number, z: number): number => (Math.abs(x) - (98 + (z * 34) / HEIGHT_MM)) * 0.995;
const beyondBed = (z: number): number => Math.abs(z - HEIGHT_MM / 2) - HEIGHT_MM / 2;
const keystone = (x: number, y: number, z: number): number => {
	const side = beyondJoint(x, z);
	const end = beyondBed(z);
	const panel = smoothMax(side + 11, end + 11, 14);
	// Within the border the ground swells like a cushion towards the leaves.
	const rise = clamp(1 + panel / 68, 0, 1);
	const ground = 66 - SWELL_MM * (1 - rise * rise);
	const face = (GROUND_Y + (ground - GROUND_Y) * smoothStep(3, -3, panel) - y) * 0.85;
	return smoothMax(smoothMax(side, end, 3), face, 2.5);
};

// --- the face --------------------------------------------------------------------------------------------------------

const EYE_X = 25;
const EYE_Y = 37.5;
const EYE_Z = 175;

const lips: readonly (readonly [Vec3, Vec3, number, number])[] = [
	[[0, 11, 119], [7, 11, 121], 3.6, 4],
	[[7, 11, 121], [23, 19, 115.5], 4, 1.6],
	[[0, 12, 107.5], [10, 13, 108], 5.2, 4.8],
	[[10, 13, 108], [23, 19.5, 114], 4.8, 1.6],
];
const head = (x: number, y: number, z: number): number => {
	const ax = Math.abs(x);
	let d = ellipsoid(x, y - 74, z - 170, 61, 56, 92);
	d = smoothMin(d, ellipsoid(ax - 34, y - 38, z - 154, 20, 17, 17), 14);
	d = smoothMin(d, ellipsoid(ax - 25, y - 46, z - 112, 23, 20, 30), 14);
	d = smoothMin(d, ellipsoid(x, y - 31, z - 89, 20, 15, 15), 16);
	d = smoothMin(d, ellipsoid(x, y - 29, z - 115, 28, 17, 21), 12);
	// Brow and sockets.
	d = smoothMin(d, rod(ax, y, z, [5, 24, 194], 7, [44, 37, 200], 7), 10);
	d = smoothMax(d, -ellipsoid(ax - EYE_X, y - 15, z - 178, 20, 16, 14), 8);
	return d;
};
const eyes = (x: number, y: number, z: number): number => {
	const u = Math.abs(x) - EYE_X;
	const v = z - EYE_Z - 0.06 * u;
	const w = y - EYE_Y;
	const ball = Math.sqrt(u * u + v * v + w * w);
	const pupil = Math.sqrt((u + 1) * (u + 1) + (v - 0.5) * (v - 0.5)) - 3.8;
	const eye = smoothMax(ball - 13.4, -smoothMax(pupil, 10.6 - ball, 0.5), 0.6);
	// Lids: a thicker ball with an almond opened in it, and a fold over the upper one.
	const arc = Math.max(1 - (u * u) / 185, -0.4);
	const opening = smoothMax(v - 4.6 * arc, -4 * arc - v, 0.5);
	const fold = 1.5 * hill(v - 4.6 * arc - 5.4, 2.4);
	const lids = smoothMax(ball - 16.2 - 0.8 * hill(opening - 1.6, 3.2) + fold, -0.9 * opening, 1.6);
	return Math.min(eye, lids);
};
const nose = (x: number, y: number, z: number): number => {
	const ax = Math.abs(x);
	let d = ellipsoid(x, y - 27, z - 160, 15, 15, 28);
	d = smoothMin(d, rod(x, y, z, [0, 24, 190], 5, [0, 9.5, 160], 6), 7);
	d = smoothMin(d, rod(x, y, z, [0, 9.5, 160], 6, [0, 6, 148.5], 8.4), 4);
	d = smoothMin(d, ellipsoid(ax - 11.5, y - 14, z - 144.5, 6.2, 9.5, 7), 4.5);
	d = smoothMax(d, -ellipsoid(ax - 6.6, y - 9.5, z - 137, 3.6, 5.5, 4.2), 2);
	return d;
};
const mouth = (x: number, y: number, z: number): number => {
	const ax = Math.abs(x);
	let d = FAR_MM;
	for (const [a, b, ra, rb] of lips) d = smoothMin(d, rod(ax, y, z, a, ra, b, rb), 1);
	return d;
};
/** The line between the lips, and the folds from the nose past the mouth. */
const mouthLine = (x: number, y: number, z: number): number =>
	ellipsoid(x, y - 10, z - 114 + 0.003 * x * x, 23, 8, 2.6);
const folds = (x: number, y: number, z: number): number =>
	rod(Math.abs(x), y, z, [21, 17, 143], 2.2, [36, 25, 117], 1.4);

// --- the leaves ------------------------------------------------------------------------------------------------------

/** Leaves on the proper left side, or in the middle. */
const LEAVES: readonly (Omit<Leaf, "side"> & { readonly paired: boolean })[] = [
	// From back to front.
	{
		base: [40, 198],
		heading: 64,
		bend: -26,
		length: 80,
		width: 31,
		lobes: 3,
		bays: 0.42,
		rise: [40, 42, 44, 50, 47],
		fall: 6,
		thickness: 9,
		undercut: 2,
		paired: true,
	},
	{
		base: [36, 112],
		heading: 130,
		bend: -24,
		length: 70,
		width: 27,
		lobes: 3,
		bays: 0.42,
		rise: [42, 43, 46, 52, 50],
		fall: 6,
		thickness: 9,
		undercut: 2,
		paired: true,
	},
	{
		base: [40, 154],
		heading: 82,
		bend: -16,
		length: 68,
		width: 32,
		lobes: 3,
		bays: 0.42,
		rise: [38, 36, 40, 48, 48],
		fall: 7,
		thickness: 9,
		undercut: 2,
		paired: true,
	},
	{
		base: [18, 210],
		heading: 30,
		bend: 18,
		length: 110,
		width: 34,
		lobes: 4,
		bays: 0.42,
		rise: [30, 28, 32, 42, 38],
		fall: 8,
		thickness: 9,
		undercut: 2.5,
		paired: true,
	},
	{
		base: [13, 94],
		heading: 160,
		bend: -14,
		length: 86,
		width: 25,
		lobes: 4,
		bays: 0.42,
		rise: [32, 32, 36, 46, 44],
		fall: 7,
		thickness: 9,
		undercut: 2,
		paired: true,
	},
	{
		base: [0, 208],
		heading: 0,
		bend: 0,
		length: 110,
		width: 35,
		lobes: 4,
		bays: 0.42,
		rise: [22, 15, 15, 20, 10],
		fall: 9,
		thickness: 9,
		undercut: 3.5,
		paired: false,
	},
	{
		base: [0, 92],
		heading: 180,
		bend: 0,
		length: 84,
		width: 26,
		lobes: 4,
		bays: 0.42,
		rise: [26, 22, 24, 30, 22],
		fall: 8,
		thickness: 9,
		undercut: 2.5,
		paired: false,
	},
	{
		base: [21, 114],
		heading: 111,
		bend: -58,
		length: 72,
		width: 18,
		lobes: 3,
		bays: 0.4,
		rise: [22, 18, 24, 32, 32],
		fall: 5,
		thickness: 8,
		undercut: 3.5,
		paired: true,
	},
	{
		base: [4, 190],
		heading: 60,
		bend: 44,
		length: 60,
		width: 12,
		lobes: 2,
		bays: 0.34,
		rise: [19, 17, 21, 29, 34],
		fall: 3,
		thickness: 7,
		undercut: 2.5,
		paired: true,
	},
];

/** All leaves; the two of a pair were carved by hand and differ a little. */
function leaves(): Leaf[] {
	const random = seededRandom(17);
	const about = (middle: number, by: number): number => middle + by * (2 * random.next() - 1);
	return LEAVES.flatMap(({ paired, ...leaf }): Leaf[] => {
		if (!paired) return [{ ...leaf, side: 1 }];
		return ([1, -1] as const).map((side) => ({
			...leaf,
			side,
			heading: about(leaf.heading, 2.5),
			bend: about(leaf.bend, 5),
			length: about(leaf.length, 2),
			width: about(leaf.width, 1.2),
			rise: leaf.rise.map((y) => about(y, 1.2)),
		}));
	});
}

const STROKES: readonly Stroke[] = [
	{ kind: "add", box: [-134, 42, -4, 134, 130, 334], blend: 0, field: keystone },
	{ kind: "add", box: [-66, 4, 70, 66, 120, 262], blend: 6, field: head },
	{ kind: "add", box: [-26, -6, 130, 26, 40, 198], blend: 5, field: nose },
	{ kind: "cut", box: [-40, 12, 112, 40, 30, 148], blend: 6, field: folds },
	{ kind: "add", box: [-44, 16, 156, 44, 52, 194], blend: 7, field: eyes },
	{ kind: "add", box: [-30, 4, 100, 30, 24, 128], blend: 4, field: mouth },
	{ kind: "cut", box: [-26, -2, 106, 26, 24, 120], blend: 1.6, field: mouthLine },
	...leaves().map(leafStroke),
];

/** Makes the keystone's scan: millimetres, z up, the lower bed at z = 0, open in the plane y = 115. */
export function* makeLeafFace(): Job<TriangleMesh> {
	const net = { box: BOX, step: STEP_MM, inside: [0, 80, 165], openAtY: BACK_Y } as const;
	const clean = yield* within(polygonise(carve(STROKES, BOX), net), 0, 0.9);
	return yield* within(scanned(clean, { seed: 330, grainMm: 0.05, driftMm: 0.05, patchMm: 14 }), 0.9, 1);
}
