/** STL, binary and ASCII: triangles one by one, welded as they come. */

import type { Job } from "../job.ts";
import { type Issue, Refusal } from "../refusal.ts";
import type { TriangleMesh } from "./mesh.ts";
import { NumberReader, textOf } from "./numbers.ts";
import { CHUNK_BYTES, lineOf, type ScanSource } from "./source.ts";
import { Welder } from "./weld.ts";

const HEADER_BYTES = 84;
const TRIANGLE_BYTES = 50;
/** Where the three corners stand in a triangle's record (after its normal), and the two bytes that some writers colour. */
const CORNERS_AT = 12;
const COLOUR_AT = 48;
/** Corners decoded before they are welded: 2 × 48 KB of scratch stays in a core's own cache. */
const BATCH_CORNERS = 3 * 1024;
/** Bytes of a file's start by which text is told from binary. */
const HEAD_BYTES = 4096;
/** An ASCII triangle as most programs write it; only where the memory starts, not a limit. */
const USUAL_ASCII_TRIANGLE_BYTES = 200;
/** A corner takes no less: "vertex 0 0 0" and a blank. */
const LEAST_CORNER_BYTES = 13;
const STAGE = "reading the scan";

/** What a reader hands back: the mesh in the file's own numbers, not yet recentred. */
export interface RawScan {
	readonly mesh: TriangleMesh;
	readonly notes: Issue[];
}

export type StlKind = { kind: "binary"; triangles: number; notes: Issue[] } | { kind: "ascii" };

/**
 * Tells binary from ASCII by the bytes: a declared count that fits the size makes it binary; else a start without control
 * bytes, or with the words of a facet, makes it ASCII. The first word decides nothing: many binary headers say "solid".
 * Throws Refusal when a binary file is shorter than its header claims, or when it is text without facets.
 */
export function stlKind(source: ScanSource, name: string): StlKind {
	const head = source.read(0, HEAD_BYTES);
	const size = source.size;
	const count = size >= HEADER_BYTES ? new DataView(head.buffer, head.byteOffset, head.length).getUint32(80, true) : 0;
	if (size >= HEADER_BYTES && size === HEADER_BYTES + count * TRIANGLE_BYTES)
		return { kind: "binary", triangles: count, notes: [] };
	const words = textOf(head, 0, head.length).toLowerCase();
	const facetWords = /\bfacet\s/.test(words) && /\bvertex\s/.test(words);
	if (facetWords || (isText(head) && /^[^a-z]*(solid|facet)\b/.test(words))) return { kind: "ascii" };
	if (isText(head) || size < HEADER_BYTES) throw new Refusal("stl.notStl", { name, bytes: size });
	const there = Math.floor((size - HEADER_BYTES) / TRIANGLE_BYTES);
	// A program that streams its output may leave the count at nought: the size then says how many there are.
	if (count === 0 && there > 0 && size === HEADER_BYTES + there * TRIANGLE_BYTES)
		return { kind: "binary", triangles: there, notes: [{ code: "stl.countMissing", facts: { triangles: there } }] };
	if (count > there)
		throw new Refusal("stl.truncated", {
			name,
			found: size,
			expected: HEADER_BYTES + count * TRIANGLE_BYTES,
			triangles: count,
			whole: there,
		});
	const trailing = size - HEADER_BYTES - count * TRIANGLE_BYTES;
	return { kind: "binary", triangles: count, notes: [{ code: "scan.trailingBytes", facts: { bytes: trailing } }] };
}

function isText(head: Uint8Array): boolean {
	for (let i = 0; i < head.length; i++) {
		const c = head[i];
		if (c < 9 || (c > 13 && c < 32 && c !== 26)) return false;
	}
	return true;
}

/** Binary STL of `triangles` triangles. Throws Refusal at the first coordinate that is not a finite number. */
export function* readBinaryStl(source: ScanSource, name: string, triangles: number, notes: Issue[]): Job<RawScan> {
	if (triangles === 0) throw new Refusal("scan.noTriangles", { name });
	const indices = new Uint32Array(3 * triangles);
	// A closed surface has half as many vertices as triangles.
	const welder = new Welder(triangles / 2 + 1024);
	const points = new Float64Array(3 * BATCH_CORNERS);
	const perChunk = Math.floor(CHUNK_BYTES / TRIANGLE_BYTES);
	const perBatch = BATCH_CORNERS / 3;
	let coloured = 0;
	for (let done = 0; done < triangles; ) {
		const n = Math.min(perChunk, triangles - done);
		const at = HEADER_BYTES + done * TRIANGLE_BYTES;
		const bytes = source.read(at, n * TRIANGLE_BYTES);
		if (bytes.length < n * TRIANGLE_BYTES) throw new Refusal("scan.changed", { name, at: at + bytes.length });
		const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
		yield* welder.makeRoom(3 * n, done / triangles);
		for (let first = 0; first < n; first += perBatch) {
			const batch = Math.min(perBatch, n - first);
			coloured += decodeTriangles(view, first, batch, points);
			const bad = firstNotFinite(points, 9 * batch);
			if (bad >= 0) {
				const triangle = done + first + Math.floor(bad / 9);
				const place = HEADER_BYTES + triangle * TRIANGLE_BYTES + CORNERS_AT + 4 * (bad % 9);
				throw new Refusal("stl.notFinite", { name, triangle: triangle + 1, at: place, found: String(points[bad]) });
			}
			welder.weld(points, 3 * batch, indices, 3 * (done + first));
		}
		done += n;
		yield { stage: STAGE, share: done / triangles };
	}
	if (coloured > 0) notes.push({ code: "stl.coloursIgnored", facts: { triangles: coloured } });
	return { mesh: { positions: welder.finish(), triangles: indices }, notes };
}

/** Writes the corners of `n` records from record `first` on to `points`; how many records have their last two bytes set. */
function decodeTriangles(view: DataView, first: number, n: number, points: Float64Array): number {
	let coloured = 0;
	let at = first * TRIANGLE_BYTES;
	for (let t = 0, p = 0; t < n; t++, at += TRIANGLE_BYTES) {
		for (let c = at + CORNERS_AT; c < at + COLOUR_AT; c += 4) points[p++] = view.getFloat32(c, true);
		if (view.getUint16(at + COLOUR_AT, true) !== 0) coloured++;
	}
	return coloured;
}

/** Index of the first value that is NaN or infinite, −1 when there is none. */
export function firstNotFinite(values: Float64Array, n: number): number {
	let sum = 0;
	// x − x is 0 for a finite x and NaN for any other: one test for all of them.
	for (let i = 0; i < n; i++) sum += values[i] - values[i];
	if (sum === 0) return -1;
	for (let i = 0; i < n; i++) if (values[i] - values[i] !== 0) return i;
	return -1;
}

/**
 * ASCII STL: any number of solids, words in any case, any decimal number format, one line or many; lines that end a loop,
 * a facet or a solid may be missing throughout. Throws Refusal with the line for a facet that has not three corners, for a
 * coordinate that is no finite number, and for a file that stops within a facet.
 */
export function* readAsciiStl(source: ScanSource, name: string): Job<RawScan> {
	const scanner = new AsciiScanner(source.size);
	for (let at = 0; at < source.size; ) {
		const bytes = source.read(at, Math.min(CHUNK_BYTES, source.size - at));
		const last = at + bytes.length >= source.size || bytes.length === 0;
		const end = last ? bytes.length : afterLastSpace(bytes);
		if (end === 0 && !last) throw new Refusal("stl.notStl", { name, bytes: source.size });
		yield* scanner.makeRoom(end, at / source.size);
		const trouble = scanner.scan(bytes, end, at);
		if (trouble) throw withLine(trouble, source, name);
		if (bytes.length === 0) break;
		at += end;
		yield { stage: STAGE, share: at / source.size };
	}
	const trouble = scanner.close(source.size);
	if (trouble) throw withLine(trouble, source, name);
	if (scanner.triangles === 0) throw new Refusal("scan.noTriangles", { name });
	return scanner.finish();
}

function afterLastSpace(bytes: Uint8Array): number {
	let end = bytes.length;
	while (end > 0 && bytes[end - 1] > 32) end--;
	return end;
}

interface Trouble {
	readonly code: string;
	/** Byte offset in the file. */
	readonly at: number;
	readonly facts: Issue["facts"];
}

const withLine = (trouble: Trouble, source: ScanSource, name: string): Refusal =>
	new Refusal(trouble.code, { name, line: lineOf(source, trouble.at), at: trouble.at, ...trouble.facts });

/** Words of the format, lower case. */
const VERTEX = [118, 101, 114, 116, 101, 120];
const FACET = [102, 97, 99, 101, 116];
const END_FACET = [101, 110, 100, 102, 97, 99, 101, 116];
const SOLID = [115, 111, 108, 105, 100];
const END_SOLID = [101, 110, 100, 115, 111, 108, 105, 100];

/** Whether the word from `from` to `to` is `word` in any case. */
function isWord(bytes: Uint8Array, from: number, to: number, word: readonly number[]): boolean {
	if (to - from !== word.length) return false;
	for (let i = 0; i < word.length; i++) if ((bytes[from + i] | 32) !== word[i]) return false;
	return true;
}

/** Takes the text word by word, in chunks that end between two words, and keeps its place in the grammar between chunks. */
class AsciiScanner {
	triangles = 0;
	#indices: Uint32Array;
	readonly #welder: Welder;
	readonly #numbers = new NumberReader();
	readonly #points = new Float64Array(3 * BATCH_CORNERS);
	/** Values of `#points` that are filled; a multiple of 9 between facets. */
	#filled = 0;
	/** Numbers still to come for the corner being read. */
	#wanted = 0;
	/** Corners met in the facet being read, and where it began. */
	#corners = 0;
	#facetAt = 0;
	#inFacet = false;
	#facetsEnded = 0;
	/** Within the name after solid or endsolid, which ends with its line or at a facet. */
	#inName = false;
	#solids = 0;
	#openSolids = 0;
	/** Whether the text stops right behind a coordinate, so that digits of it may be missing. */
	#endsInNumber = false;

	constructor(size: number) {
		const triangles = Math.ceil(size / USUAL_ASCII_TRIANGLE_BYTES);
		this.#indices = new Uint32Array(3 * triangles + 9);
		this.#welder = new Welder(triangles / 2 + 1024);
	}

	/** To be called before the next `bytes` bytes are scanned. */
	makeRoom(bytes: number, share: number): Job<void> {
		return this.#welder.makeRoom(this.#filled / 3 + Math.ceil(bytes / LEAST_CORNER_BYTES) + 3, share);
	}

	/** Reads bytes[0, end), which stand at `base` in the file. */
	scan(bytes: Uint8Array, end: number, base: number): Trouble | null {
		const numbers = this.#numbers;
		const points = this.#points;
		for (let i = 0; i < end; ) {
			const c = bytes[i];
			if (c <= 32) {
				if (this.#inName && (c === 10 || c === 13)) this.#inName = false;
				i++;
				continue;
			}
			if (this.#wanted > 0) {
				const value = numbers.read(bytes, i, end);
				if (value - value !== 0)
					return { code: "stl.badNumber", at: base + i, facts: { found: clip(textOf(bytes, i, numbers.end)) } };
				points[this.#filled++] = value;
				i = numbers.end;
				if (--this.#wanted === 0 && this.#corners === 3) this.#endTriangle();
				this.#endsInNumber = i === end;
				continue;
			}
			let to = i + 1;
			while (to < end && bytes[to] > 32) to++;
			const trouble = this.#word(bytes, i, to, base + i);
			if (trouble) return trouble;
			this.#endsInNumber = false;
			i = to;
		}
		return null;
	}

	#word(bytes: Uint8Array, from: number, to: number, at: number): Trouble | null {
		const initial = bytes[from] | 32;
		if (initial === 118 && !this.#inName && isWord(bytes, from, to, VERTEX)) {
			if (this.#corners === 3 && this.#inFacet) return this.#wrongCorners(4);
			if (this.#corners === 3) this.#corners = 0;
			if (this.#corners === 0 && !this.#inFacet) this.#facetAt = at;
			this.#corners++;
			this.#wanted = 3;
		} else if (initial === 102 && isWord(bytes, from, to, FACET)) {
			if (this.#corners % 3 !== 0 || (this.#inFacet && this.#corners === 0)) return this.#wrongCorners(this.#corners);
			// A facet on the line of the solid's name: either the whole file is one line, or the name has this word.
			this.#inFacet = !this.#inName;
			this.#inName = false;
			this.#facetAt = at;
			this.#corners = 0;
		} else if (initial === 101 && !this.#inName && isWord(bytes, from, to, END_FACET)) {
			if (this.#corners !== 3) return this.#wrongCorners(this.#corners);
			this.#inFacet = false;
			this.#corners = 0;
			this.#facetsEnded++;
		} else if (initial === 101 && !this.#inName && isWord(bytes, from, to, END_SOLID)) {
			if (this.#corners % 3 !== 0) return this.#wrongCorners(this.#corners);
			this.#inFacet = false;
			this.#inName = true;
			this.#openSolids--;
		} else if (initial === 115 && !this.#inName && isWord(bytes, from, to, SOLID)) {
			if (this.#corners % 3 !== 0) return this.#wrongCorners(this.#corners);
			this.#inFacet = false;
			this.#inName = true;
			this.#solids++;
			this.#openSolids++;
		}
		// Every other word (normal and its numbers, outer, loop, endloop, colours of some writers) says nothing needed here.
		return null;
	}

	#wrongCorners(found: number): Trouble {
		return { code: "stl.facetCorners", at: this.#facetAt, facts: { found, triangle: this.triangles + 1 } };
	}

	#endTriangle(): void {
		this.triangles++;
		if (this.#filled === this.#points.length) this.#flush();
	}

	#flush(): void {
		const corners = this.#filled / 3;
		const before = 3 * this.triangles - corners;
		if (before + corners > this.#indices.length) {
			const grown = new Uint32Array(Math.ceil(1.5 * (before + corners)));
			grown.set(this.#indices.subarray(0, before));
			this.#indices = grown;
		}
		this.#welder.weld(this.#points, corners, this.#indices, before);
		this.#filled = 0;
	}

	/** To be called at the end of the file, which is `size` bytes long. */
	close(size: number): Trouble | null {
		if (this.#wanted > 0 || this.#corners % 3 !== 0 || (this.#inFacet && this.#corners === 0))
			return { code: "stl.cutOff", at: size, facts: { triangle: this.triangles + 1 } };
		// A file that ends its other facets but not this one, right behind a digit, has lost its end and maybe more digits.
		if (this.#endsInNumber && this.#facetsEnded > 0)
			return { code: "stl.cutOff", at: size, facts: { triangle: this.triangles } };
		return null;
	}

	finish(): RawScan {
		this.#flush();
		const notes: Issue[] = [];
		if (this.#solids > 1) notes.push({ code: "stl.solids", facts: { solids: this.#solids } });
		if (this.#openSolids > 0) notes.push({ code: "stl.endMissing", facts: {} });
		if (this.#numbers.commas > 0) notes.push({ code: "scan.decimalCommas", facts: { numbers: this.#numbers.commas } });
		const triangles = this.#indices.slice(0, 3 * this.triangles);
		return { mesh: { positions: this.#welder.finish(), triangles }, notes };
	}
}

/** A found word short enough for a sentence, without bytes that a terminal would act on. */
export function clip(word: string): string {
	const plain = word.replace(/[^\x20-\x7e]/g, "?");
	return plain.length > 24 ? `${plain.slice(0, 24)}…` : plain;
}
