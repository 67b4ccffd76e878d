/** The form in which one ASCII STL file writes its facets, so that thousands of like ones need not be read word by word. */

import type { CornerTexts } from "./cornerTexts.ts";
import { textOf } from "./numbers.ts";

/** Bytes after a corner in which a form is looked for. */
const REACH = 4096;
const BLANK = "[\\x00-\\x20]+";
const WORD = "[^\\x00-\\x20]+";
/** From behind the third corner of a facet to the last coordinate of the next one's second corner. */
const USUAL = new RegExp(
	`^(${BLANK}endloop${BLANK}endfacet${BLANK}facet${BLANK}normal${BLANK})${WORD}${BLANK}${WORD}${BLANK}${WORD}` +
		`(${BLANK}outer${BLANK}loop${BLANK}vertex${BLANK})${WORD}${BLANK}${WORD}${BLANK}${WORD}(${BLANK}vertex${BLANK})${WORD}`,
	"i",
);

/** A text to be compared four bytes at a time: little-endian words, and the up to three bytes that are left. */
interface Piece {
	readonly length: number;
	readonly words: Int32Array;
	readonly rest: Uint8Array;
}

function pieceOf(text: string): Piece {
	const bytes = Uint8Array.from(text, (c) => c.charCodeAt(0));
	const view = new DataView(bytes.buffer);
	const words = Int32Array.from({ length: bytes.length >> 2 }, (_, i) => view.getInt32(4 * i, true));
	return { length: bytes.length, words, rest: bytes.slice(4 * words.length) };
}

/** The text between the numbers of a facet, byte for byte. */
export class FacetForm {
	/** From behind the facet before to the first number of the normal. */
	readonly #head: Piece;
	/** From behind the normal to the first coordinate. */
	readonly #middle: Piece;
	/** Between two corners. */
	readonly #between: Piece;
	/** Where the word facet stands in the head. */
	readonly facetAt: number;

	/** The byte that ends every corner's line at once (10 or 13), 0 when there is none. */
	readonly #lineEnd: number;

	private constructor(head: string, middle: string, between: string) {
		this.#head = pieceOf(head);
		this.#middle = pieceOf(middle);
		this.#between = pieceOf(between);
		const first = head.charCodeAt(0);
		this.#lineEnd = first === between.charCodeAt(0) && (first === 10 || first === 13) ? first : 0;
		this.facetAt = head.toLowerCase().lastIndexOf("facet");
	}

	/** The form of the facet that begins behind the third corner ending at `from`; null where it has not the usual words. */
	static behindCorner(bytes: Uint8Array, from: number, end: number): FacetForm | null {
		const found = USUAL.exec(textOf(bytes, from, Math.min(end, from + REACH)));
		return found ? new FacetForm(found[1], found[2], found[3]) : null;
	}

	/**
	 * Reads one facet of this form from `from` on (`view` is over the same bytes) and writes the numbers of its vertices to
	 * `out` from `to` on. Returns the place behind its third corner; −1, when it is written in any other way, has a coordinate
	 * that is no number, or is not whole before `end`: whoever asked must then read it word by word.
	 */
	facet(
		bytes: Uint8Array,
		view: DataView,
		from: number,
		end: number,
		texts: CornerTexts,
		out: Uint32Array,
		to: number,
	): number {
		let at = match(view, from, end, this.#head);
		if (at < 0) return -1;
		// The normal's three words may be anything that does not begin like a word of the format.
		for (let k = 0; k < 3; k++) {
			while (at < end && bytes[at] <= 32) at++;
			if (at < end && isLetter(bytes[at])) return -1;
			while (at < end && bytes[at] > 32) at++;
		}
		for (let k = 0; k < 3; k++) {
			at = match(view, at, end, k === 0 ? this.#middle : this.#between);
			if (at < 0) return -1;
			const v = texts.read(bytes, view, at, end, this.#lineEnd);
			if (v < 0) return -1;
			out[to + k] = v;
			at = texts.end;
		}
		return at;
	}
}

/** The place behind the piece if it stands at `at`, whole before `end` and with a byte behind it; −1 if not. */
function match(view: DataView, at: number, end: number, piece: Piece): number {
	if (at < 0 || at + piece.length >= end) return -1;
	const { words, rest } = piece;
	for (let i = 0; i < words.length; i++, at += 4) if (view.getInt32(at, true) !== words[i]) return -1;
	for (let i = 0; i < rest.length; i++, at++) if (view.getUint8(at) !== rest[i]) return -1;
	return at;
}

const isLetter = (c: number): boolean => (c | 32) >= 97 && (c | 32) <= 122;
