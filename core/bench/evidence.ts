/**
 * How well a story explains a set of readings, with the unknowns of the story integrated out (Bayesian model comparison, as
 * in MacKay, Information Theory, Inference, and Learning Algorithms, 2003, chapter 28). Readings are r = Hθ + noise, θ normal
 * with the story's spread, the noise normal with a standard deviation that is itself unknown: it is summed over a grid.
 */

import { exp, ln } from "../exactLog.ts";
import { symmetricEigen } from "../symmetric.ts";
import type { StoryRule } from "./stories.ts";

const LN_2PI = 1.8378770664093453;

const NOISE_STEPS = 15;
const NOISE_FACTOR = 1.2;

export interface NoiseGrid {
	/** mm */
	readonly sigma: readonly number[];
	/** ln of the prior share of each. */
	readonly lnPrior: readonly number[];
}

/** What is believed of the noise before reading: log-normal about the usual one (mm), a factor of two as its spread. */
export function noiseAround(usual: number): NoiseGrid {
	const middle = (NOISE_STEPS - 1) / 2;
	const steps = Array.from({ length: NOISE_STEPS }, (_, i) => i - middle);
	const sigma = steps.map((step) => {
		let s = usual;
		for (let k = 0; k < Math.abs(step); k++) s = step > 0 ? s * NOISE_FACTOR : s / NOISE_FACTOR;
		return s;
	});
	// ln 2 / ln 1.2 steps are a factor of two.
	const spread = ln(2) / ln(NOISE_FACTOR);
	const raw = steps.map((step) => (-0.5 * step * step) / (spread * spread));
	const whole = lnSum(raw);
	return { sigma, lnPrior: raw.map((l) => l - whole) };
}

/** ln Σ eˣ without overflow. */
export function lnSum(xs: readonly number[]): number {
	const most = xs.reduce((m, x) => Math.max(m, x), Number.NEGATIVE_INFINITY);
	if (most === Number.NEGATIVE_INFINITY) return most;
	return most + ln(xs.reduce((sum, x) => sum + exp(x - most), 0));
}

export interface Explained {
	/** ln of the probability density of the readings for each noise of the grid. */
	readonly lnDensity: readonly number[];
	/** Mean of the story's unknowns for each noise of the grid. */
	mean(noise: number): number[];
}

/** Explains readings (mm) whose rows of the story are `rows`. */
export function explain(
	{ spread }: StoryRule,
	rows: readonly (readonly number[])[],
	readings: readonly number[],
	{ sigma: noises }: NoiseGrid,
): Explained {
	const p = spread.length;
	const n = readings.length;
	let square = 0;
	// In units of the spread: A = THᵀHT, b = THᵀr.
	const a = spread.map(() => new Array<number>(p).fill(0));
	const b = new Array<number>(p).fill(0);
	for (let k = 0; k < n; k++) {
		const row = rows[k];
		const r = readings[k];
		square += r * r;
		for (let i = 0; i < p; i++) {
			const h = spread[i] * row[i];
			b[i] += h * r;
			for (let j = i; j < p; j++) a[i][j] += h * spread[j] * row[j];
		}
	}
	const { values, vectors } = symmetricEigen(a);
	const along = vectors.map((v) => v.reduce((sum, x, i) => sum + x * b[i], 0));
	const lnDensity = noises.map((sigma) => {
		const variance = sigma * sigma;
		let lnDet = 0;
		let quad = square;
		for (let k = 0; k < p; k++) {
			const value = Math.max(0, values[k]);
			lnDet += ln(1 + value / variance);
			quad -= (along[k] * along[k]) / (value + variance);
		}
		return -0.5 * (n * (LN_2PI + ln(variance)) + lnDet + quad / variance);
	});
	return {
		lnDensity,
		mean: (noise) => {
			const variance = noises[noise] * noises[noise];
			return spread.map((s, i) =>
				vectors.reduce((sum, v, k) => sum + (s * v[i] * along[k]) / (Math.max(0, values[k]) + variance), 0),
			);
		},
	};
}
