/**
 * Shapes as signed fields, to be carved together stroke by stroke.
 *
 * A field gives for a place in mm about its signed distance to a surface: negative in the stone, positive in the air.
 * Distances need be right only near zero, where the surface is looked for. Exact arithmetic only (see `core/exactAngle.ts`).
 * Ellipsoid and smooth minimum in the forms that I. Quilez collected (2008–2020; from memory).
 */
import type { Vec3 } from "../core/vector.ts";

/** Signed distance in mm at (x, y, z); negative inside. */
export type Field = (x: number, y: number, z: number) => number;
/** Least and greatest x, y, z in mm. */
export type Box = readonly [number, number, number, number, number, number];

/**
 * One step of the making: stone is added, cut away, or its surface is raised (*press*: the field is a height in mm
 * that is taken off the distance). `blend` is the width in mm over which the stroke melts into what is there already;
 * outside `box` the stroke has no stone, cuts none, or raises none.
 */
export interface Stroke {
	readonly kind: "add" | "cut" | "press";
	readonly box: Box;
	readonly blend: number;
	readonly field: Field;
}

/** Far enough to be no surface. */
export const FAR_MM = 1e3;

/** Radians in a full turn. */
export const TURN = 2 * Math.PI;

export const clamp = (v: number, low: number, high: number): number => Math.max(low, Math.min(high, v));
export const mix = (a: number, b: number, t: number): number => a + (b - a) * t;
/** 0 up to `from`, 1 from `to` on, smooth between; `from` may be the greater. */
export const smoothStep = (from: number, to: number, v: number): number => {
	const t = clamp((v - from) / (to - from), 0, 1);
	return t * t * (3 - 2 * t);
};
/** The smaller of two, melted together where they differ by less than k. */
export const smoothMin = (a: number, b: number, k: number): number => {
	const h = k - Math.abs(a - b);
	return Math.min(a, b) - (h > 0 ? (h * h) / (4 * k) : 0);
};
/** The greater of two, rounded where they differ by less than k. */
export const smoothMax = (a: number, b: number, k: number): number => {
	const h = k - Math.abs(a - b);
	return Math.max(a, b) + (h > 0 ? (h * h) / (4 * k) : 0);
};
/** A smooth hill: 1 at 0, 0 from ±width on. */
export const hill = (v: number, width: number): number => {
	const t = 1 - (v * v) / (width * width);
	return t > 0 ? t * t : 0;
};

/**
 * The angle of (x, y) from the x axis in radians, (−π, π]: Taylor series of the arctangent after reduction to
 * |tangent| ≤ tan 11.25°; error below 1e-8, the same digits everywhere.
 */
export const angleOf = (x: number, y: number): number => {
	const ax = Math.abs(x);
	const ay = Math.abs(y);
	if (ax + ay === 0) return 0;
	const steep = ay > ax;
	let t = steep ? ax / ay : ay / ax;
	let base = 0;
	// In turns of π/8: tan 11.25° = 0.198912…, tan 22.5° = √2 − 1, tan 33.75° = 0.668178….
	if (t > 0.6681786379192989) {
		t = (t - 1) / (1 + t);
		base = Math.PI / 4;
	} else if (t > 0.198912367379658) {
		t = (t - 0.41421356237309503) / (1 + t * 0.41421356237309503);
		base = Math.PI / 8;
	}
	const t2 = t * t;
	let angle = base + t * (1 - t2 * (1 / 3 - t2 * (1 / 5 - t2 * (1 / 7 - t2 / 9))));
	if (steep) angle = Math.PI / 2 - angle;
	if (x < 0) angle = Math.PI - angle;
	return y < 0 ? -angle : angle;
};

/** A wave of period 1 between −1 and 1, close to a sine: two parabolas. */
export const wave = (v: number): number => {
	const t = v - Math.floor(v);
	return t < 0.5 ? 16 * t * (0.5 - t) : -16 * (t - 0.5) * (1 - t);
};

/** Signed distance to an ellipsoid about the origin, right to first order near its surface. */
export const ellipsoid = (x: number, y: number, z: number, rx: number, ry: number, rz: number): number => {
	const ax = x / rx;
	const ay = y / ry;
	const az = z / rz;
	const k0 = Math.sqrt(ax * ax + ay * ay + az * az);
	const bx = ax / rx;
	const by = ay / ry;
	const bz = az / rz;
	const k1 = Math.sqrt(bx * bx + by * by + bz * bz);
	return k1 > 1e-9 ? (k0 * (k0 - 1)) / k1 : -Math.min(rx, ry, rz);
};

/** Signed distance to a rod from a (radius ra) to b (radius rb), its ends round. */
export const rod = (x: number, y: number, z: number, a: Vec3, ra: number, b: Vec3, rb: number): number => {
	const ux = b[0] - a[0];
	const uy = b[1] - a[1];
	const uz = b[2] - a[2];
	const px = x - a[0];
	const py = y - a[1];
	const pz = z - a[2];
	const t = clamp((px * ux + py * uy + pz * uz) / (ux * ux + uy * uy + uz * uz), 0, 1);
	const dx = px - t * ux;
	const dy = py - t * uy;
	const dz = pz - t * uz;
	return Math.sqrt(dx * dx + dy * dy + dz * dz) - (ra + (rb - ra) * t);
};

/** A place on a chain of rods and the radius there, mm. */
export type Knuckle = readonly [Vec3, number];
/** Signed distance to rods joined end to end, melted together over k. */
export const chain = (x: number, y: number, z: number, path: readonly Knuckle[], k: number): number => {
	let d = FAR_MM;
	for (let i = 0; i + 1 < path.length; i++) {
		d = smoothMin(d, rod(x, y, z, path[i][0], path[i][1], path[i + 1][0], path[i + 1][1]), k);
	}
	return d;
};

/** n + 1 places along the curve from a to c that b draws to itself (quadratic Bézier curve). */
export function bow(a: Vec3, b: Vec3, c: Vec3, n: number): Vec3[] {
	return Array.from({ length: n + 1 }, (_, i) => {
		const t = i / n;
		const at = (k: number): number => (1 - t) * (1 - t) * a[k] + 2 * t * (1 - t) * b[k] + t * t * c[k];
		return [at(0), at(1), at(2)];
	});
}

/** A curve through (at, value) pairs, `at` growing: cubic between them (Catmull and Rom 1974), flat beyond the ends. */
export function curveThrough(pairs: readonly (readonly [number, number])[]): (at: number) => number {
	const n = 256;
	const from = pairs[0][0];
	const to = pairs[pairs.length - 1][0];
	const table = new Float64Array(n + 2);
	const slope = pairs.map((_, i) => {
		const a = pairs[Math.max(i - 1, 0)];
		const b = pairs[Math.min(i + 1, pairs.length - 1)];
		return (b[1] - a[1]) / (b[0] - a[0]);
	});
	for (let i = 0, p = 0; i <= n; i++) {
		const at = from + ((to - from) * i) / n;
		while (p < pairs.length - 2 && at > pairs[p + 1][0]) p++;
		const w = pairs[p + 1][0] - pairs[p][0];
		const t = (at - pairs[p][0]) / w;
		const u = 1 - t;
		table[i] =
			pairs[p][1] * u * u * (1 + 2 * t) +
			pairs[p + 1][1] * t * t * (3 - 2 * t) +
			w * t * u * (slope[p] * u - slope[p + 1] * t);
	}
	table[n + 1] = table[n];
	const perUnit = n / (to - from);
	return (at) => {
		const q = clamp((at - from) * perUnit, 0, n);
		const i = Math.floor(q);
		return table[i] + (table[i + 1] - table[i]) * (q - i);
	};
}

/** How far from a surface a field is asked, at most: strokes that end farther away are left out. */
const ASKED_WITHIN_MM = 6;

/**
 * The field of all strokes in their order. Space is cut into blocks, each of which knows the strokes that can matter
 * near a surface in it, so that a question costs a handful of strokes rather than all.
 */
export function carve(strokes: readonly Stroke[], box: Box, blockMm = 12): Field {
	const nx = Math.ceil((box[3] - box[0]) / blockMm) + 1;
	const ny = Math.ceil((box[4] - box[1]) / blockMm) + 1;
	const nz = Math.ceil((box[5] - box[2]) / blockMm) + 1;
	const blocks = new Array<readonly Stroke[] | null>(nx * ny * nz).fill(null);
	const [ox, oy, oz] = box;
	const strokesOf = (i: number, j: number, k: number): readonly Stroke[] => {
		const low = [ox + i * blockMm, oy + j * blockMm, oz + k * blockMm];
		return strokes.filter(({ box: b, blend }) => {
			const reach = blend + ASKED_WITHIN_MM;
			for (let a = 0; a < 3; a++) if (b[a] - reach > low[a] + blockMm || b[a + 3] + reach < low[a]) return false;
			return true;
		});
	};
	return (x, y, z) => {
		const i = clamp(Math.floor((x - ox) / blockMm), 0, nx - 1);
		const j = clamp(Math.floor((y - oy) / blockMm), 0, ny - 1);
		const k = clamp(Math.floor((z - oz) / blockMm), 0, nz - 1);
		const at = i + nx * (j + ny * k);
		let here = blocks[at];
		if (here === null) {
			here = strokesOf(i, j, k);
			blocks[at] = here;
		}
		let d = FAR_MM;
		for (let s = 0; s < here.length; s++) {
			const stroke = here[s];
			const v = stroke.field(x, y, z);
			if (stroke.kind === "add") d = stroke.blend > 0 ? smoothMin(d, v, stroke.blend) : Math.min(d, v);
			else if (stroke.kind === "cut") d = stroke.blend > 0 ? smoothMax(d, -v, stroke.blend) : Math.max(d, -v);
			else d -= v;
		}
		return d;
	};
}
