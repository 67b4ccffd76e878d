/** From disk to welded mesh, 1.6 million triangles, against three-stdlib's loaders; and the memory that it takes. */

import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { mergeVertices, PLYLoader, STLLoader } from "three-stdlib";
import { finish } from "../../core/job.ts";
import { examine } from "../../core/scan/health.ts";
import { type TriangleMesh, vertexCount } from "../../core/scan/mesh.ts";
import { readScan, type ScanFile } from "../../core/scan/readScan.ts";
import { writeBinaryPly, writeBinaryStl } from "../../core/scan/writeScan.ts";
import { openFileSource } from "../../electron/files/fileSource.ts";
import { rippledRing } from "../support/rippledRing.ts";
import { type Comparison, collectGarbage } from "./harness.ts";

/** As most programs write it: exponents and seven digits, as C's %e does. */
function asciiStl({ positions: p, triangles }: TriangleMesh): string {
	const parts = ["solid ring\n"];
	for (let t = 0; t < triangles.length; t += 3) {
		parts.push("facet normal 0.0 0.0 1.0\n outer loop\n");
		for (let k = 0; k < 3; k++) {
			const v = 3 * triangles[t + k];
			parts.push(`  vertex ${p[v].toExponential(6)} ${p[v + 1].toExponential(6)} ${p[v + 2].toExponential(6)}\n`);
		}
		parts.push(" endloop\nendfacet\n");
	}
	parts.push("endsolid ring\n");
	return parts.join("");
}

function read(path: string): ScanFile {
	const source = openFileSource(path);
	try {
		return finish(readScan(source, path));
	} finally {
		source.close();
	}
}

/** Most bytes in buffers while a scan is read, over those before. */
function peakOf(path: string): number {
	collectGarbage();
	const before = process.memoryUsage().arrayBuffers;
	const source = openFileSource(path);
	const job = readScan(source, path);
	let peak = 0;
	for (let step = job.next(); !step.done; step = job.next())
		peak = Math.max(peak, process.memoryUsage().arrayBuffers - before);
	source.close();
	return peak;
}

const bufferOf = (path: string): ArrayBuffer => {
	const file = readFileSync(path);
	// Great files come in a buffer of their own, which need not be copied.
	const own = file.byteOffset === 0 && file.length === file.buffer.byteLength;
	return (own ? file.buffer : file.buffer.slice(file.byteOffset, file.byteOffset + file.length)) as ArrayBuffer;
};

const count = (wanted: number) => (found: number, what: string) => {
	if (found !== wanted) throw new Error(`${what}: ${found} instead of ${wanted}`);
};

export default function* scanBench(): Iterable<Comparison> {
	const folder = mkdtempSync(join(tmpdir(), "puntello-bench-"));
	try {
		const mesh = rippledRing(1264, 633);
		const million = mesh.triangles.length / 3e6;
		const vertices = count(vertexCount(mesh));
		const corners = count(mesh.triangles.length);
		const [stl, text, ply] = ["ring.stl", "ring-text.stl", "ring.ply"].map((name) => join(folder, name));
		writeFileSync(stl, writeBinaryStl(mesh));
		writeFileSync(text, asciiStl(mesh));
		writeFileSync(ply, writeBinaryPly(mesh));
		for (const path of [stl, text, ply]) {
			const mb = peakOf(path) / 1e6 / million;
			console.log(
				`${path.slice(folder.length + 1)}: buffers at most ${mb.toFixed(0)} MB a million triangles (aim ≤ 120)`,
			);
		}
		const welded = (ours: unknown): void => vertices(vertexCount((ours as ScanFile).mesh), "ours");
		yield {
			name: `binary STL, ${million.toFixed(1)} million triangles, welded`,
			against: "three-stdlib STLLoader + mergeVertices",
			aim: 0.12,
			ours: () => read(stl),
			theirs: () => {
				const geometry = new STLLoader().parse(bufferOf(stl));
				geometry.deleteAttribute("normal");
				return mergeVertices(geometry).getAttribute("position").count;
			},
			agree: (ours, theirs) => {
				welded(ours);
				vertices(theirs as number, "theirs");
			},
		};
		yield {
			name: `ASCII STL, ${million.toFixed(1)} million triangles, welded`,
			against: "three-stdlib STLLoader alone",
			aim: 0.25,
			ours: () => read(text),
			theirs: () => new STLLoader().parse(bufferOf(text)).getAttribute("position").count,
			agree: (ours, theirs) => {
				welded(ours);
				corners(theirs as number, "theirs");
			},
		};
		yield {
			name: `binary PLY, ${million.toFixed(1)} million triangles, welded`,
			against: "three-stdlib PLYLoader alone",
			aim: 0.6,
			ours: () => read(ply),
			theirs: () => new PLYLoader().parse(bufferOf(ply)).getAttribute("position").count,
			agree: (ours, theirs) => {
				welded(ours);
				vertices(theirs as number, "theirs");
			},
		};
		const { mesh: scan } = read(stl);
		yield {
			name: `health of ${million.toFixed(1)} million triangles`,
			against: "reading the binary STL (ours)",
			aim: null,
			ours: () => finish(examine(scan)),
			theirs: () => read(stl),
			agree: (ours) => {
				if (!(ours as { closed: boolean }).closed) throw new Error("the ring is closed");
			},
		};
	} finally {
		rmSync(folder, { recursive: true });
	}
}
