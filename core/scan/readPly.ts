/** PLY, ASCII and binary of either byte order: vertices, polygons of any size, triangle strips, vertex colours. */

import { type Job, within } from "../job.ts";
import { type Issue, Refusal } from "../refusal.ts";
import { withoutLoose } from "./loose.ts";
import { clip, NumberReader } from "./numbers.ts";
import { type Entry, eachEntry } from "./plyEntries.ts";
import { type PlyElement, type PlyHeader, scalarSize } from "./plyHeader.ts";
import type { RawScan } from "./readStl.ts";
import { lineOf, type ScanSource } from "./source.ts";
import { type Effort, MOST_LOOKS, triangulate } from "./triangulate.ts";
import { Welder } from "./weld.ts";

const BATCH = 1024;
/** Stands for the vertex number of a vertex whose coordinates are not finite. */
const NOT_FINITE = 0xffffffff;
const INDEX_LISTS = ["vertex_indices", "vertex_index"];

interface File {
	readonly source: ScanSource;
	readonly name: string;
	readonly header: PlyHeader;
	readonly numbers: NumberReader;
}

/**
 * Reads the body of a PLY file. Elements may stand in any order; those that are not asked for are passed over.
 * Vertices with coordinates that are not finite are left out when no face uses them.
 * Throws Refusal for points without faces, an index past the vertices, a coordinate in use that is no number, and a body
 * that does not fit its header.
 */
export function* readPly(source: ScanSource, name: string, header: PlyHeader): Job<RawScan> {
	const file: File = { source, name, header, numbers: new NumberReader() };
	const vertexElement = header.elements.find((e) => e.name === "vertex");
	const places = ["x", "y", "z"].map((axis) => propertyIndex(vertexElement, [axis], false));
	if (!vertexElement || places.includes(-1)) throw new Refusal("ply.noVertices", { name });
	if (!header.elements.some((e) => e.count > 0 && indexList(e) >= 0))
		throw new Refusal(vertexElement.count > 0 ? "ply.noFaces" : "scan.noTriangles", {
			name,
			points: vertexElement.count,
		});

	let vertices: Vertices | null = null;
	const later: { element: PlyElement; at: number }[] = [];
	const faces = new Faces(header.elements.reduce((sum, e) => sum + (indexList(e) < 0 ? 0 : e.count), 0));
	let at = header.bytes;
	for (const element of header.elements) {
		if (element === vertexElement) {
			vertices = new Vertices(file, element, places);
			at = yield* vertices.read(at);
		} else if (indexList(element) >= 0 && vertices) at = yield* faces.read(file, element, at, vertices);
		else {
			if (indexList(element) >= 0) later.push({ element, at });
			at = yield* passOver(file, element, at);
		}
	}
	if (!vertices) throw new Error("the vertex element was found above");
	// Read a second time, so the share of bytes has nowhere left to go.
	for (const { element, at: start } of later) yield* within(faces.read(file, element, start, vertices), 1, 1);
	const notes = faces.notes();
	if (faces.count === 0) throw new Refusal("scan.noTriangles", { name });
	if (file.numbers.commas > 0) notes.push({ code: "scan.decimalCommas", facts: { numbers: file.numbers.commas } });
	const trailing = trailingBytes(source, at, header.format === "ascii");
	if (trailing > 0) notes.push({ code: "scan.trailingBytes", facts: { bytes: trailing } });
	const { mesh, loose } = yield* withoutLoose(vertices.positions, faces.finish(), vertices.colours);
	if (loose > 0) notes.push({ code: "ply.looseVertices", facts: { vertices: loose } });
	return { mesh, notes };
}

/** Index of the first of the names among the element's single values or lists; −1 when it has none of them. */
function propertyIndex(element: PlyElement | undefined, names: readonly string[], list: boolean): number {
	return element?.properties.findIndex((p) => names.includes(p.name) && (p.countType !== null) === list) ?? -1;
}

/** Index of the list of vertex indices in an element that makes surface; −1 in any other element. */
function indexList(element: PlyElement): number {
	return element.name === "face" || element.name === "tristrips" ? propertyIndex(element, INDEX_LISTS, true) : -1;
}

function* passOver(file: File, element: PlyElement, at: number): Job<number> {
	if (element.properties.length === 0) return at;
	const lists = element.properties.some((p) => p.countType !== null);
	if (file.header.format === "ascii" || lists) return yield* eachEntry(file, element, at, -1, () => {});
	let size = 0;
	for (const p of element.properties) size += scalarSize(p.type);
	if (at + size * element.count <= file.source.size) return at + size * element.count;
	throw new Refusal("ply.cutOff", {
		name: file.name,
		at: file.source.size,
		element: clip(element.name),
		found: Math.floor((file.source.size - at) / size),
		expected: element.count,
	});
}

/** Bytes behind the last entry; in text only if there is more than blank space. */
function trailingBytes(source: ScanSource, at: number, ascii: boolean): number {
	const left = source.size - at;
	if (!ascii) return left;
	const some = source.read(at, Math.min(left, 4096));
	for (let i = 0; i < some.length; i++) if (some[i] > 32) return left - i;
	return 0;
}

/** The vertex element: coordinates welded, colours kept, and which welded vertex each vertex of the file became. */
class Vertices {
	/** Welded vertex of each vertex in the file; NOT_FINITE where its coordinates are no numbers. */
	readonly map: Uint32Array;
	positions: Float64Array = new Float64Array(0);
	/** Red, green, blue of each welded vertex, taken from the first of those that were welded. */
	colours: Uint8Array | null = null;
	/** Byte offset of the first vertex that is not finite. */
	firstNotFinite = -1;
	readonly #file: File;
	readonly #element: PlyElement;
	readonly #places: readonly number[];

	constructor(file: File, element: PlyElement, places: readonly number[]) {
		this.#file = file;
		this.#element = element;
		this.#places = places;
		this.map = new Uint32Array(element.count);
	}

	*read(start: number): Job<number> {
		const [px, py, pz] = this.#places;
		const count = this.#element.count;
		const colour = colourReader(this.#element);
		const colours = colour ? new Uint8Array(3 * count) : null;
		const welder = new Welder(count);
		const points = new Float64Array(3 * BATCH);
		const bad: number[] = [];
		let filled = 0;
		let welded = 0;
		const flush = (): void => {
			welder.weld(points, filled, this.map, welded);
			welded += filled;
			filled = 0;
			for (const v of bad) this.map[v] = NOT_FINITE;
			bad.length = 0;
		};
		const take = (entry: Entry, index: number): void => {
			const values = entry.values;
			let x = values[px];
			let y = values[py];
			let z = values[pz];
			if (x - x + (y - y) + (z - z) !== 0) {
				if (this.firstNotFinite < 0) this.firstNotFinite = entry.at;
				bad.push(index);
				x = y = z = 0;
			}
			points[3 * filled] = x;
			points[3 * filled + 1] = y;
			points[3 * filled + 2] = z;
			if (colour && colours) colour(values, colours, 3 * index);
			if (++filled === BATCH) flush();
		};
		const end = yield* eachEntry(this.#file, this.#element, start, -1, take);
		flush();
		this.positions = yield* welder.finish();
		if (colours) this.colours = this.#firstColours(colours);
		return end;
	}

	#firstColours(colours: Uint8Array): Uint8Array {
		const kept = new Uint8Array(this.positions.length);
		// Welded vertices are numbered in the order of first appearance, so the first one of each moves down only.
		let next = 0;
		for (let v = 0; v < this.map.length; v++) {
			if (this.map[v] !== next) continue;
			kept.set(colours.subarray(3 * v, 3 * v + 3), 3 * next);
			next++;
		}
		return kept;
	}
}

type ColourReader = (values: Float64Array, colours: Uint8Array, at: number) => void;

/** Takes the three colour values of an entry to 0–255: floats are shares of one, 16 bits are shortened, others are bytes. */
function colourReader(element: PlyElement): ColourReader | null {
	const names = [
		["red", "diffuse_red", "r"],
		["green", "diffuse_green", "g"],
		["blue", "diffuse_blue", "b"],
	];
	const places = names.map((n) => propertyIndex(element, n, false));
	if (places.includes(-1)) return null;
	const factors = places.map((k) => {
		const type = element.properties[k].type;
		return type === "float32" || type === "float64" ? 255 : type === "uint16" ? 1 / 257 : 1;
	});
	return (values, colours, at) => {
		for (let k = 0; k < 3; k++) {
			const value = Math.round(values[places[k]] * factors[k]);
			colours[at + k] = value > 0 ? Math.min(value, 255) : 0;
		}
	};
}

/** Faces and strips as triangles of welded vertices. */
class Faces {
	count = 0;
	#triangles: Uint32Array;
	#ring = new Uint32Array(64);
	readonly #effort: Effort = { looks: MOST_LOOKS };
	#polygons = 0;
	#short = 0;

	constructor(expected: number) {
		this.#triangles = new Uint32Array(3 * expected);
	}

	*read(file: File, element: PlyElement, start: number, vertices: Vertices): Job<number> {
		const list = indexList(element);
		const strips = element.name === "tristrips";
		const map = vertices.map;
		const positions = vertices.positions;
		const take = (entry: Entry, index: number): void => {
			const n = entry.values[list];
			const items = entry.items;
			if (n > this.#ring.length) this.#ring = new Uint32Array(2 * n);
			const ring = this.#ring;
			if (3 * (this.count + n) > this.#triangles.length) this.#grow(n);
			for (let i = 0; i < n; i++) {
				const v = items[i];
				if (v < map.length && v === v >>> 0 && map[v] !== NOT_FINITE) ring[i] = map[v];
				else if (strips && v === -1) ring[i] = NOT_FINITE;
				else throw refuseIndex(file, element, entry, index, v, vertices);
			}
			if (strips) this.#strip(ring, n);
			else if (n < 3) this.#short++;
			else {
				this.count += triangulate(positions, ring, n, this.#triangles, 3 * this.count, this.#effort);
				if (n > 3) this.#polygons++;
			}
		};
		return yield* eachEntry(file, element, start, list, take);
	}

	/** Every second triangle of a strip is turned; a corner of NOT_FINITE starts the strip anew. */
	#strip(ring: Uint32Array, n: number): void {
		let from = 0;
		for (let i = 0; i < n; i++) {
			if (ring[i] === NOT_FINITE) {
				from = i + 1;
				continue;
			}
			if (i - from < 2) continue;
			const odd = (i - from) % 2;
			const a = ring[i - 2 + odd];
			const b = ring[i - 1 - odd];
			const c = ring[i];
			// Strips are stitched together with triangles that use a vertex twice; they are no surface.
			if (a === b || b === c || c === a) continue;
			this.#triangles.set([a, b, c], 3 * this.count++);
		}
	}

	#grow(n: number): void {
		const grown = new Uint32Array(Math.ceil(Math.max(1.5 * this.#triangles.length, 3 * (this.count + n))));
		grown.set(this.#triangles.subarray(0, 3 * this.count));
		this.#triangles = grown;
	}

	notes(): Issue[] {
		const notes: Issue[] = [];
		if (this.#polygons > 0) notes.push({ code: "ply.polygons", facts: { polygons: this.#polygons } });
		if (this.#short > 0) notes.push({ code: "ply.shortFaces", facts: { faces: this.#short } });
		return notes;
	}

	finish(): Uint32Array {
		return this.#triangles.length === 3 * this.count ? this.#triangles : this.#triangles.slice(0, 3 * this.count);
	}
}

function refuseIndex(
	file: File,
	element: PlyElement,
	entry: Entry,
	index: number,
	found: number,
	vertices: Vertices,
): Refusal {
	const { name, source } = file;
	const ascii = file.header.format === "ascii";
	if (vertices.map[found] === NOT_FINITE) {
		const at = vertices.firstNotFinite;
		return new Refusal("ply.notFinite", { name, at, ...(ascii ? { line: lineOf(source, at) } : {}) });
	}
	return new Refusal("ply.badIndex", {
		name,
		at: entry.at,
		...(ascii ? { line: lineOf(source, entry.at) } : {}),
		element: element.name,
		face: index + 1,
		found: String(found),
		expected: vertices.map.length - 1,
	});
}
