/** An owl finial for a newel post: an invented commission, a closed figure that stands on a turned base, looking to −y. */
import { cosDegrees, sinDegrees } from "../core/exactAngle.ts";
import type { Job } from "../core/job.ts";
import { within } from "../core/job.ts";
import type { TriangleMesh } from "../core/scan/mesh.ts";
import type { Vec3 } from "../core/vector.ts";
import { scales, vanes } from "./feathers.ts";
import {
	angleOf,
	type Box,
	carve,
	clamp,
	curveThrough,
	ellipsoid,
	hill,
	rod,
	type Stroke,
	smoothMax,
	smoothMin,
	smoothStep,
} from "./field.ts";
import { scanned } from "./noise.ts";
import { polygonise } from "./polygonise.ts";

const BOX: Box = [-100, -100, -4, 100, 100, 418];
const STEP_MM = 1.64;

/** The vertical axis about which body and wings are laid out: x = 0, y = this. */
const AXIS_Y = 4;

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
	let d = disc(r, z, 76, -30, 13, 2.5);
	d = Math.min(d, ring(r, z, 60, 24, 11), disc(r, z, 61, 10, 34, 1), disc(r, z, 64, 33.5, 39, 1.2));
	d = Math.min(d, disc(r, z, 57, 36, 66, 1));
	// The cove between two fillets.
	d = smoothMax(d, -ring(r, z, 60, 51, 10.5), 1);
	d = Math.min(d, disc(r, z, 61, 62.5, 67, 1.2));
	// The cushion on which the owl stands.
	d = Math.min(d, ellipsoid(r, 0, z - 78, 62, 62, 13.5));
	return Math.max(d, -z);
};

// --- body, legs, tail ------------------------------------------------------------------------------------------------

const body = (x: number, y: number, z: number): number => {
	const trunk = ellipsoid(x, y - AXIS_Y, z - 208, 70, 62, 122);
	const chest = ellipsoid(x, y + 16, z - 240, 60, 54, 76);
	return smoothMin(trunk, chest, 18);
};
const thighs = (x: number, y: number, z: number): number =>
	ellipsoid(Math.abs(x) - 26, y + 24 + (z - 130) * 0.12, z - 130, 23, 25, 42);

const breastFeathers = (x: number, y: number, z: number): number => {
	const turn = angleOf(y - AXIS_Y, x) / 6.283185307179586;
	const v = (304 - z) / 13.5;
	const fade = smoothStep(304, 280, z) * smoothStep(104, 122, z);
	return fade <= 0 ? 0 : fade * 3.4 * (scales(turn * 26, v, 0.26) - 0.4);
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
	const face = Math.abs(across) - 7.5 - (across > 0 ? vane : 0);
	const c = u - Math.floor(u);
	const end = 60 + 6 * (4 * (c - 0.5) * (c - 0.5)) + (x * x) / 120;
	return smoothMax(smoothMax(face, Math.abs(x) - tailWidth(t), 5), smoothMax(end - z, z - 190, 2), 3);
};

const toe = (spread: number): ((x: number, y: number, z: number) => number) => {
	const s = sinDegrees(spread);
	const c = cosDegrees(spread);
	const at = (out: number, z: number): Vec3 => [28 + s * out, -26 - c * out, z];
	const path: readonly [Vec3, number][] = [
		[at(0, 97), 9],
		[at(19, 94), 8],
		[at(31, 86), 7.2],
		[at(37, 76), 6],
		[at(37, 69), 4.2],
		[at(31, 58), 1.3],
	];
	return (x, y, z) => {
		const ax = Math.abs(x);
		let d = 1e3;
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
	const outline = w < 0 ? -w - front : w - wingBack(tc);
	const beyond = Math.max(t - WING_TIP, -30 - t, 0);
	const flat = Math.sqrt(Math.max(outline, 0) ** 2 + beyond * beyond) + Math.min(outline, 0);
	// The lower front edge stands off the body.
	const flare = 7 * smoothStep(60, 150, t) * smoothStep(10, -40, w);
	const deep = r - wingRadius(z) - flare;
	const half = 6.5 - 2 * smoothStep(40, 200, t);
	let relief = 0;
	if (deep > -2) {
		const small = scales(w / 13 + 20, t / 12 + 20, 0.28);
		const first = vanes(-w / 13 + 20 + 0.1, 0.16);
		const far = vanes(-(w + 0.02 * (t - 120)) / 11.5 + 20, 0.16);
		// Tiers end in rounded tips, each over the next.
		const c1 = -w / 13 + 20.1;
		const f1 = c1 - Math.floor(c1) - 0.5;
		const tier1 = smoothStep(2, -1, t - (66 - 10 * f1 * f1 * 4 * 0.3 - 0.12 * w));
		const tier2 = smoothStep(2, -1, t - (118 - 16 * f1 * f1 - 0.2 * w));
		relief = tier1 > 0 ? 3 * (small - 0.4) + 1.6 : 0;
		const lower = tier2 > 0 ? 2.6 * (first - 0.5) + 1.4 : 0;
		const lowest = 2.6 * (far - 0.5);
		const under = lowest + (Math.max(lower, lowest) - lowest) * tier2 + 0.8 * tier2;
		relief = under + (Math.max(relief + 1, under) - under) * tier1;
	}
	return smoothMax(Math.abs(deep) - half - (deep > 0 ? relief : 0), 0.85 * flat, 4);
};

// --- head ------------------------------------------------------------------------------------------------------------

const HEAD_Z = 322;
const HEAD_Y = -4;
const TURN_DEG = 13;
const TURN_SIN = sinDegrees(TURN_DEG);
const TURN_COS = cosDegrees(TURN_DEG);
const EYE_X = 25;
const EYE_Z = 4;

const beakPath: readonly [Vec3, number][] = [
	[[0, -50, 16], 6],
	[[0, -60, 4], 8.5],
	[[0, -68, -10], 8],
	[[0, -70, -22], 5.5],
	[[0, -65, -32], 1.6],
];
const tufts: readonly [Vec3, Vec3, number, number][] = [
	[[6, -56, 22], [36, -36, 42], 5.5, 9],
	[[36, -34, 40], [50, -22, 68], 11, 8],
	[[48, -24, 62], [57, -16, 89], 8, 1.8],
	[[40, -24, 48], [49, -8, 82], 9, 1.8],
	[[38, -14, 44], [42, 2, 73], 9, 1.8],
];

const headShape = (x: number, y: number, z: number): number => {
	const ax = Math.abs(x);
	let d = ellipsoid(x, y, z, 63, 57, 52);
	d = smoothMin(d, ellipsoid(ax - 23, y + 20, z - 2, 39, 36, 40), 8);
	// The dishes of the face, each with its rim and grooves that run out from the eye.
	const dx = ax - EYE_X;
	const dz = z - EYE_Z;
	const rho = Math.sqrt(dx * dx + 0.88 * dz * dz);
	if (y < -10) {
		const deep = smoothStep(-10, -26, y);
		let relief = rho < 37 ? -6.5 * (1 - (rho * rho) / 1369) : 0;
		relief += 4 * hill(rho - 38, 6);
		if (rho > 11 && rho < 36) {
			const turn = angleOf(dx, dz) / 6.283185307179586;
			const c = turn * 26;
			const g = c - Math.floor(c) - 0.5;
			relief -= 1.5 * hill(g, 0.34) * smoothStep(12, 18, rho) * smoothStep(36, 32, rho);
		}
		d -= relief * deep;
	}
	if (rho > 40 || y > -12) {
		const outside = Math.max(smoothStep(41, 47, rho), smoothStep(-26, -12, y));
		const turn = angleOf(y + 2, x) / 6.283185307179586;
		d -= outside * 2.2 * (scales(turn * 26, (60 - z) / 10 + 10, 0.3) - 0.4) * smoothStep(50, 42, z);
	}
	// Brows that sweep up into the ear tufts.
	let brow = 1e3;
	for (let i = 0; i < tufts.length; i++) {
		const [a, b, ra, rb] = tufts[i];
		brow = smoothMin(brow, rod(ax, y, z, a, ra, b, rb), 2.5);
	}
	d = smoothMin(d, brow, 5);
	if (y > -30 || ax > 45) return d;
	// Eyes: lids, ball, pupil.
	const ey = y + 45;
	const eye = Math.sqrt(dx * dx + ey * ey + dz * dz) - 13;
	const flatRho = Math.sqrt(dx * dx + dz * dz);
	d = smoothMax(d, -(Math.sqrt(dx * dx + ey * ey + dz * dz) - 14), 1);
	const lr = flatRho - 14;
	const ly = y + 53;
	d = smoothMin(d, Math.sqrt(lr * lr + ly * ly) - 2.8, 2);
	let ball = eye + 1.1 * hill(flatRho - 8, 1.8);
	ball = smoothMax(ball, -(Math.sqrt(dx * dx + (y + 59) * (y + 59) + dz * dz) - 4.2), 0.8);
	d = Math.min(d, ball);
	let beak = 1e3;
	for (let i = 0; i + 1 < beakPath.length; i++) {
		const [a, ra] = beakPath[i];
		const [b, rb] = beakPath[i + 1];
		beak = smoothMin(beak, rod(x * 1.15, y, z, a, ra, b, rb), 2);
	}
	return smoothMin(d, beak, 2.5);
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
	{ kind: "add", box: [-78, -78, -2, 78, 78, 94], blend: 3, field: base },
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
