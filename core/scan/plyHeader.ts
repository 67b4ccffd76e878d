/** The header of a PLY file: what elements follow, how many, and what each is made of. */

import { Refusal } from "../refusal.ts";
import { clip, textOf } from "./numbers.ts";
import type { ScanSource } from "./source.ts";

export const SCALARS = ["int8", "uint8", "int16", "uint16", "int32", "uint32", "float32", "float64"] as const;
export type Scalar = (typeof SCALARS)[number];
/** The older names of the same types. */
const OLD_NAMES: Readonly<Record<string, Scalar>> = {
	char: "int8",
	uchar: "uint8",
	short: "int16",
	ushort: "uint16",
	int: "int32",
	uint: "uint32",
	float: "float32",
	double: "float64",
};
const SIZES: Readonly<Record<Scalar, number>> = {
	int8: 1,
	uint8: 1,
	int16: 2,
	uint16: 2,
	int32: 4,
	uint32: 4,
	float32: 4,
	float64: 8,
};
export const scalarSize = (type: Scalar): number => SIZES[type];

export interface PlyProperty {
	readonly name: string;
	readonly type: Scalar;
	/** Type of the length in front of a list; null for a single value. */
	readonly countType: Scalar | null;
}

export interface PlyElement {
	readonly name: string;
	readonly count: number;
	readonly properties: readonly PlyProperty[];
}

export interface PlyHeader {
	readonly format: "ascii" | "binary_little_endian" | "binary_big_endian";
	readonly elements: readonly PlyElement[];
	/** Bytes of the header, its last line end included. */
	readonly bytes: number;
}

/** A header longer than this is not one. */
const LONGEST_HEADER = 1 << 20;

/** Whether the bytes begin a PLY file: the letters and a line end. */
export const isPly = (head: Uint8Array): boolean =>
	head[0] === 112 && head[1] === 108 && head[2] === 121 && (head.length === 3 || head[3] <= 32);

/**
 * Reads the header; LF, CR and CRLF line ends, comments and obj_info anywhere.
 * Throws Refusal with the line for a line that is not of the format, and for counts that the file's bytes cannot hold.
 */
export function readPlyHeader(source: ScanSource, name: string): PlyHeader {
	const { lines, bytes } = headerLines(source, name);
	let format: PlyHeader["format"] | null = null;
	const elements: { name: string; count: number; properties: PlyProperty[]; line: number }[] = [];
	for (let i = 1; i < lines.length; i++) {
		const words = lines[i].trim().split(/\s+/);
		const refuse = (expected: string): never => {
			throw new Refusal("ply.header", { name, line: i + 1, found: clip(lines[i].trim()), expected });
		};
		const element = elements[elements.length - 1];
		if (words[0] === "format") {
			if (words[1] !== "ascii" && words[1] !== "binary_little_endian" && words[1] !== "binary_big_endian")
				return refuse("ascii, binary_little_endian or binary_big_endian");
			format = words[1];
		} else if (words[0] === "element") {
			if (words.length < 3 || !/^\d{1,15}$/.test(words[2])) refuse("element, a name and a count");
			elements.push({ name: words[1], count: Number(words[2]), properties: [], line: i + 1 });
		} else if (words[0] === "property") {
			if (!element) return refuse("an element before its properties");
			const property = propertyOf(words);
			if (!property) return refuse("property, a type and a name, or property list, two types and a name");
			element.properties.push(property);
		} else if (words[0] !== "" && words[0] !== "comment" && words[0] !== "obj_info")
			refuse("format, element, property, comment or obj_info");
	}
	if (!format)
		throw new Refusal("ply.header", { name, line: lines.length, found: "no format line", expected: "format" });
	for (const element of elements) {
		const least = element.count * leastBytes(element, format === "ascii");
		const left = source.size - bytes;
		// The last line of a text needs no line end.
		if (least > left + 1)
			throw new Refusal("ply.claim", {
				name,
				line: element.line,
				element: clip(element.name),
				count: element.count,
				found: left,
				expected: least,
			});
	}
	return { format, elements, bytes };
}

function propertyOf(words: readonly string[]): PlyProperty | null {
	if (words[1] === "list") {
		const countType = scalarNamed(words[2]);
		const type = scalarNamed(words[3]);
		return countType && type && words.length === 5 ? { name: words[4], type, countType } : null;
	}
	const type = scalarNamed(words[1]);
	return type && words.length === 3 ? { name: words[2], type, countType: null } : null;
}

const scalarNamed = (word: string | undefined): Scalar | null =>
	SCALARS.find((type) => type === word) ??
	(word !== undefined && Object.hasOwn(OLD_NAMES, word) ? OLD_NAMES[word] : null);

/** Bytes that one entry of the element takes at least: empty lists; in text one digit and one space or line end a value. */
function leastBytes(element: PlyElement, ascii: boolean): number {
	let bytes = 0;
	for (const p of element.properties) bytes += ascii ? 2 : scalarSize(p.countType ?? p.type);
	return bytes;
}

/** The lines up to end_header, and where the body begins: behind the same kind of line end as the first line has. */
function headerLines(source: ScanSource, name: string): { lines: string[]; bytes: number } {
	for (let length = 4096; ; length *= 4) {
		const head = source.read(0, Math.min(length, source.size));
		const text = textOf(head, 0, head.length);
		const end = /(?:^|[\r\n])[ \t]*end_header[ \t]*(\r\n|\r|\n|$)/.exec(text);
		// The line end may be cut in two by the end of what was read.
		if (end && (end.index + end[0].length < head.length || head.length === source.size)) {
			const returnOnly = /^ply[ \t]*\r(?!\n)/.test(text);
			const shorter = returnOnly && end[1] === "\r\n" ? 1 : 0;
			const lines = text.slice(0, end.index).split(/\r\n|\r|\n/);
			return { lines, bytes: end.index + end[0].length - shorter };
		}
		if (head.length === source.size || length >= LONGEST_HEADER)
			throw new Refusal("ply.headerEnd", { name, found: head.length });
	}
}
