/** An owl finial for a newel post: an invented commission, a closed figure that stands on a turned base, looking to −y. */
import { cosDegrees, sinDegrees } from "../core/exactAngle.ts";
import type { Job } from "../core/job.ts";
import { within } from "../core/job.ts";
import type { TriangleMesh } from "../core/scan/mesh.ts";
import { sub, type Vec3 } from "../core/vector.ts";
import { scales, vanes } from "./feathers.ts";
import {
	angleOf,
	type Box,
	carve,
	clamp,
	curveThrough,
	ellipsoid,
	hill,
	mix,
	rod,
	type Stroke,
	smoothMax,
	smoothMin,
	smoothStep,
	wave,
} from "./field.ts";
import { scanned } from "./noise.ts";
import { polygonise } from "./polygonise.ts";

const BOX: Box = [-100, -100, -4, 100, 100, 418];
const STEP_MM = 1.55;

/** The vertical axis about which body and wings are laid out: x = 0, y = this. */
const AXIS_Y = 4;
const TURN = 6.283185307179586;

/** Far enough to be no surface. */
const FAR_MM = 1e3;

/** n + 1 places along the curve from a to c that b draws to itself. */
function quadratic(a: Vec3, b: Vec3, c: Vec3, n: number): Vec3[] {
	return Array.from({ length: n + 1 }, (_, i) => {
		const t = i / n;
		const at = (k: number): number => (1 - t) * (1 - t) * a[k] + 2 * t * (1 - t) * b[k] + t * t * c[k];
		return [at(0), at(1), at(2)];
	});
}

// --- the turned base -------------------------------------------------------------------------------------------------

const ring = (r: number, z: number, radius: number, height: number, tube: number): number => {
	const dr = (r - radius) / tube;
	const dz = (z - height) / tube;
	return (Math.sqrt(dr * dr + dz * dz) - 1) * tube;
};
/** A turned disc with rounded edges between two heights. */
const disc = (r: number, z: number, radius: number, low: number, high: number, round: number): number => {
	const qr = r - radius + round;
	const qz = Math.abs(z - (low + high) / 2) - (high - low) / 2 + round;
	const or = Math.max(qr, 0);
	const oz = Math.max(qz, 0);
	return Math.sqrt(or * or + oz * oz) + Math.min(Math.max(qr, qz), 0) - round;
};
const base = (x: number, y: number, z: number): number => {
	const r = Math.sqrt(x * x + y * y);
	let d = disc(r, z, 76, -30, 14, 2.5);
	d = smoothMin(d, ring(r, z, 61, 25, 11.5), 4);
	d = smoothMin(d, disc(r, z, 63, 33, 38.5, 1.2), 2);
	d = Math.min(d, disc(r, z, 57, 36, 66, 1));
	// The cove between two fillets.
	d = smoothMax(d, -ring(r, z, 60, 49.5, 10.5), 1);
	d = Math.min(d, disc(r, z, 58, 60.5, 66, 1.2));
	// The cushion on which the owl stands.
	d = smoothMin(d, ellipsoid(r, 0, z - 75, 58.5, 58.5, 19), 5);
	return Math.max(d, -z);
};

// --- body, legs, tail ------------------------------------------------------------------------------------------------

const body = (x: number, y: number, z: number): number => {
	const trunk = ellipsoid(x, y - AXIS_Y, z - 208, 70, 62, 122);
	const chest = ellipsoid(x, y + 16, z - 240, 60, 54, 76);
	const skirt = ellipsoid(x, y - 2, z - 112, 45, 43, 42);
	return smoothMin(smoothMin(trunk, chest, 18), skirt, 10);
};
const thighs = (x: number, y: number, z: number): number =>
	ellipsoid(Math.abs(x) - 26, y + 24 + (z - 130) * 0.12, z - 130, 23, 25, 42);

/** Rows of breast feathers grow downwards: row number against height. */
const breastRow = curveThrough([
	[96, 15.2],
	[140, 12.4],
	[200, 8],
	[250, 3.8],
	[300, -1.2],
]);
const breastFeathers = (x: number, y: number, z: number): number => {
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
const tail = (x: number, y: number, z: number): number => {
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

const toe = (spread: number): ((x: number, y: number, z: number) => number) => {
	const s = sinDegrees(spread);
	const c = cosDegrees(spread);
	const at = (out: number, z: number): Vec3 => [28 + s * out, -26 - c * out, z];
	const path: readonly [Vec3, number][] = [
		[at(0, 96), 9],
		[at(13, 93.5), 8.4],
		[at(24, 86), 7.8],
		[at(30.5, 76), 6.6],
		[at(31.5, 67), 4.8],
		[at(26.5, 56), 1.4],
	];
	return (x, y, z) => {
		const ax = Math.abs(x);
		let d = FAR_MM;
		for (let i = 0; i + 1 < path.length; i++) {
			d = smoothMin(d, rod(ax, y, z, path[i][0], path[i][1], path[i + 1][0], path[i + 1][1]), 1.5);
		}
		return d;
	};
};

// --- wings -----------------------------------------------------------------------------------------------------------

/** Length of a wing along its own axis, from the shoulder's roundness to the tip, mm. */
const WING_TIP = 226;
const WING_ROUND_MM = 76;
const wingRadius = curveThrough([
	[70, 57],
	[100, 67],
	[140, 76],
	[195, 80.5],
	[235, 77],
	[270, 66],
	[300, 50],
	[320, 38],
]);
const wingFront = curveThrough([
	[-30, 2],
	[-20, 22],
	[0, 38],
	[45, 48],
	[95, 47],
	[140, 40],
	[180, 29],
	[210, 16],
	[WING_TIP, 3],
]);
const wingBack = curveThrough([
	[-30, 2],
	[-20, 22],
	[0, 32],
	[45, 36],
	[95, 34],
	[140, 28],
	[180, 20],
	[210, 12],
	[WING_TIP, 3],
]);
const AXIS_S = 0.4258;
const AXIS_Z = -0.9048;
const wings = (x: number, y: number, z: number): number => {
	const ax = Math.abs(x);
	const wy = (y - AXIS_Y) * 1.08;
	const r = Math.sqrt(ax * ax + wy * wy);
	const s = WING_ROUND_MM * angleOf(ax, wy) + 8;
	const t = s * AXIS_S + (z - 292) * AXIS_Z;
	const w = -s * AXIS_Z + (z - 292) * AXIS_S;
	const tc = clamp(t, -30, WING_TIP);
	const front = wingFront(tc);
	// Each long feather ends in its own round tip along the front edge.
	const long = -w / 13.5 + 20;
	const tip = long - Math.floor(long) - 0.5;
	const outline = w < 0 ? -w - front + 12 * tip * tip * smoothStep(80, 130, t) : w - wingBack(tc);
	const beyond = Math.max(t - WING_TIP, -30 - t, 0);
	const flat = Math.sqrt(Math.max(outline, 0) * Math.max(outline, 0) + beyond * beyond) + Math.min(outline, 0);
	// The lower front edge stands off the body.
	const flare = 7 * smoothStep(60, 150, t) * smoothStep(10, -40, w);
	const deep = r - wingRadius(z) - flare;
	const half = 6.5 - 2 * smoothStep(40, 200, t);
	let relief = 0;
	if (deep > -2) {
		// Three tiers that end in rounded tips, each over the next.
		const middle = -w / 14.5 + 20.1;
		const end = middle - Math.floor(middle) - 0.5;
		const upper = smoothStep(2, -1, t - (66 - 12 * end * end - 0.12 * w));
		const lower = smoothStep(2, -1, t - (120 - 20 * end * end - 0.2 * w));
		relief = 3 * (vanes(long, 0.18) - 0.5);
		if (lower > 0) relief = mix(relief, Math.max(3 * (vanes(middle, 0.18) - 0.5) + 1.6, relief + 0.8), lower);
		if (upper > 0) {
			relief = mix(relief, Math.max(3.6 * (scales(w / 13 + 20, t / 12 + 20, 0, 0.28, 0.3) - 0.4) + 2.8, relief), upper);
		}
	}
	const shell = smoothMax(Math.abs(deep) - half - (deep > 0 ? relief : 0), 0.85 * flat, 4);
	// Behind the wing the stone is left standing, but for a deep undercut along the edge and the free tip.
	const web = smoothMax(deep, flat + 10.5 + 8 * smoothStep(140, 215, t), 6);
	return smoothMin(shell, web, 6);
};

// --- head ------------------------------------------------------------------------------------------------------------

const HEAD_Z = 322;
const HEAD_Y = -4;
const TURN_DEG = 13;
const TURN_SIN = sinDegrees(TURN_DEG);
const TURN_COS = cosDegrees(TURN_DEG);
const EYE_X = 26;
const EYE_Y = -48;
const EYE_Z = 4;

const BEAK: readonly Vec3[] = quadratic([0, -50, 16], [0, -86, 6], [0, -67, -34], 9);
const beakThick = curveThrough([
	[0, 8],
	[0.3, 10],
	[0.55, 9],
	[0.8, 5.2],
	[0.93, 2.6],
	[1, 1.2],
]);
const BEAK_THICK = BEAK.map((_, i) => beakThick(i / (BEAK.length - 1)));
const beak = (x: number, y: number, z: number): number => {
	// Pinched sides leave a ridge along the top of the beak.
	const px = Math.abs(x) * (1 + 0.016 * clamp(-y - 54, 0, 22));
	let d = FAR_MM;
	for (let i = 0; i + 1 < BEAK.length; i++) {
		d = smoothMin(d, rod(px, y, z, BEAK[i], BEAK_THICK[i], BEAK[i + 1], BEAK_THICK[i + 1]), 1);
	}
	const nostril = ellipsoid(Math.abs(x) - 8, y + 66, z - 4, 3, 3.2, 1.9);
	return smoothMax(d, -nostril, 1.5);
};

/** Brow and ear tuft in one sweep: a feathered blade along a spine. */
const TUFT: readonly Vec3[] = quadratic([3, -61, 15], [41, -55, 22], [59, -14, 88.6], 12);
/** Where the spine runs to at each of its places; not of unit length. */
const TUFT_ALONG: readonly Vec3[] = TUFT.map((_, i) =>
	sub(TUFT[Math.min(i + 1, TUFT.length - 1)], TUFT[Math.max(i - 1, 0)]),
);
const tuftWide = curveThrough([
	[0, 3.5],
	[0.2, 8],
	[0.45, 12.5],
	[0.65, 13],
	[0.8, 10],
	[0.92, 5.5],
	[1, 1.2],
]);
const tuftThick = curveThrough([
	[0, 4],
	[0.25, 6.5],
	[0.5, 8],
	[0.75, 7],
	[1, 1.6],
]);
const tuft = (x: number, y: number, z: number): number => {
	let best = FAR_MM * FAR_MM;
	let t = 0;
	let segment = 0;
	for (let i = 0; i + 1 < TUFT.length; i++) {
		const a = TUFT[i];
		const b = TUFT[i + 1];
		const ux = b[0] - a[0];
		const uy = b[1] - a[1];
		const uz = b[2] - a[2];
		const s = clamp(((x - a[0]) * ux + (y - a[1]) * uy + (z - a[2]) * uz) / (ux * ux + uy * uy + uz * uz), 0, 1);
		const dx = x - a[0] - s * ux;
		const dy = y - a[1] - s * uy;
		const dz = z - a[2] - s * uz;
		const d2 = dx * dx + dy * dy + dz * dz;
		if (d2 < best) {
			best = d2;
			segment = i;
			t = i + s;
		}
	}
	const at = t / (TUFT.length - 1);
	const a = TUFT[segment];
	const b = TUFT[segment + 1];
	const s = t - segment;
	const dx = x - a[0] - s * (b[0] - a[0]);
	const dz = z - a[2] - s * (b[2] - a[2]);
	// Across the blade: square to the spine in the plane of the face; the blade turns outwards as it rises.
	const tx = TUFT_ALONG[segment][0] + s * (TUFT_ALONG[segment + 1][0] - TUFT_ALONG[segment][0]);
	const tz = TUFT_ALONG[segment][2] + s * (TUFT_ALONG[segment + 1][2] - TUFT_ALONG[segment][2]);
	const tl = Math.sqrt(tx * tx + tz * tz);
	const across = (dx * tz - dz * tx) / tl;
	const through = Math.sqrt(Math.max(best - across * across, 0));
	const wide = tuftWide(at);
	const thick = tuftThick(at);
	// Feathers lie along the blade.
	const f = (across / wide) * 1.5 + 10.2 + 0.5 * at;
	const relief = 1.3 * wave(f) * smoothStep(0.02, 0.2, at) * smoothStep(1, 0.85, at);
	const qx = across / wide;
	const qy = through / thick;
	const k = Math.sqrt(qx * qx + qy * qy);
	return (k - 1) * Math.min(wide, thick) - relief * smoothStep(1, 0.7, Math.abs(qx));
};

/** Half the angle between the two dishes of the face. */
const DISH_SIN = sinDegrees(24);
const DISH_COS = cosDegrees(24);
/** How far the dish stands before the eye's middle, against the distance from its axis. */
const dishRise = curveThrough([
	[0, 1],
	[14, 1.2],
	[26, 3.2],
	[36, 7],
	[39, 9.4],
	[41, 9.6],
	[44, 7],
	[48, -2],
	[53, -18],
]);
/** One dish: rows of narrow feathers that run out from the eye to a raised ruff; h along its axis, u and v across. */
const dish = (h: number, u: number, v: number): number => {
	const rho = Math.sqrt(u * u + v * v);
	const turn = angleOf(u, v) / TURN;
	const strand = wave(turn * 30);
	let relief = (0.9 * smoothStep(25 - strand, 23 - strand, rho) + 0.7 * strand) * smoothStep(13, 18, rho);
	relief *= smoothStep(38.5, 35.5, rho);
	relief += 0.55 * wave(turn * 44) * hill(rho - 41, 6);
	return smoothMax(0.8 * (h - dishRise(rho) - relief), rho - 52, 2);
};

const headShape = (x: number, y: number, z: number): number => {
	const ax = Math.abs(x);
	let d = ellipsoid(x, y, z, 63, 57, 52);
	d = smoothMin(d, ellipsoid(x, y + 38, z - 24, 22, 20, 22), 10);
	// Coordinates of the dish on this side: out along its axis, across, up.
	const ex = ax - EYE_X;
	const ey = y - EYE_Y;
	const h = ex * DISH_SIN - ey * DISH_COS;
	const u = ex * DISH_COS + ey * DISH_SIN;
	const v = z - EYE_Z;
	let plain = 1;
	if (y < 4) {
		const oval = 0.94 * v;
		const facing = smoothMax(dish(h, u, oval), v - 25 - 0.9 * u, 6);
		const side = smoothMax(facing, -13 - h, 4);
		if (side < d + 3)
			plain = Math.max(smoothStep(43, 47, Math.sqrt(u * u + oval * oval)), smoothStep(22, 28, v - 0.9 * u));
		d = smoothMin(d, side, 9);
	}
	// Small feathers over crown and nape.
	const fall = angleOf(z, Math.sqrt(x * x + y * y));
	const turn = angleOf(y + 2, x) / TURN;
	if (plain > 0)
		d -= plain * 2.3 * (scales(turn * 26, fall * 5.6 + 10, 26, 0.3, 0.3) - 0.4) * smoothStep(0.25, 0.5, fall);
	d = smoothMin(d, tuft(ax, y, z), 3);
	if (y > -30 || ax > 48) return d;
	// Eyes: a socket with a lid around it, the ball, a drilled pupil.
	const ball = Math.sqrt(u * u + v * v + (h + 5) * (h + 5));
	const round = Math.sqrt(u * u + v * v);
	d = smoothMax(d, 14 - ball, 1.5);
	const lid = Math.sqrt((round - 14.5) * (round - 14.5) + 0.6 * (h - 2) * (h - 2)) - 2.3;
	d = smoothMin(d, lid, 2.5);
	const gaze = u + 1.5;
	const pupil = smoothMax(Math.sqrt(gaze * gaze + v * v) - 5, 11 - ball, 0.5);
	d = Math.min(d, smoothMax(ball - 13.6, -pupil, 0.8));
	return smoothMin(d, beak(x, y, z), 2);
};
const head = (x: number, y: number, z: number): number => {
	const hy = y - HEAD_Y;
	return headShape(TURN_COS * x + TURN_SIN * hy, TURN_COS * hy - TURN_SIN * x, z - HEAD_Z);
};

const STROKES: readonly Stroke[] = [
	{ kind: "add", box: [-72, -72, 84, 72, 68, 330], blend: 0, field: body },
	{ kind: "add", box: [-52, -60, 86, 52, 6, 174], blend: 10, field: thighs },
	{ kind: "press", box: [-76, -76, 104, 76, 72, 304], blend: 0, field: breastFeathers },
	{ kind: "add", box: [-36, 30, 55, 36, 82, 192], blend: 6, field: tail },
	{ kind: "add", box: [-94, -70, 66, 94, 96, 326], blend: 5, field: wings },
	{ kind: "add", box: [-76, -80, 262, 76, 70, 414], blend: 7, field: head },
	{ kind: "add", box: [-78, -78, -2, 78, 78, 95], blend: 5, field: base },
	...[-24, 0, 24].map(
		(spread): Stroke => ({ kind: "add", box: [-60, -76, 54, 60, -14, 108], blend: 2, field: toe(spread) }),
	),
];

/** Makes the owl's scan: millimetres, z up, the foot at z = 0. */
export function* makeOwl(): Job<TriangleMesh> {
	const field = carve(STROKES, BOX);
	const clean = yield* within(polygonise(field, { box: BOX, step: STEP_MM, inside: [0, 0, 208] }), 0, 0.95);
	return scanned(clean, { seed: 412, grainMm: 0.05, driftMm: 0.05, patchMm: 14 });
}
