/** Welding of equal coordinates by an open-addressing hash of their bits. */

import type { Job } from "../job.ts";

/** Load of the hash table above which it is doubled: one half keeps linear probing at 1.5 looks a hit. */
const LARGEST_LOAD = 0.5;
/** Vertices met lately are looked up here first: neighbouring triangles in a file share most of their corners. */
const RECENT = 4096;
/** Vertices put into a larger table between two yields. */
const SLICE = 1 << 18;

/** One hash of the six words of three doubles; the multipliers are odd and large, from memory (Fibonacci and murmur constants). */
function hash(words: Uint32Array, k: number): number {
	let h = Math.imul(words[k + 1] ^ Math.imul(words[k], 0x85ebca6b), 0x9e3779b1);
	h = Math.imul((h ^ (h >>> 15)) + (words[k + 3] ^ Math.imul(words[k + 2], 0xc2b2ae35)), 0x85ebca6b);
	h = Math.imul((h ^ (h >>> 13)) + (words[k + 5] ^ Math.imul(words[k + 4], 0x27d4eb2f)), 0xc2b2ae35);
	return h ^ (h >>> 16);
}

/**
 * Gives every distinct point a number, counted from 0 in the order of first appearance.
 * Points are equal when their three doubles are equal; −0 equals 0. No NaN may be handed in.
 */
export class Welder {
	#positions: Float64Array;
	#count = 0;
	/** Vertex number + 1 in each taken slot, 0 in a free one; a power of two long. */
	#table: Uint32Array;
	readonly #recent = new Uint32Array(RECENT);

	/** `expected` vertices fit before anything has to grow. */
	constructor(expected: number) {
		const room = Math.max(64, Math.ceil(expected));
		this.#positions = new Float64Array(3 * room);
		this.#table = new Uint32Array(tableSize(room));
	}

	get count(): number {
		return this.#count;
	}

	/**
	 * Welds `n` points (x, y, z in turn; −0 is made 0 in place) and writes their vertex numbers to `out` from `at` on.
	 * There must be room for n more vertices: from the start, or by `makeRoom`.
	 */
	weld(points: Float64Array, n: number, out: Uint32Array, at: number): void {
		if (3 * (this.#count + n) > this.#positions.length) throw new Error("the welder was not given room");
		const words = new Uint32Array(points.buffer, points.byteOffset, 6 * n);
		const positions = this.#positions;
		const table = this.#table;
		const mask = table.length - 1;
		const recent = this.#recent;
		let count = this.#count;
		for (let i = 0; i < n; i++) {
			const j = 3 * i;
			const x = points[j] + 0;
			const y = points[j + 1] + 0;
			const z = points[j + 2] + 0;
			points[j] = x;
			points[j + 1] = y;
			points[j + 2] = z;
			const h = hash(words, 6 * i);
			const lately = h & (RECENT - 1);
			let v = recent[lately];
			// A fresh entry of `recent` is vertex 0, which fails or passes the comparison like any other.
			if (count === 0 || positions[3 * v] !== x || positions[3 * v + 1] !== y || positions[3 * v + 2] !== z) {
				let slot = h & mask;
				for (;;) {
					v = table[slot] - 1;
					if (v < 0) {
						v = count++;
						positions[3 * v] = x;
						positions[3 * v + 1] = y;
						positions[3 * v + 2] = z;
						table[slot] = v + 1;
						break;
					}
					if (positions[3 * v] === x && positions[3 * v + 1] === y && positions[3 * v + 2] === z) break;
					slot = (slot + 1) & mask;
				}
				recent[lately] = v;
			}
			out[at + i] = v;
		}
		this.#count = count;
	}

	/** The vertices found, x, y, z in turn, in an array of their own. The welder is used up. */
	finish(): Float64Array {
		this.#table = new Uint32Array(0);
		const full = this.#positions.length === 3 * this.#count;
		const positions = full ? this.#positions : this.#positions.slice(0, 3 * this.#count);
		this.#positions = new Float64Array(0);
		return positions;
	}

	/** Makes room for n more vertices; the share of progress stands still at `share` meanwhile. */
	*makeRoom(n: number, share: number): Job<void> {
		const needed = this.#count + n;
		if (3 * needed > this.#positions.length) {
			const grown = new Float64Array(3 * Math.ceil(Math.max(needed, 1.5 * this.#count)));
			grown.set(this.#positions.subarray(0, 3 * this.#count));
			this.#positions = grown;
		}
		if (needed <= this.#table.length * LARGEST_LOAD) return;
		const table = new Uint32Array(tableSize(needed));
		const words = new Uint32Array(this.#positions.buffer);
		for (let from = 0; from < this.#count; from += SLICE) {
			enter(words, from, Math.min(from + SLICE, this.#count), table);
			yield { stage: "reading the scan", share };
		}
		this.#table = table;
	}
}

function enter(words: Uint32Array, from: number, to: number, table: Uint32Array): void {
	const mask = table.length - 1;
	for (let v = from; v < to; v++) {
		let slot = hash(words, 6 * v) & mask;
		while (table[slot] !== 0) slot = (slot + 1) & mask;
		table[slot] = v + 1;
	}
}

function tableSize(vertices: number): number {
	let size = 128;
	while (size * LARGEST_LOAD < vertices) size *= 2;
	return size;
}
