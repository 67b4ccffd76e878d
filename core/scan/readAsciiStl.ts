/** ASCII STL, read word by word from chunks. */

import type { Job } from "../job.ts";
import { type Issue, Refusal } from "../refusal.ts";
import { CornerTexts } from "./cornerTexts.ts";
import { FacetForm } from "./facetForm.ts";
import { clip, NumberReader, textOf } from "./numbers.ts";
import type { RawScan } from "./readStl.ts";
import { CHUNK_BYTES, lineOf, type ScanSource } from "./source.ts";
import { Welder } from "./weld.ts";

/** An ASCII triangle as most programs write it; only where the memory starts, not a limit. */
const USUAL_TRIANGLE_BYTES = 200;
/** A corner takes no less: "vertex 0 0 0" and a blank. */
const LEAST_CORNER_BYTES = 13;
const STAGE = "reading the scan";

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
	return yield* scanner.finish();
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
	readonly #point = new Float64Array(3);
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
	/** How this file writes what stands between its coordinates; found at the first facet, null where it has no usual form. */
	#form: FacetForm | null = null;
	#formSought = false;
	readonly #texts: CornerTexts;

	constructor(size: number) {
		const triangles = Math.ceil(size / USUAL_TRIANGLE_BYTES);
		this.#indices = new Uint32Array(3 * triangles + 9);
		this.#welder = new Welder(triangles / 2 + Math.min(size, CHUNK_BYTES) / LEAST_CORNER_BYTES);
		this.#texts = new CornerTexts(this.#numbers, this.#welder);
	}

	/** To be called before the next `bytes` bytes are scanned. */
	makeRoom(bytes: number, share: number): Job<void> {
		return this.#welder.makeRoom(Math.ceil(bytes / LEAST_CORNER_BYTES) + 3, share);
	}

	/** Reads bytes[0, end), which stand at `base` in the file. */
	scan(bytes: Uint8Array, end: number, base: number): Trouble | null {
		const numbers = this.#numbers;
		const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
		for (let i = 0; i < end; ) {
			const c = bytes[i];
			if (c <= 32) {
				if (c !== 32 && this.#inName && (c === 10 || c === 13)) this.#inName = false;
				i++;
				continue;
			}
			if (this.#wanted > 0) {
				const value = numbers.read(bytes, i, end);
				if (value - value !== 0)
					return { code: "stl.badNumber", at: base + i, facts: { found: clip(textOf(bytes, i, numbers.end)) } };
				this.#point[3 - this.#wanted] = value;
				i = numbers.end;
				this.#endsInNumber = i === end;
				if (--this.#wanted === 0 && this.#endCorner() && this.#inFacet)
					i = this.#wholeFacets(bytes, view, i, end, base);
				continue;
			}
			let to = i + 1;
			while (to < end && bytes[to] > 32) to++;
			const initial = c | 32;
			// v, f, e, s: every other word (normal and its numbers, outer, loop, colours of some writers) says nothing needed here.
			if (initial === 118 || initial === 102 || initial === 101 || initial === 115) {
				const trouble = this.#word(bytes, i, to, base + i);
				if (trouble) return trouble;
			}
			this.#endsInNumber = false;
			i = to;
		}
		return null;
	}

	/** Takes a corner whose three numbers have been read; whether it was the third of its triangle. */
	#endCorner(): boolean {
		this.#ensureTriangle();
		const [x, y, z] = this.#point;
		this.#indices[3 * this.triangles + this.#corners - 1] = this.#welder.weldOne(x, y, z);
		if (this.#corners < 3) return false;
		this.triangles++;
		return true;
	}

	#ensureTriangle(): void {
		if (3 * this.triangles + 3 <= this.#indices.length) return;
		const grown = new Uint32Array(Math.ceil(1.5 * this.#indices.length));
		grown.set(this.#indices);
		this.#indices = grown;
	}

	/** Takes as many facets as are written in the usual form from `from` on; returns the place behind the last. */
	#wholeFacets(bytes: Uint8Array, view: DataView, from: number, end: number, base: number): number {
		if (!this.#formSought) {
			this.#formSought = true;
			this.#form = FacetForm.behindCorner(bytes, from, end);
		}
		const form = this.#form;
		if (!form) return from;
		for (let at = from; ; ) {
			this.#ensureTriangle();
			const on = form.facet(bytes, view, at, end, this.#texts, this.#indices, 3 * this.triangles);
			if (on < 0) return at;
			this.#facetAt = base + at + form.facetAt;
			this.#facetsEnded++;
			this.triangles++;
			at = on;
		}
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
		return null;
	}

	#wrongCorners(found: number): Trouble {
		return { code: "stl.facetCorners", at: this.#facetAt, facts: { found, triangle: this.triangles + 1 } };
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

	*finish(): Job<RawScan> {
		const notes: Issue[] = [];
		if (this.#solids > 1) notes.push({ code: "stl.solids", facts: { solids: this.#solids } });
		if (this.#openSolids > 0) notes.push({ code: "stl.endMissing", facts: {} });
		if (this.#numbers.commas > 0) notes.push({ code: "scan.decimalCommas", facts: { numbers: this.#numbers.commas } });
		const triangles = this.#indices.slice(0, 3 * this.triangles);
		return { mesh: { positions: yield* this.#welder.finish(), triangles }, notes };
	}
}
