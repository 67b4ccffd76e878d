/** Welding of equal coordinates by an open-addressing hash of their bits. */

import type { Job } from "../job.ts";

/** Load of the hash table above which it is doubled: one half keeps linear probing at 1.5 looks a hit. */
const LARGEST_LOAD = 0.5;
/** Vertices met lately are looked up here first: neighbouring triangles in a file share most of their corners. */
const RECENT = 16384;
/** Vertices put into a larger table between two yields. */
const SLICE = 1 << 18;

/**
 * One hash of the six words of three doubles: products with large odd numbers (from memory: those of Fibonacci hashing and
 * of murmur), summed and mixed once. The lower words of doubles that were 32-bit numbers have three bits only.
 */
function hash(words: Uint32Array, k: number): number {
	const high =
		Math.imul(words[k + 1], 0x9e3779b1) ^ Math.imul(words[k + 3], 0x85ebca6b) ^ Math.imul(words[k + 5], 0xc2b2ae35);
	const low = words[k] ^ Math.imul(words[k + 2], 0x27d4eb2f) ^ Math.imul(words[k + 4], 0x165667b1);
	let h = (high + Math.imul(low, 0x2c1b3c6d)) | 0;
	h = Math.imul(h ^ (h >>> 15), 0x2c1b3c6d);
	return h ^ (h >>> 13);
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
	readonly #one = new Float64Array(3);
	readonly #oneWords = new Uint32Array(this.#one.buffer);

	/** `expected` vertices fit before anything has to grow. */
	constructor(expected: number) {
		const room = Math.max(64, Math.ceil(expected));
		this.#positions = new Float64Array(3 * room);
		this.#table = new Uint32Array(tableSize(room));
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
				v = enterPoint(positions, table, h & mask, count, x, y, z);
				if (v === count) count++;
				recent[lately] = v;
			}
			out[at + i] = v;
		}
		this.#count = count;
	}

	/** The vertex number of one point; for points that come singly and seldom. There must be room for one more vertex. */
	weldOne(x: number, y: number, z: number): number {
		this.#one[0] = x;
		this.#one[1] = y;
		this.#one[2] = z;
		// Adding 0 makes −0 into 0, whose bits are others.
		for (let k = 0; k < 3; k++) this.#one[k] += 0;
		const table = this.#table;
		const slot = hash(this.#oneWords, 0) & (table.length - 1);
		const v = enterPoint(this.#positions, table, slot, this.#count, this.#one[0], this.#one[1], this.#one[2]);
		if (v === this.#count) this.#count++;
		return v;
	}

	/** The vertices found, x, y, z in turn, in an array of their own length. The welder is used up. */
	*finish(): Job<Float64Array> {
		this.#table = new Uint32Array(0);
		const all = this.#positions;
		this.#positions = new Float64Array(0);
		if (all.length === 3 * this.#count) return all;
		const positions = new Float64Array(3 * this.#count);
		// In pieces: a copy of a great array is a second in which nothing could be cancelled.
		for (let from = 0; from < positions.length; from += 3 * SLICE) {
			positions.set(all.subarray(from, Math.min(from + 3 * SLICE, positions.length)), from);
			yield { stage: "reading the scan", share: 1 };
		}
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
			enterAgain(words, from, Math.min(from + SLICE, this.#count), table);
			yield { stage: "reading the scan", share };
		}
		this.#table = table;
	}
}

/** The number of the point, looked for from `slot` on; `count`, its new number, if it was not in the table before. */
function enterPoint(
	positions: Float64Array,
	table: Uint32Array,
	slot: number,
	count: number,
	x: number,
	y: number,
	z: number,
): number {
	const mask = table.length - 1;
	for (; ; slot = (slot + 1) & mask) {
		const v = table[slot] - 1;
		if (v < 0) {
			positions[3 * count] = x;
			positions[3 * count + 1] = y;
			positions[3 * count + 2] = z;
			table[slot] = count + 1;
			return count;
		}
		if (positions[3 * v] === x && positions[3 * v + 1] === y && positions[3 * v + 2] === z) return v;
	}
}

function enterAgain(words: Uint32Array, from: number, to: number, table: Uint32Array): void {
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
