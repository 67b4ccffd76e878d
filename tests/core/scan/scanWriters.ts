/** The tests' own writers: one reference figure in every dress that STL and PLY allow. They share no code with the readers. */

import { seededRandom } from "../../../core/random.ts";
import type { TriangleMesh } from "../../../core/scan/mesh.ts";

/** A surface of squares; corners are whole numbers 0–120, which every number type of PLY holds exactly. */
export interface SquareFigure {
	readonly points: readonly (readonly [number, number, number])[];
	readonly squares: readonly (readonly [number, number, number, number])[];
}

/** The surface of a seeded heap of cubes, side 20: closed, hollow in places, with edges where four squares meet. */
export function squareFigure(seed: number, cubes = 40): SquareFigure {
	const random = seededRandom(seed);
	const filled = new Set<string>(["2,2,2"]);
	const key = (x: number, y: number, z: number): string => `${x},${y},${z}`;
	while (filled.size < cubes) {
		const [x, y, z] = [...filled][random.below(filled.size)].split(",").map(Number);
		const step = [0, 0, 0];
		step[random.below(3)] = random.below(2) === 0 ? 1 : -1;
		const [a, b, c] = [x + step[0], y + step[1], z + step[2]];
		if (Math.min(a, b, c) >= 0 && Math.max(a, b, c) <= 5) filled.add(key(a, b, c));
	}
	const numbers = new Map<string, number>();
	const points: [number, number, number][] = [];
	const number = (x: number, y: number, z: number): number => {
		const k = key(x, y, z);
		const found = numbers.get(k);
		if (found !== undefined) return found;
		numbers.set(k, points.length);
		points.push([20 * x, 20 * y, 20 * z]);
		return points.length - 1;
	};
	const squares: [number, number, number, number][] = [];
	for (const cube of filled) {
		const at = cube.split(",").map(Number);
		for (let axis = 0; axis < 3; axis++)
			for (const side of [0, 1]) {
				const beyond = [...at];
				beyond[axis] += side === 1 ? 1 : -1;
				if (filled.has(beyond.join(","))) continue;
				const [u, v] = [(axis + 1) % 3, (axis + 2) % 3];
				const corner = (du: number, dv: number): number => {
					const p = [...at];
					p[axis] += side;
					p[u] += du;
					p[v] += dv;
					return number(p[0], p[1], p[2]);
				};
				const ring = [corner(0, 0), corner(1, 0), corner(1, 1), corner(0, 1)] as const;
				squares.push(side === 1 ? [ring[0], ring[1], ring[2], ring[3]] : [ring[0], ring[3], ring[2], ring[1]]);
			}
	}
	return { points, squares };
}

/** The squares cut from their first corner, which is what the reader does with squares too. */
export const trianglesOf = (figure: SquareFigure): number[][] =>
	figure.squares.flatMap(([a, b, c, d]) => [
		[a, b, c],
		[a, c, d],
	]);

export function meshOf(figure: SquareFigure): TriangleMesh {
	return {
		positions: Float64Array.from(figure.points.flat()),
		triangles: Uint32Array.from(trianglesOf(figure).flat()),
	};
}

/** A triangle mesh as a sorted list of triangles of coordinates: equal for equal surfaces, whatever the numbering. */
export function canonical(mesh: { positions: ArrayLike<number>; triangles: ArrayLike<number> }): string[] {
	const list: string[] = [];
	const { positions: p, triangles: t } = mesh;
	for (let i = 0; i < t.length; i += 3) {
		const corners = [0, 1, 2].map((k) => `${p[3 * t[i + k]]} ${p[3 * t[i + k] + 1]} ${p[3 * t[i + k] + 2]}`);
		const first = corners.indexOf([...corners].sort()[0]);
		list.push([0, 1, 2].map((k) => corners[(first + k) % 3]).join(" | "));
	}
	return list.sort();
}

export const bytesOf = (text: string): Uint8Array => Uint8Array.from(text, (c) => c.charCodeAt(0));

export function joined(parts: readonly Uint8Array[]): Uint8Array {
	const all = new Uint8Array(parts.reduce((sum, p) => sum + p.length, 0));
	let at = 0;
	for (const part of parts) {
		all.set(part, at);
		at += part.length;
	}
	return all;
}

export interface BinaryStlDress {
	header?: string;
	/** Declared triangles, if not the true number. */
	count?: number;
	/** The two bytes behind each triangle. */
	colour?: number;
	normal?: number;
	trailing?: number;
}

export function binaryStl(figure: SquareFigure, dress: BinaryStlDress = {}): Uint8Array {
	const triangles = trianglesOf(figure);
	const bytes = new Uint8Array(84 + 50 * triangles.length + (dress.trailing ?? 0)).fill(7);
	bytes.fill(0, 0, 80);
	bytes.set(bytesOf((dress.header ?? "made by the tests").slice(0, 80)));
	const view = new DataView(bytes.buffer);
	view.setUint32(80, dress.count ?? triangles.length, true);
	triangles.forEach((t, i) => {
		const at = 84 + 50 * i;
		for (let k = 0; k < 3; k++) view.setFloat32(at + 4 * k, dress.normal ?? 0, true);
		for (let k = 0; k < 9; k++) view.setFloat32(at + 12 + 4 * k, figure.points[t[Math.floor(k / 3)]][k % 3], true);
		view.setUint16(at + 48, dress.colour ?? 0, true);
	});
	return bytes;
}

export interface AsciiStlDress {
	/** Line end; " " puts the whole file on one line. */
	newline?: string;
	number?: (x: number) => string;
	word?: (w: string) => string;
	/** Lines left out by their first word. */
	without?: readonly string[];
	solids?: number;
	name?: string;
	before?: string;
	/** Written between words. */
	blank?: string;
	/** Put behind each facet. */
	extra?: string;
	normal?: string;
	/** Without the last line end. */
	bare?: boolean;
}

export function asciiStl(figure: SquareFigure, dress: AsciiStlDress = {}): Uint8Array {
	const number = dress.number ?? String;
	const word = dress.word ?? ((w: string): string => w);
	const name = dress.name ?? "figure";
	const triangles = trianglesOf(figure);
	const solids = dress.solids ?? 1;
	const each = Math.ceil(triangles.length / solids);
	const lines: string[] = [];
	for (let s = 0; s < solids; s++) {
		lines.push(`${word("solid")} ${name}`);
		for (const t of triangles.slice(s * each, (s + 1) * each)) {
			lines.push(`${word("facet")} ${word("normal")} ${dress.normal ?? "0 0 1"}`, `${word("outer")} ${word("loop")}`);
			for (const v of t) lines.push(`  ${word("vertex")} ${figure.points[v].map(number).join(" ")}`);
			lines.push(word("endloop"), word("endfacet"));
			if (dress.extra) lines.push(dress.extra);
		}
		lines.push(`${word("endsolid")} ${name}`);
	}
	const kept = lines.filter((line) => !dress.without?.includes(line.trim().split(" ")[0].toLowerCase()));
	const blank = dress.blank ?? " ";
	const text = kept.map((line) => line.replaceAll(" ", blank)).join(dress.newline ?? "\n");
	return bytesOf((dress.before ?? "") + text + (dress.bare ? "" : (dress.newline ?? "\n")));
}

const SIZES: Record<string, number> = {
	char: 1,
	uchar: 1,
	short: 2,
	ushort: 2,
	int: 4,
	uint: 4,
	float: 4,
	double: 8,
	int8: 1,
	uint8: 1,
	int16: 2,
	uint16: 2,
	int32: 4,
	uint32: 4,
	float32: 4,
	float64: 8,
};

export type PlyFormat = "ascii" | "binary_little_endian" | "binary_big_endian";

export interface PlyDress {
	format?: PlyFormat;
	newline?: string;
	/** Type of x, y, z. */
	coordinate?: string;
	countType?: string;
	indexType?: string;
	listName?: string;
	/** What the surface is made of. */
	surface?: "triangles" | "squares" | "strip" | "strips";
	/** Order of the vertex's properties; names other than x, y, z and the colours are filled with numbers. */
	vertex?: readonly string[];
	colour?: { type: string; value: number };
	/** Properties of a face before and behind its list. */
	faceExtras?: boolean;
	/** Elements that nobody asked for, in front, between and behind. */
	strangers?: boolean;
	facesFirst?: boolean;
	comments?: boolean;
	/** Vertices that no face uses, the first of them not a number if the type allows. */
	loose?: number;
	trailing?: string;
	number?: (x: number) => string;
	/** Faces of two corners. */
	shortFaces?: number;
}

type Value = { type: string; value: number };
type Row = (Value | { countType: string; items: Value[] })[];

/** One element: its header lines and rows. */
interface Block {
	name: string;
	properties: string[];
	rows: Row[];
}

export function ply(figure: SquareFigure, dress: PlyDress = {}): Uint8Array {
	const format = dress.format ?? "ascii";
	const newline = dress.newline ?? "\n";
	const blocks: Block[] = [vertexBlock(figure, dress), surfaceBlock(figure, dress)];
	if (dress.facesFirst) blocks.reverse();
	if (dress.strangers) {
		blocks.splice(1, 0, stranger("camera", 2));
		blocks.unshift(stranger("material", 3));
		blocks.push(stranger("edge", 5));
	}
	const header = ["ply", `format ${format} 1.0`];
	if (dress.comments) header.push("comment made by the tests", "obj_info num_cols 7", "comment element face 3");
	for (const block of blocks) {
		header.push(`element ${block.name} ${block.rows.length}`);
		if (dress.comments) header.push("comment  between, with    blanks ");
		header.push(...block.properties.map((p) => `property ${p}`));
	}
	header.push("end_header");
	const head = bytesOf(header.join(newline) + newline);
	const number = dress.number ?? String;
	const rows = blocks.flatMap((b) => b.rows);
	if (format === "ascii") {
		const lines = rows.map((row) =>
			row
				.flatMap((v) =>
					"items" in v ? [String(v.items.length), ...v.items.map((i) => number(i.value))] : [number(v.value)],
				)
				.join(" "),
		);
		return joined([head, bytesOf(lines.join(newline) + newline), bytesOf(dress.trailing ?? "")]);
	}
	const little = format === "binary_little_endian";
	const values = rows
		.flat()
		.flatMap((v) => ("items" in v ? [{ type: v.countType, value: v.items.length }, ...v.items] : [v]));
	const body = new Uint8Array(values.reduce((sum, v) => sum + SIZES[v.type], 0));
	const view = new DataView(body.buffer);
	let at = 0;
	for (const { type, value } of values) {
		put(view, at, type, value, little);
		at += SIZES[type];
	}
	return joined([head, body, bytesOf(dress.trailing ?? "")]);
}

function put(view: DataView, at: number, type: string, value: number, little: boolean): void {
	if (type === "float" || type === "float32") view.setFloat32(at, value, little);
	else if (type === "double" || type === "float64") view.setFloat64(at, value, little);
	else if (SIZES[type] === 1) view.setUint8(at, value);
	else if (SIZES[type] === 2) view.setUint16(at, value, little);
	else view.setUint32(at, value, little);
}

function vertexBlock(figure: SquareFigure, dress: PlyDress): Block {
	const coordinate = dress.coordinate ?? "float";
	const names = dress.vertex ?? ["x", "y", "z"];
	const isColour = (n: string): boolean => ["red", "green", "blue"].includes(n);
	const axis = (n: string): number => ["x", "y", "z"].indexOf(n);
	const typeOf = (n: string): string =>
		axis(n) >= 0 ? coordinate : isColour(n) ? (dress.colour?.type ?? "uchar") : "short";
	const real = coordinate.startsWith("float") || coordinate === "double";
	const points = [
		...figure.points,
		...Array.from({ length: dress.loose ?? 0 }, (_, i) => [i === 0 && real ? Number.NaN : 3, 5, 7 + i]),
	];
	return {
		name: "vertex",
		properties: names.map((n) => `${typeOf(n)} ${n}`),
		rows: points.map((p, i) =>
			names.map((n) => ({
				type: typeOf(n),
				value: axis(n) >= 0 ? p[axis(n)] : isColour(n) ? (dress.colour?.value ?? 0) : i % 99,
			})),
		),
	};
}

function surfaceBlock(figure: SquareFigure, dress: PlyDress): Block {
	const countType = dress.countType ?? "uchar";
	const indexType = dress.indexType ?? "int";
	const surface = dress.surface ?? "triangles";
	const list = `list ${countType} ${indexType} ${dress.listName ?? "vertex_indices"}`;
	const items = (indices: readonly number[]): { countType: string; items: Value[] } => ({
		countType,
		items: indices.map((value) => ({ type: indexType, value })),
	});
	// A square's corners 1 2 0 3 as a strip give its two triangles cut from corner 0.
	const strip = ([a, b, c, d]: readonly number[]): number[] => [b, c, a, d];
	if (surface === "strip") {
		const all = figure.squares.flatMap((s) => [...strip(s), -1]).slice(0, -1);
		return { name: "tristrips", properties: [list], rows: [[items(all)]] };
	}
	if (surface === "strips") {
		// Stitched: the last corner twice and the next first corner twice, an even number in all, keeps the facing.
		const rows: Row[] = [];
		for (let i = 0; i < figure.squares.length; i += 5) {
			const stitched: number[] = [];
			for (const s of figure.squares.slice(i, i + 5)) {
				const next = strip(s);
				if (stitched.length > 0) stitched.push(stitched[stitched.length - 1], next[0]);
				stitched.push(...next);
			}
			rows.push([items(stitched)]);
		}
		return { name: "tristrips", properties: [list], rows };
	}
	const faces: (readonly number[])[] = surface === "squares" ? [...figure.squares] : trianglesOf(figure);
	for (let i = 0; i < (dress.shortFaces ?? 0); i++) faces.push([0, 1]);
	if (!dress.faceExtras) return { name: "face", properties: [list], rows: faces.map((f) => [items(f)]) };
	return {
		name: "face",
		properties: ["uchar flags", "list ushort float texcoord", list, "double quality", "list uchar uchar spare"],
		rows: faces.map((f, i) => [
			{ type: "uchar", value: i % 200 },
			{
				countType: "ushort",
				items: [0, 1, 2, 3, 4, 5].slice(0, (i % 3) * 2).map((value) => ({ type: "float", value })),
			},
			items(f),
			{ type: "double", value: i / 8 },
			{ countType: "uchar", items: [] },
		]),
	};
}

function stranger(name: string, n: number): Block {
	return {
		name,
		properties: ["float focus", "list uint short spots", "int lens"],
		rows: Array.from({ length: n }, (_, i) => [
			{ type: "float", value: i + 0.5 },
			{ countType: "uint", items: Array.from({ length: 2 * i }, (_, k) => ({ type: "short", value: k })) },
			{ type: "int", value: i },
		]),
	};
}
