import { createHash } from "node:crypto";
import { describe, expect, it } from "vitest";
import { finish } from "../../../core/job.ts";
import { seededRandom } from "../../../core/random.ts";
import { hashScan } from "../../../core/scan/hashScan.ts";
import type { TriangleMesh } from "../../../core/scan/mesh.ts";
import { readScan, type ScanFile } from "../../../core/scan/readScan.ts";
import { memorySource } from "../../../core/scan/source.ts";
import { writeBinaryPly, writeBinaryStl } from "../../../core/scan/writeScan.ts";
import { bytesOf, canonical, meshOf, ply, squareFigure } from "./scanWriters.ts";

const read = (bytes: Uint8Array): ScanFile => finish(readScan(memorySource(bytes), "scan"));

it.each([
	["a picture (PNG)", [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]],
	["a picture (JPEG)", [0xff, 0xd8, 0xff, 0xe0]],
	["a document (PDF)", [0x25, 0x50, 0x44, 0x46, 0x2d]],
	["an archive (ZIP)", [0x50, 0x4b, 0x03, 0x04]],
])("says that it was given %s", (kind, start) => {
	const bytes = new Uint8Array(5000).fill(7);
	bytes.set(start);
	expect(() => read(bytes)).toThrow(
		expect.objectContaining({ issue: { code: "scan.otherKind", facts: { name: "scan", kind } } }),
	);
});

/** A figure whose coordinates use every digit of a double, moved by `offset`. */
function fineFigure(offset: readonly number[]): TriangleMesh {
	const random = seededRandom(5);
	const mesh = meshOf(squareFigure(4));
	return {
		positions: mesh.positions.map((x, i) => x / 77 + random.next() / 10 + offset[i % 3]),
		triangles: mesh.triangles,
	};
}

const asciiPly = (mesh: TriangleMesh): Uint8Array => {
	const lines = ["ply", "format ascii 1.0", `element vertex ${mesh.positions.length / 3}`];
	lines.push("property double x", "property double y", "property double z");
	lines.push(`element face ${mesh.triangles.length / 3}`, "property list uchar int vertex_indices", "end_header");
	for (let i = 0; i < mesh.positions.length; i += 3) lines.push([...mesh.positions.slice(i, i + 3)].join(" "));
	for (let i = 0; i < mesh.triangles.length; i += 3) lines.push(`3 ${[...mesh.triangles.slice(i, i + 3)].join(" ")}`);
	return bytesOf(`${lines.join("\n")}\n`);
};

describe("recentring", () => {
	it("leaves a figure near the origin where it is", () => {
		expect(read(asciiPly(fineFigure([3, -5, 4]))).origin).toEqual([0, 0, 0]);
	});

	it.each([
		["map coordinates in metres", [500000.123456789, 4649776.22417, 812.5]],
		["the far side of the origin", [-33333.3, 0, 1e7]],
		["one axis only", [0, 0, -1e6]],
	])("loses nothing that the file held: %s", (_, offset) => {
		const mesh = fineFigure(offset);
		for (const bytes of [asciiPly(mesh), writeBinaryPly(mesh, "double")]) {
			const scan = read(bytes);
			expect([...scan.mesh.positions].map((x, i) => x + scan.origin[i % 3])).toEqual([...mesh.positions]);
			// Near the origin 32 bits hold what at map coordinates only 64 do.
			for (let k = 0; k < 3; k++) {
				const own = scan.mesh.positions.filter((_, i) => i % 3 === k);
				expect(own.reduce((m, x) => Math.max(m, Math.abs(x)), 0)).toBeLessThan(20);
			}
		}
	});

	it("keeps apart at map coordinates what lies a hair apart", () => {
		const [x, y] = [500000.125, 4649776.5];
		const hair = 2 ** -29;
		const mesh = {
			positions: Float64Array.of(x, y, 0, x + hair, y, 0, x, y + hair * 2, 0),
			triangles: Uint32Array.of(0, 1, 2),
		};
		const scan = read(asciiPly(mesh));
		expect(scan.mesh.positions.length).toBe(9);
		expect(scan.mesh.positions[3] - scan.mesh.positions[0]).toBe(hair);
	});
});

describe("writers", () => {
	const mesh = meshOf(squareFigure(7));
	it("binary STL is read back the same, with normals of length one that face outwards", () => {
		const bytes = writeBinaryStl(mesh);
		expect(canonical(read(bytes).mesh)).toEqual(canonical(mesh));
		const view = new DataView(bytes.buffer);
		for (let t = 0; t < mesh.triangles.length / 3; t++) {
			const f = Array.from({ length: 12 }, (_, i) => view.getFloat32(84 + 50 * t + 4 * i, true));
			const [u, v] = [1, 2].map((c) => [0, 1, 2].map((k) => f[3 + 3 * c + k] - f[3 + k]));
			expect(Math.hypot(f[0], f[1], f[2])).toBeCloseTo(1, 6);
			const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
			expect(f[0] * n[0] + f[1] * n[1] + f[2] * n[2]).toBeCloseTo(Math.hypot(...n), 3);
		}
	});

	it("binary PLY is read back the same, colours and last digits too", () => {
		const colours = Uint8Array.from({ length: mesh.positions.length }, (_, i) => (31 * i) % 256);
		const back = read(writeBinaryPly({ ...mesh, colours })).mesh;
		expect(back).toEqual({ ...mesh, colours });
		const fine = fineFigure([0, 0, 0]);
		expect(read(writeBinaryPly(fine, "double")).mesh).toEqual(fine);
		expect(read(writeBinaryPly(fine)).mesh.positions).toEqual(fine.positions.map(Math.fround));
	});

	it("a triangle without area gets a normal of nought", () => {
		const flat = { positions: Float64Array.of(0, 0, 0, 1, 1, 1, 2, 2, 2), triangles: Uint32Array.of(0, 1, 2) };
		expect([...writeBinaryStl(flat).slice(84, 96)]).toEqual(new Array(12).fill(0));
	});
});

describe("hashScan", () => {
	it("gives the SHA-256 of the published test vectors (FIPS 180-4: from memory) and of files of several chunks", () => {
		const hash = (bytes: Uint8Array): string => finish(hashScan(memorySource(bytes)));
		expect(hash(new Uint8Array(0))).toBe("e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
		expect(hash(bytesOf("abc"))).toBe("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
		const long = Uint8Array.from({ length: 2_500_001 }, (_, i) => i * i);
		expect(hash(long)).toBe(createHash("sha256").update(long).digest("hex"));
	});
});

describe("progress", () => {
	it("never falls, stays within 0 and 1, and comes at least once a megabyte", () => {
		const many = meshOf(squareFigure(2, 100));
		const copies = 300;
		const triangles = Uint32Array.from(
			{ length: copies * many.triangles.length },
			(_, i) => many.triangles[i % many.triangles.length],
		);
		const positions = many.positions;
		const turnedRound = ply(squareFigure(2, 40), { facesFirst: true, strangers: true });
		for (const bytes of [
			writeBinaryStl({ positions, triangles }),
			writeBinaryPly({ positions, triangles }),
			turnedRound,
		]) {
			const job = readScan(memorySource(bytes), "scan");
			let before = 0;
			let steps = 0;
			for (let step = job.next(); !step.done; step = job.next(), steps++) {
				expect(step.value.share).toBeGreaterThanOrEqual(before);
				expect(step.value.share).toBeLessThanOrEqual(1);
				before = step.value.share;
			}
			expect(steps).toBeGreaterThanOrEqual(Math.floor(bytes.length / 2 ** 20));
		}
	});
});
