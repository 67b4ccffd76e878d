import { PLYLoader, STLLoader } from "three-stdlib";
import { describe, expect, it, vi } from "vitest";
import { finish } from "../../../core/job.ts";
import { readScan, type ScanFile } from "../../../core/scan/readScan.ts";
import { memorySource } from "../../../core/scan/source.ts";
import { canonical, meshOf, squareFigure } from "./scanWriters.ts";
import { type Variant, variants } from "./variants.ts";

const figure = squareFigure(11);
const wanted = canonical(meshOf(figure));
const all = variants(figure);

/** The file in pieces of an odd size, always in the same buffer, as a file on disk hands it out. */
function piecewise(
	bytes: Uint8Array,
	piece: number,
): { size: number; read(offset: number, length: number): Uint8Array } {
	let buffer = new Uint8Array(piece);
	return {
		size: bytes.length,
		read(offset, length) {
			const n = Math.max(0, Math.min(length, bytes.length - offset));
			if (n > buffer.length) buffer = new Uint8Array(n);
			buffer.fill(0xaa).set(bytes.subarray(offset, offset + n));
			return buffer.subarray(0, n);
		},
	};
}

const read = (v: Variant): ScanFile => finish(readScan(memorySource(v.bytes), "figure"));

/** The coordinates of the file, which the reader may have moved. */
const inFile = (scan: ScanFile) => ({
	positions: scan.mesh.positions.map((x, i) => x + scan.origin[i % 3]),
	triangles: scan.mesh.triangles,
});

describe(`${all.length} variants of one figure`, () => {
	it("are at least sixty, each under a name of its own", () => {
		expect(all.length).toBeGreaterThanOrEqual(60);
		expect(new Set(all.map((v) => v.name)).size).toBe(all.length);
	});

	it.each(all.map((v) => [v.name, v] as const))("%s", (_, v) => {
		const scan = read(v);
		expect(scan.format.startsWith(v.name.slice(0, 3))).toBe(true);
		expect(canonical(inFile(scan))).toEqual(wanted);
		expect(scan.mesh.positions.length / 3).toBe(figure.points.length);
		expect(scan.notes.map((n) => n.code).sort()).toEqual([...v.notes].sort());
		if (v.colour) {
			expect(scan.mesh.colours?.length).toBe(scan.mesh.positions.length);
			for (let i = 0; i < 3; i++)
				expect(new Set(scan.mesh.colours?.filter((_, k) => k % 3 === i))).toEqual(new Set([v.colour[i]]));
		} else expect(scan.mesh.colours).toBeUndefined();
	});

	it("are the same from a source that hands out one buffer again and again", () => {
		for (const v of all) expect(canonical(inFile(finish(readScan(piecewise(v.bytes, 1), "f"))))).toEqual(wanted);
	});

	it("agree with three-stdlib's loaders wherever these can read the file", () => {
		const readable = all.filter((v) => v.threeReads);
		expect(readable.length).toBeGreaterThan(100);
		// They comment on normals, on element names and on loose vertices that are not numbers.
		for (const speak of ["log", "error"] as const) vi.spyOn(console, speak).mockImplementation(() => {});
		for (const v of readable) {
			const buffer = v.bytes.slice().buffer;
			const geometry = v.name.startsWith("STL") ? new STLLoader().parse(buffer) : new PLYLoader().parse(buffer);
			const positions = Array.from(geometry.getAttribute("position").array, (x) => x + 0);
			const index = geometry.index?.array ?? positions.slice(0, positions.length / 3).map((_, i) => i);
			expect(canonical({ positions, triangles: index }), v.name).toEqual(wanted);
		}
		vi.restoreAllMocks();
	});
});
