/** The entries of one PLY element, one after another, from text or binary, without holding more than a chunk of the file. */

import type { Job } from "../job.ts";
import { Refusal } from "../refusal.ts";
import { clip, type NumberReader, textOf } from "./numbers.ts";
import { type PlyElement, type PlyHeader, SCALARS, scalarSize } from "./plyHeader.ts";
import { CHUNK_BYTES, lineOf, type ScanSource } from "./source.ts";

/** What is read of one entry; the arrays are used again for the next one. */
export interface Entry {
	/** One number a property, in the header's order; for a list its length. */
	readonly values: Float64Array;
	/** Items of the one list that was asked for; the first `values[list property]` of them count. */
	items: Float64Array;
	/** Byte offset of the entry in the file. */
	at: number;
}

/** Reads one entry: bytes of the chunk, where the entry starts, where the chunk ends and whether the file ends there. */
interface EntryReader {
	/** Index behind the entry; −1 when the chunk ends within it, and `needed` then says how many bytes from its start to read. */
	read(bytes: Uint8Array, view: DataView, at: number, limit: number, base: number, last: boolean): number;
	needed: number;
}

/**
 * Reads all entries of `element` from the byte `start` on and calls `take` after each; returns the offset behind the last.
 * `list` is the index of the list property whose items are wanted, −1 for none. Values may be NaN: who needs them checks.
 * Throws Refusal where the file ends too soon, where a length is no count, and where a line has too few or too many values.
 */
export function* eachEntry(
	file: { source: ScanSource; name: string; header: PlyHeader; numbers: NumberReader },
	element: PlyElement,
	start: number,
	list: number,
	take: (entry: Entry, index: number) => void,
): Job<number> {
	const { source, name, header } = file;
	const entry: Entry = { values: new Float64Array(element.properties.length), items: new Float64Array(64), at: 0 };
	const reader: EntryReader =
		header.format === "ascii"
			? new TextEntries(file, element, list, entry)
			: new BinaryEntries(file, element, list, entry, header.format === "binary_little_endian");
	let at = start;
	let length = CHUNK_BYTES;
	for (let done = 0; done < element.count; ) {
		const bytes = source.read(at, Math.min(length, source.size - at));
		const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
		const last = at + bytes.length >= source.size || bytes.length === 0;
		let from = 0;
		while (done < element.count) {
			entry.at = at + from;
			const to = reader.read(bytes, view, from, bytes.length, at, last);
			if (to < 0) break;
			take(entry, done++);
			from = to;
		}
		if (from === 0 && done < element.count) {
			if (last || at + reader.needed > source.size)
				throw new Refusal("ply.cutOff", {
					name,
					at: source.size,
					element: clip(element.name),
					found: done,
					expected: element.count,
				});
			length = Math.max(reader.needed, length);
		} else length = CHUNK_BYTES;
		at += from;
		yield { stage: "reading the scan", share: at / source.size };
	}
	return at;
}

type Owner = { source: ScanSource; name: string; numbers: NumberReader };

/** One value; `code` is the place of its type in SCALARS, so that the switch compares small integers. */
function scalar(view: DataView, at: number, code: number, little: boolean): number {
	switch (code) {
		case 0:
			return view.getInt8(at);
		case 1:
			return view.getUint8(at);
		case 2:
			return view.getInt16(at, little);
		case 3:
			return view.getUint16(at, little);
		case 4:
			return view.getInt32(at, little);
		case 5:
			return view.getUint32(at, little);
		case 6:
			return view.getFloat32(at, little);
		default:
			return view.getFloat64(at, little);
	}
}

class BinaryEntries implements EntryReader {
	needed = 0;
	readonly #owner: Owner;
	readonly #element: PlyElement;
	readonly #list: number;
	readonly #entry: Entry;
	readonly #little: boolean;
	/** Of each property: code and size of its values, code and size of a list's length (−1 and 0 for a single value). */
	readonly #plan: Int32Array;

	constructor(owner: Owner, element: PlyElement, list: number, entry: Entry, little: boolean) {
		this.#owner = owner;
		this.#element = element;
		this.#list = list;
		this.#entry = entry;
		this.#little = little;
		this.#plan = new Int32Array(4 * element.properties.length);
		element.properties.forEach((p, k) => {
			const count = p.countType;
			this.#plan.set([SCALARS.indexOf(p.type), scalarSize(p.type)], 4 * k);
			this.#plan.set(count ? [SCALARS.indexOf(count), scalarSize(count)] : [-1, 0], 4 * k + 2);
		});
	}

	read(_bytes: Uint8Array, view: DataView, start: number, limit: number, base: number): number {
		const plan = this.#plan;
		const little = this.#little;
		const values = this.#entry.values;
		let at = start;
		for (let k = 0, q = 0; k < values.length; k++, q += 4) {
			const size = plan[q + 1];
			if (plan[q + 2] < 0) {
				if (at + size > limit) return this.#short(at + size - start);
				values[k] = scalar(view, at, plan[q], little);
				at += size;
				continue;
			}
			const lead = plan[q + 3];
			if (at + lead > limit) return this.#short(at + lead - start);
			const n = scalar(view, at, plan[q + 2], little);
			if (!(n >= 0) || n !== Math.floor(n)) throw this.#badLength(n, base + at);
			at += lead;
			// A length past the end of the file is refused by the caller, before any memory is taken for the list.
			if (at + n * size > limit) return this.#short(at + n * size - start);
			values[k] = n;
			if (k === this.#list) {
				if (n > this.#entry.items.length) this.#entry.items = new Float64Array(2 * n);
				const items = this.#entry.items;
				const code = plan[q];
				for (let i = 0; i < n; i++) items[i] = scalar(view, at + i * size, code, little);
			}
			at += n * size;
		}
		return at;
	}

	#short(needed: number): number {
		this.needed = needed;
		return -1;
	}

	#badLength(found: number, at: number): Refusal {
		return new Refusal("ply.badLength", {
			name: this.#owner.name,
			at,
			element: clip(this.#element.name),
			found: String(found),
		});
	}
}

class TextEntries implements EntryReader {
	needed = 0;
	readonly #owner: Owner;
	readonly #element: PlyElement;
	readonly #list: number;
	readonly #entry: Entry;
	/** State of the line being read. */
	#at = 0;

	constructor(owner: Owner, element: PlyElement, list: number, entry: Entry) {
		this.#owner = owner;
		this.#element = element;
		this.#list = list;
		this.#entry = entry;
	}

	/** One line is one entry; empty lines are passed over. */
	read(bytes: Uint8Array, _view: DataView, start: number, limit: number, base: number, last: boolean): number {
		const values = this.#entry.values;
		this.#at = start;
		while (this.#at < limit && bytes[this.#at] <= 32) this.#at++;
		if (this.#at === limit) return this.#short(limit - start, base + start);
		this.#entry.at = base + this.#at;
		const lineStart = this.#at;
		for (let k = 0; k < values.length; k++) {
			const at = this.#at;
			const value = this.#next(bytes, limit, last);
			if (value === null) return this.#stopped(bytes, limit, start, base, lineStart, k);
			values[k] = value;
			const property = this.#element.properties[k];
			if (property.countType === null) continue;
			if (!(value >= 0) || value !== Math.floor(value) || value > this.#owner.source.size)
				throw this.#refuse("ply.badLength", base + at, { found: clip(textOf(bytes, at, this.#at).trim()) });
			for (let i = 0; i < value; i++) {
				const item = this.#next(bytes, limit, last);
				if (item === null) return this.#stopped(bytes, limit, start, base, lineStart, k);
				if (k !== this.#list) continue;
				if (i === this.#entry.items.length) {
					const grown = new Float64Array(2 * i);
					grown.set(this.#entry.items);
					this.#entry.items = grown;
				}
				this.#entry.items[i] = item;
			}
		}
		this.#skipBlanks(bytes, limit);
		if (this.#at === limit) return last ? limit : this.#short(limit - start, base + start);
		if (bytes[this.#at] === 10 || bytes[this.#at] === 13) return this.#at + 1;
		let to = this.#at;
		while (to < limit && bytes[to] > 32) to++;
		throw this.#refuse("ply.longLine", base + this.#at, { found: clip(textOf(bytes, this.#at, to)) });
	}

	/** The next number of the line; null at its end, or when the chunk ends before the number surely does. */
	#next(bytes: Uint8Array, limit: number, last: boolean): number | null {
		this.#skipBlanks(bytes, limit);
		const at = this.#at;
		if (at === limit || bytes[at] === 10 || bytes[at] === 13) return null;
		const value = this.#owner.numbers.read(bytes, at, limit);
		this.#at = this.#owner.numbers.end;
		return this.#at === limit && !last ? null : value;
	}

	#skipBlanks(bytes: Uint8Array, limit: number): void {
		let at = this.#at;
		while (at < limit && bytes[at] <= 32 && bytes[at] !== 10 && bytes[at] !== 13) at++;
		this.#at = at;
	}

	/** Why a line gave no further number: more bytes are wanted (or the file ends here), or the line is too short. */
	#stopped(bytes: Uint8Array, limit: number, start: number, base: number, line: number, property: number): number {
		const c = this.#at < limit ? bytes[this.#at] : 0;
		if (c !== 10 && c !== 13) return this.#short(limit - start, base + start);
		throw this.#refuse("ply.shortLine", base + line, { expected: clip(this.#element.properties[property].name) });
	}

	/** Twice as much and a chunk more is wanted from the byte `from` on, as far as the file goes. */
	#short(length: number, from: number): number {
		this.needed = Math.min(2 * length + CHUNK_BYTES, this.#owner.source.size - from);
		return -1;
	}

	#refuse(code: string, at: number, facts: Record<string, string | number>): Refusal {
		const { source, name } = this.#owner;
		return new Refusal(code, { name, line: lineOf(source, at), at, element: clip(this.#element.name), ...facts });
	}
}
