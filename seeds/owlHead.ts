/** The owl's head: dished face, eyes, beak, ear tufts. Frame: middle of the skull, before the head is turned. */
import { cosDegrees, sinDegrees } from "../core/exactAngle.ts";
import { sub, type Vec3 } from "../core/vector.ts";
import { scales } from "./feathers.ts";
import {
	angleOf,
	bow,
	chain,
	clamp,
	curveThrough,
	ellipsoid,
	FAR_MM,
	hill,
	type Knuckle,
	smoothMax,
	smoothMin,
	smoothStep,
	TURN,
	wave,
} from "./field.ts";

const HEAD_Z = 322;
const HEAD_Y = -4;
const TURN_DEG = 13;
const TURN_SIN = sinDegrees(TURN_DEG);
const TURN_COS = cosDegrees(TURN_DEG);
const EYE_X = 26;
const EYE_Y = -48;
const EYE_Z = 4;

const BEAK: readonly Vec3[] = bow([0, -50, 16], [0, -86, 6], [0, -67, -34], 9);
const beakThick = curveThrough([
	[0, 8],
	[0.3, 10],
	[0.55, 9],
	[0.8, 5.2],
	[0.93, 2.6],
	[1, 1.2],
]);
const BEAK_PATH = BEAK.map((place, i): Knuckle => [place, beakThick(i / (BEAK.length - 1))]);
const beak = (x: number, y: number, z: number): number => {
	// Pinched sides leave a ridge along the top of the beak.
	const px = Math.abs(x) * (1 + 0.016 * clamp(-y - 54, 0, 22));
	const d = chain(px, y, z, BEAK_PATH, 1);
	const nostril = ellipsoid(Math.abs(x) - 8, y + 66, z - 4, 3, 3.2, 1.9);
	return smoothMax(d, -nostril, 1.5);
};

/** Brow and ear tuft in one sweep: a feathered blade along a spine. */
const TUFT: readonly Vec3[] = bow([3, -61, 15], [41, -55, 22], [59, -14, 88.6], 12);
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
/** The head, turned a little to its proper left. */
export const head = (x: number, y: number, z: number): number => {
	const hy = y - HEAD_Y;
	return headShape(TURN_COS * x + TURN_SIN * hy, TURN_COS * hy - TURN_SIN * x, z - HEAD_Z);
};
