/** From a value at every vertex to its colour. */

import { cividis } from "./colourMap.ts";
import type { VertexLook } from "./scanView.ts";

/** sRGB of plaster, and how far a hollow darkens and a bulge lightens it. */
const PLASTER = [232, 225, 211] as const;
const DARKEST = 0.5;
const LIGHTEST = 1.06;

const toLinear = (byte: number): number => {
	const s = byte / 255;
	return s <= 0.04045 ? s / 12.92 : ((s + 0.055) / 1.055) ** 2.4;
};

/** Plaster in whose hollows the light falls off, judged by the mean curvature at the smallest form: a depth cue, not a value. */
export function plasterLook(k1: Float32Array, k2: Float32Array, smallestFormMm: number): VertexLook {
	const vertices = k1.length;
	const colours = new Uint16Array(3 * vertices);
	const [r, g, b] = PLASTER.map((byte) => toLinear(byte) * 65535);
	for (let i = 0; i < vertices; i++) {
		const bend = (k1[i] + k2[i]) * smallestFormMm;
		const light = Math.max(DARKEST, Math.min(LIGHTEST, 1 + (bend < 0 ? 0.85 : 0.12) * bend));
		colours[3 * i] = r * light;
		colours[3 * i + 1] = g * light;
		colours[3 * i + 2] = b * light;
	}
	return { colours, hatches: new Uint8Array(2 * vertices) };
}

let linear: Uint16Array | null = null;

/** The colours that the scanner saw. */
export function scannedLook(colours: Uint8Array): VertexLook {
	linear ??= Uint16Array.from({ length: 256 }, (_, byte) => Math.round(toLinear(byte) * 65535));
	const table = linear;
	const look = new Uint16Array(colours.length);
	for (let i = 0; i < colours.length; i++) look[i] = table[colours[i]];
	return { colours: look, hatches: new Uint8Array((2 * colours.length) / 3) };
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

/**
 * Colours for values from `low` to `high`; vertices whose value is not a number stay plaster. `ground` (0 plain, 1 by eye,
 * 2 not reached) is hatched over it.
 */
export function valueLook(
	values: ArrayLike<number> | null,
	low: number,
	high: number,
	ground: Uint8Array | null,
	vertices: number,
): VertexLook {
	const table = shades();
	const colours = new Uint16Array(3 * vertices);
	const plain = PLASTER.map((byte) => Math.round(toLinear(byte) * 65535));
	const scale = (SHADES - 1) / (high - low || 1);
	for (let i = 0; i < vertices; i++) {
		const value = values === null ? Number.NaN : values[i];
		const at = 3 * i;
		if (!Number.isNaN(value)) {
			const shade = 3 * Math.max(0, Math.min(SHADES - 1, Math.round((value - low) * scale)));
			colours[at] = table[shade];
			colours[at + 1] = table[shade + 1];
			colours[at + 2] = table[shade + 2];
		} else {
			colours[at] = plain[0];
			colours[at + 1] = plain[1];
			colours[at + 2] = plain[2];
		}
	}
	return { colours, hatches: ground ? hatchesOf(ground) : new Uint8Array(2 * vertices) };
}

/** Hatching of every vertex from its ground: 0 plain, 1 by eye, 2 not reached. */
export function hatchesOf(ground: Uint8Array): Uint8Array {
	const hatches = new Uint8Array(2 * ground.length);
	for (let i = 0; i < ground.length; i++) if (ground[i] > 0) hatches[2 * i + (ground[i] === 1 ? 0 : 1)] = 255;
	return hatches;
}

/** The values below and above which a share of `tail` of them lies, so that a few outliers do not swallow the colours. */
export function usualRange(values: Float32Array, tail: number): readonly [number, number] {
	const sample: number[] = [];
	const step = Math.max(1, Math.floor(values.length / 20_000));
	for (let i = 0; i < values.length; i += step) if (Number.isFinite(values[i])) sample.push(values[i]);
	if (sample.length === 0) return [0, 1];
	sample.sort((a, b) => a - b);
	const at = (share: number): number => sample[Math.round(share * (sample.length - 1))];
	return [at(tail), at(1 - tail)];
}
