/** A scan file, whatever its kind, as one welded mesh near the origin. */

import type { Job } from "../job.ts";
import { type Issue, Refusal } from "../refusal.ts";
import type { Vec3 } from "../vector.ts";
import { widen } from "./bounds.ts";
import type { TriangleMesh } from "./mesh.ts";
import { isPly, readPlyHeader } from "./plyHeader.ts";
import { readAsciiStl } from "./readAsciiStl.ts";
import { readPly } from "./readPly.ts";
import { type RawScan, readBinaryStl, stlKind } from "./readStl.ts";
import type { ScanSource } from "./source.ts";

export type ScanFormat =
	| "STL binary"
	| "STL ASCII"
	| "PLY ASCII"
	| "PLY binary little-endian"
	| "PLY binary big-endian";

export interface ScanFile {
	readonly format: ScanFormat;
	/** In the file's units, less `origin`; equal coordinates welded, every vertex used by a triangle. */
	readonly mesh: TriangleMesh;
	/** File coordinates are position + origin, exactly. */
	readonly origin: Vec3;
	/** What was found in the file that the carver may want to know; words in `core/text/scanRefusals.ts`. */
	readonly notes: readonly Issue[];
}

const PLY_FORMATS = {
	ascii: "PLY ASCII",
	binary_little_endian: "PLY binary little-endian",
	binary_big_endian: "PLY binary big-endian",
} as const;

/** How many times its own extent a scan may lie away from zero before it is recentred: costs two bits of 32-bit numbers. */
const FAR = 4;
/** Numbers handled between two yields; a multiple of three. */
const SLICE = 3 << 18;

/** First bytes of files that are opened by mistake (PNG and PDF specifications, JPEG ISO/IEC 10918-1, ZIP APPNOTE). */
const OTHER_KINDS: readonly (readonly [readonly number[], string])[] = [
	[[0x89, 0x50, 0x4e, 0x47], "a picture (PNG)"],
	[[0xff, 0xd8, 0xff], "a picture (JPEG)"],
	[[0x25, 0x50, 0x44, 0x46], "a document (PDF)"],
	[[0x50, 0x4b, 0x03, 0x04], "an archive (ZIP)"],
];
const otherKind = (start: Uint8Array): string | null =>
	OTHER_KINDS.find(([bytes]) => bytes.every((byte, i) => start[i] === byte))?.[1] ?? null;

/**
 * Reads a scan. The kind is told by the bytes, never by the name, which only stands in messages.
 * Throws Refusal for anything that cannot be read, with the place, what was found and what was expected.
 */
export function* readScan(source: ScanSource, name: string): Job<ScanFile> {
	if (source.size === 0) throw new Refusal("scan.empty", { name });
	const other = otherKind(source.read(0, Math.min(8, source.size)));
	if (other !== null) throw new Refusal("scan.otherKind", { name, kind: other });
	let format: ScanFormat;
	let raw: RawScan;
	if (isPly(source.read(0, Math.min(4, source.size)))) {
		const header = readPlyHeader(source, name);
		format = PLY_FORMATS[header.format];
		raw = yield* readPly(source, name, header);
	} else {
		const kind = stlKind(source, name);
		format = kind.kind === "binary" ? "STL binary" : "STL ASCII";
		raw =
			kind.kind === "binary"
				? yield* readBinaryStl(source, name, kind.triangles, kind.notes)
				: yield* readAsciiStl(source, name);
	}
	const origin = yield* recentre(raw.mesh.positions);
	return { format, mesh: raw.mesh, origin, notes: raw.notes };
}

/**
 * Moves positions near zero, in place, and returns what was subtracted. An axis is moved when the middle of the bounds lies
 * more than FAR times the largest extent from zero, by that middle rounded to 32 bits. All coordinates of the axis are then
 * within a factor of two of it, so the subtraction is exact (Sterbenz 1974) and nothing that the file held is lost.
 */
function* recentre(positions: Float64Array): Job<Vec3> {
	const low = [Infinity, Infinity, Infinity];
	const high = [-Infinity, -Infinity, -Infinity];
	for (let from = 0; from < positions.length; from += SLICE) {
		widen(positions, from, Math.min(from + SLICE, positions.length), low, high);
		yield { stage: "reading the scan", share: 1 };
	}
	const extent = Math.max(high[0] - low[0], high[1] - low[1], high[2] - low[2]);
	const middle = (k: number): number => {
		const m = Math.fround(low[k] / 2 + high[k] / 2);
		// Past the range of 32 bits there is no rounding to 32 bits, and no figure either.
		return Math.abs(m) > FAR * extent && m - m === 0 ? m : 0;
	};
	const [x, y, z] = [middle(0), middle(1), middle(2)];
	if (x === 0 && y === 0 && z === 0) return [0, 0, 0];
	for (let from = 0; from < positions.length; from += SLICE) {
		const to = Math.min(from + SLICE, positions.length);
		for (let i = from; i < to; i += 3) {
			positions[i] -= x;
			positions[i + 1] -= y;
			positions[i + 2] -= z;
		}
		yield { stage: "reading the scan", share: 1 };
	}
	return [x, y, z];
}
