/** Every variant of STL and PLY that the reader must take, made from one figure. */

import {
	type AsciiStlDress,
	asciiStl,
	type BinaryStlDress,
	binaryStl,
	type PlyDress,
	ply,
	type SquareFigure,
} from "./scanWriters.ts";

export interface Variant {
	readonly name: string;
	readonly bytes: Uint8Array;
	/** Whether three-stdlib's loaders can read it and cut squares the same way. */
	readonly threeReads: boolean;
	readonly colour?: readonly [number, number, number];
	/** Codes of the notes that must be given, all of them. */
	readonly notes: readonly string[];
}

export function variants(figure: SquareFigure): Variant[] {
	return [...binaryStls(figure), ...asciiStls(figure), ...plys(figure)];
}

function binaryStls(figure: SquareFigure): Variant[] {
	const list: [string, BinaryStlDress, boolean, string[]][] = [
		["plain", {}, true, []],
		["header says solid", { header: "solid figure made by a scanner" }, true, []],
		["header of facets", { header: "solid a\nfacet normal 0 0 1\nouter loop\nvertex 1 2 3" }, true, []],
		["colour bits", { colour: 0x8123 }, true, ["stl.coloursIgnored"]],
		["normals not numbers", { normal: Number.NaN }, true, []],
		["normals infinite", { normal: Number.NEGATIVE_INFINITY }, true, []],
		["trailing bytes", { trailing: 17 }, true, ["scan.trailingBytes"]],
		["trailing record", { trailing: 50 }, true, ["scan.trailingBytes"]],
		["solid and trailing bytes", { header: "solid", trailing: 3 }, false, ["scan.trailingBytes"]],
		["count left at nought", { count: 0 }, false, ["stl.countMissing"]],
	];
	return list.map(([name, dress, threeReads, notes]) => ({
		name: `STL binary, ${name}`,
		bytes: binaryStl(figure, dress),
		threeReads,
		notes,
	}));
}

const mixed = (w: string): string => [...w].map((c, i) => (i % 2 ? c.toUpperCase() : c)).join("");

function asciiStls(figure: SquareFigure): Variant[] {
	const list: [string, AsciiStlDress, boolean, string[]?][] = [
		["plain", {}, true],
		["CRLF", { newline: "\r\n" }, true],
		["CR", { newline: "\r" }, true],
		["capitals", { word: (w) => w.toUpperCase() }, false],
		["mixed case", { word: mixed }, false],
		["tabs", { blank: "\t" }, true],
		["wide blanks", { blank: "   " }, true],
		["blank lines", { newline: "\n\n \n" }, true],
		["exponents", { number: (x) => x.toExponential(6) }, true],
		["capital exponents", { number: (x) => x.toExponential(3).toUpperCase().replace("+", "+0") }, true],
		["plus signs", { number: (x) => `+${x}.00` }, true],
		["bare points", { number: (x) => `${x}.` }, true],
		["leading nought", { number: (x) => `00${x}` }, true],
		["shares", { number: (x) => `.${String(x).padStart(3, "0")}e3` }, true],
		["many digits", { number: (x) => `${x}.0000000000000000000000` }, true],
		["long nines", { number: (x) => (x === 0 ? "0" : `${x - 1}.99999999999999999999999`) }, true],
		["minus nought", { number: (x) => (x === 0 ? "-0.0" : String(x)) }, true],
		["Fortran exponents", { number: (x) => `${x / 10}D+01` }, false, ["scan.decimalCommas"]],
		["decimal commas", { number: (x) => `${x},000` }, false, ["scan.decimalCommas"]],
		["seven solids", { solids: 7 }, true, ["stl.solids"]],
		["no endloop", { without: ["endloop"] }, true],
		["no outer loop", { without: ["outer"] }, true],
		["no endfacet", { without: ["endfacet"] }, false],
		["no end lines at all", { without: ["endloop", "endfacet", "endsolid"] }, false, ["stl.endMissing"]],
		["no endsolid", { without: ["endsolid"] }, false, ["stl.endMissing"]],
		["no solid", { without: ["solid", "endsolid"] }, false],
		["no last line end", { bare: true }, true],
		["nameless", { name: "" }, true],
		["name of format words", { name: "a vertex endfacet of 1 facet loop" }, false],
		["name beyond ASCII", { name: "\xc3\xbcml\xe4ut" }, true],
		["byte order mark", { before: "\xef\xbb\xbf" }, true],
		["lines of colour", { extra: "color 0.1 0.2 0.3" }, true],
		["normals not numbers", { normal: "nan -nan(ind) 1.#QNAN" }, true],
		["all on one line", { newline: " " }, true],
	];
	return list.map(([name, dress, threeReads, notes]) => ({
		name: `STL ASCII, ${name}`,
		bytes: asciiStl(figure, dress),
		threeReads,
		notes: notes ?? [],
	}));
}

/** Name, dress, whether three-stdlib reads it, notes, the colour expected. */
type PlyLine = [string, PlyDress, boolean, string[]?, [number, number, number]?];

function plys(figure: SquareFigure): Variant[] {
	const all: Variant[] = [];
	const add = (format: PlyDress["format"], [name, dress, threeReads, notes, colour]: PlyLine): void => {
		all.push({
			name: `PLY ${format}, ${name}`,
			bytes: ply(figure, { ...dress, format }),
			threeReads,
			notes: notes ?? [],
			...(colour ? { colour } : {}),
		});
	};
	const short = ["x", "y", "z", "red", "green", "blue"];
	for (const format of ["ascii", "binary_little_endian", "binary_big_endian"] as const) {
		const lines: PlyLine[] = [
			["plain", {}, true],
			["CRLF header", { newline: "\r\n" }, true],
			["CR header", { newline: "\r" }, false],
			["comments", { comments: true }, true],
			["order of properties", { vertex: ["quality", "z", "nx", "y", "ny", "x", "nz"] }, true],
			["strangers", { strangers: true }, true],
			["face extras", { faceExtras: true }, true],
			["faces first", { facesFirst: true }, true],
			["faces first among strangers", { facesFirst: true, strangers: true, comments: true }, true],
			["vertex_index", { listName: "vertex_index" }, true],
			["squares", { surface: "squares" }, false, ["ply.polygons"]],
			["one strip", { surface: "strip", countType: "uint" }, false],
			["stitched strips", { surface: "strips" }, false],
			["loose vertices", { loose: 3 }, true, ["ply.looseVertices"]],
			["short faces", { shortFaces: 2 }, true, ["ply.shortFaces"]],
			["colours", { vertex: short, colour: { type: "uchar", value: 200 } }, true, [], [200, 200, 200]],
			["colours first", { vertex: [...short].reverse(), colour: { type: "uint8", value: 7 } }, true, [], [7, 7, 7]],
			["colours as shares", { vertex: short, colour: { type: "float", value: 0.2 } }, true, [], [51, 51, 51]],
			["colours in 16 bits", { vertex: short, colour: { type: "ushort", value: 51400 } }, true, [], [200, 200, 200]],
			["trailing", { trailing: "  more\n" }, format !== "ascii", ["scan.trailingBytes"]],
		];
		for (const line of lines) add(format, line);
		for (const coordinate of ["char", "uchar", "short", "ushort", "int", "uint", "double"])
			add(format, [`${coordinate} coordinates`, { coordinate }, true]);
		for (const coordinate of ["int8", "uint8", "int16", "uint16", "int32", "uint32", "float32", "float64"])
			add(format, [`${coordinate} coordinates`, { coordinate }, true]);
		for (const countType of ["char", "short", "ushort", "int", "uint", "int8", "uint16", "int32", "uint32"])
			add(format, [`lists counted in ${countType}`, { countType }, true]);
		for (const indexType of ["short", "ushort", "uint", "int16", "uint16", "uint32"])
			add(format, [`indices in ${indexType}`, { indexType }, true]);
		add(format, ["counts and indices as floats", { countType: "float", indexType: "float" }, true]);
	}
	add("ascii", ["exponents", { number: (x) => x.toExponential(4) }, false]);
	return all;
}
