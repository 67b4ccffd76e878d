/** Seeded random numbers from 32-bit integer arithmetic, so that every machine draws the same ones. */

/** A source of random numbers; the same seed gives the same sequence everywhere. */
export interface Random {
	/** Uniform in [0, 1), a multiple of 2^-32. */
	next(): number;
	/** Uniform integer in [0, n). */
	below(n: number): number;
	/** Approximately normal, mean 0, variance 1: the sum of twelve uniforms less six (range ±6), exact arithmetic only. */
	normal(): number;
}

/**
 * The splitmix-like generator known as mulberry32 (T. Ettinger, 2017, public domain; from memory): one 32-bit state,
 * full period, good enough for jitter, sampling and tests; not for secrets.
 */
export function seededRandom(seed: number): Random {
	let state = seed >>> 0;
	const next = (): number => {
		state = (state + 0x6d2b79f5) >>> 0;
		let t = state;
		t = Math.imul(t ^ (t >>> 15), t | 1);
		t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
		return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
	};
	return {
		next,
		below: (n) => Math.floor(next() * n),
		normal: () => {
			let sum = -6;
			for (let i = 0; i < 12; i++) sum += next();
			return sum;
		},
	};
}
