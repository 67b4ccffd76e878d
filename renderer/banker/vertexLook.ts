/** From a value at every vertex to its colour. */

import { cividis } from "./colourMap.ts";

/** sRGB of plaster, and how far a hollow darkens and a bulge lightens it. */
const PLASTER = [232, 225, 211] as const;
const DARKEST = 0.5;
const LIGHTEST = 1.06;

const toLinear = (byte: number): number => {
	const s = byte / 255;
	return s <= 0.04045 ? s / 12.92 : ((s + 0.055) / 1.055) ** 2.4;
};

/** 0 plain, 1 hatched, 2 crossed. */
export type Hatch = 0 | 1 | 2;

/**
 * How every vertex of a scan looks, as a recipe: a great scan is painted piece by piece, so that no frame waits for all of it.
 */
export interface VertexLook {
	/** Of how many vertices it knows. */
	readonly vertices: number;
	/** Writes linear red, green and blue of vertex v, 0–65535, to three places from `at` on. */
	paint(v: number, colours: Uint16Array, at: number): void;
	/** null: none is hatched. */
	readonly hatch: ((v: number) => Hatch) | null;
}

/** Plaster in whose hollows the light falls off, judged by the mean curvature at the smallest form: a depth cue, not a value. */
export function plasterLook(k1: Float32Array, k2: Float32Array, smallestFormMm: number): VertexLook {
	const [r, g, b] = PLASTER.map((byte) => toLinear(byte) * 65535);
	return {
		vertices: k1.length,
		hatch: null,
		paint(v, colours, at) {
			const bend = (k1[v] + k2[v]) * smallestFormMm;
			const light = Math.max(DARKEST, Math.min(LIGHTEST, 1 + (bend < 0 ? 0.85 : 0.12) * bend));
			colours[at] = r * light;
			colours[at + 1] = g * light;
			colours[at + 2] = b * light;
		},
	};
}

let linear: Uint16Array | null = null;

/** The colours that the scanner saw; red, green, blue of each vertex, 0–255. */
export function scannedLook(scanned: Uint8Array): VertexLook {
	linear ??= Uint16Array.from({ length: 256 }, (_, byte) => Math.round(toLinear(byte) * 65535));
	const table = linear;
	return {
		vertices: scanned.length / 3,
		hatch: null,
		paint(v, colours, at) {
			for (let k = 0; k < 3; k++) colours[at + k] = table[scanned[3 * v + k]];
		},
	};
}

/** The linear colours of 256 shares, worked out once. */
const SHADES = 256;
let ladder: Uint16Array | null = null;
function shades(): Uint16Array {
	if (ladder) return ladder;
	ladder = new Uint16Array(3 * SHADES);
	for (let i = 0; i < SHADES; i++)
		cividis(i / (SHADES - 1)).forEach((byte, k) => {
			(ladder as Uint16Array)[3 * i + k] = Math.round(toLinear(byte) * 65535);
		});
	return ladder;
}

/** The value at a vertex. */
export type VertexValue = (vertex: number) => number;

/**
 * Colours for values from `low` to `high`; vertices whose value is not a number stay plaster. `ground` (0 plain, 1 by eye,
 * 2 not reached) is hatched over it.
 */
export function valueLook(
	values: ArrayLike<number> | VertexValue | null,
	low: number,
	high: number,
	ground: Uint8Array | null,
	vertices: number,
): VertexLook {
	const table = shades();
	const plain = PLASTER.map((byte) => Math.round(toLinear(byte) * 65535));
	const scale = (SHADES - 1) / (high - low || 1);
	const valueAt = typeof values === "function" ? values : (v: number) => (values === null ? Number.NaN : values[v]);
	return {
		vertices,
		hatch: ground && hatchOf(ground),
		paint(v, colours, at) {
			const value = valueAt(v);
			const known = !Number.isNaN(value);
			const shade = known ? 3 * Math.max(0, Math.min(SHADES - 1, Math.round((value - low) * scale))) : 0;
			for (let k = 0; k < 3; k++) colours[at + k] = known ? table[shade + k] : plain[k];
		},
	};
}

/** Hatching of every vertex from its ground: 0 plain, 1 by eye, 2 not reached. */
const hatchOf =
	(ground: Uint8Array) =>
	(v: number): Hatch =>
		ground[v] === 0 ? 0 : ground[v] === 1 ? 1 : 2;

/** The values below and above which a share of `tail` of them lies, so that a few outliers do not swallow the colours. */
export function usualRange(valueAt: VertexValue, vertices: number, tail: number): readonly [number, number] {
	const step = Math.max(1, Math.floor(vertices / 20_000));
	const sample = new Float64Array(Math.ceil(vertices / step));
	let known = 0;
	for (let v = 0; v < vertices; v += step) {
		const value = valueAt(v);
		if (Number.isFinite(value)) sample[known++] = value;
	}
	if (known === 0) return [0, 1];
	sample.subarray(0, known).sort();
	const at = (share: number): number => sample[Math.round(share * (known - 1))];
	return [at(tail), at(1 - tail)];
}
