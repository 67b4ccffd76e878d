/**
 * Corners of an ASCII scan known by their text. In an STL every vertex is written about six times over, mostly letter for
 * letter: a text met lately has its vertex number at once, without its digits being read or its coordinates welded again.
 */

import type { NumberReader } from "./numbers.ts";
import type { Welder } from "./weld.ts";

/** Texts kept. Meshes come in strips and rows, so most repeats are met within a few thousand corners. */
const KEPT_BITS = 13;
const KEPT = 1 << KEPT_BITS;
/** Words of four bytes a text, the last of them its length: longer texts are not kept. */
const WORDS = 16;
const LONGEST = 4 * (WORDS - 1);
/** An odd factor for each word of a text; the sum of the products is its hash (multilinear hashing, Carter and Wegman 1979). */
const FACTORS = Int32Array.from({ length: WORDS }, (_, i) => {
	const mixed = Math.imul(i + 1, 0x9e3779b1);
	return Math.imul(mixed ^ (mixed >>> 15), 0x85ebca6b) | 1;
});
const NEWLINES = 0x0a0a0a0a;
const RETURNS = 0x0d0d0d0d;
/** A text is looked up only where this many bytes are left, so that none is read behind the end. */
const ROOM = LONGEST + 4;

export class CornerTexts {
	/** Index behind the corner read last. */
	end = 0;
	readonly #numbers: NumberReader;
	readonly #welder: Welder;
	readonly #texts = new Int32Array(KEPT * WORDS);
	readonly #vertices = new Uint32Array(KEPT);

	constructor(numbers: NumberReader, welder: Welder) {
		this.#numbers = numbers;
		this.#welder = welder;
	}

	/**
	 * The vertex number of the three numbers that stand from `at` on; −1 where that is not so, or not surely before `end`.
	 * `lineEnd` is the byte (10 or 13) right behind a corner in this file, 0 where corners do not end lines.
	 */
	read(bytes: Uint8Array, view: DataView, at: number, end: number, lineEnd: number): number {
		if (lineEnd === 0 || at + ROOM > end) return this.#parse(bytes, at, end);
		const pattern = lineEnd === 10 ? NEWLINES : RETURNS;
		let hash = 0;
		let n = 0;
		let word = view.getInt32(at, true);
		// A byte of the word is the line end when it comes out as 0 (the zero-byte test known from string searches).
		let zero = word ^ pattern;
		while (((zero - 0x01010101) & ~zero & 0x80808080) === 0) {
			if (n === WORDS - 2) return this.#parse(bytes, at, end);
			hash = (hash + Math.imul(word, FACTORS[n])) | 0;
			n++;
			word = view.getInt32(at + 4 * n, true);
			zero = word ^ pattern;
		}
		const rest = (zero & 0xff) === 0 ? 0 : (zero & 0xff00) === 0 ? 1 : (zero & 0xff0000) === 0 ? 2 : 3;
		// What stands behind the line end is no part of the text.
		word &= (1 << (8 * rest)) - 1;
		hash = (hash + Math.imul(word, FACTORS[n])) | 0;
		const length = 4 * n + rest;
		// The upper bits of a sum of products depend on all bits of the words, the lower ones on the lower alone.
		const slot = Math.imul(hash ^ (hash >>> 15), 0x2c1b3c6d) >>> (32 - KEPT_BITS);
		const kept = this.#texts;
		const base = WORDS * slot;
		if (kept[base + WORDS - 1] === length) {
			let k = 0;
			while (k < n && kept[base + k] === view.getInt32(at + 4 * k, true)) k++;
			if (k === n && kept[base + n] === word) {
				this.end = at + length;
				return this.#vertices[slot];
			}
		}
		const v = this.#parse(bytes, at, end);
		if (v < 0 || this.end !== at + length) return v;
		for (let k = 0; k < n; k++) kept[base + k] = view.getInt32(at + 4 * k, true);
		kept[base + n] = word;
		kept[base + WORDS - 1] = length;
		this.#vertices[slot] = v;
		return v;
	}

	#parse(bytes: Uint8Array, at: number, end: number): number {
		const numbers = this.#numbers;
		const x = numbers.read(bytes, at, end);
		at = behindBlanks(bytes, numbers.end, end);
		if (at === end) return -1;
		const y = numbers.read(bytes, at, end);
		at = behindBlanks(bytes, numbers.end, end);
		if (at === end) return -1;
		const z = numbers.read(bytes, at, end);
		this.end = numbers.end;
		// A number that reaches the end may go on behind it; x − x is 0 for finite numbers alone.
		if (numbers.end === end || x - x + (y - y) + (z - z) !== 0) return -1;
		return this.#welder.weldOne(x, y, z);
	}
}

function behindBlanks(bytes: Uint8Array, at: number, end: number): number {
	while (at < end && bytes[at] <= 32) at++;
	return at;
}
