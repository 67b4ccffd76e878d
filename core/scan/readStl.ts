/** Binary STL, and which of its two kinds an STL file is of: triangles one by one, welded as they come. */

import type { Job } from "../job.ts";
import { type Issue, Refusal } from "../refusal.ts";
import type { TriangleMesh } from "./mesh.ts";
import { textOf } from "./numbers.ts";
import { CHUNK_BYTES, type ScanSource } from "./source.ts";
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
	const perChunk = Math.floor(CHUNK_BYTES / TRIANGLE_BYTES);
	// A closed surface has half as many vertices as triangles; and room is asked for by the chunk.
	const welder = new Welder(triangles / 2 + 3 * Math.min(perChunk, triangles));
	const points = new Float64Array(3 * BATCH_CORNERS);
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
	return { mesh: { positions: yield* welder.finish(), triangles: indices }, notes };
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
