import { describe, expect, it } from "vitest";
import { finish } from "../../../core/job.ts";
import { type Issue, Refusal } from "../../../core/refusal.ts";
import { readScan, type ScanFile } from "../../../core/scan/readScan.ts";
import { lineOf, memorySource } from "../../../core/scan/source.ts";
import { scanRefusals } from "../../../core/text/scanRefusals.ts";
import { asciiStl, binaryStl, bytesOf, joined, ply, squareFigure } from "./scanWriters.ts";

const figure = squareFigure(3, 6);
const triangles = 2 * figure.squares.length;

const read = (bytes: Uint8Array): ScanFile => finish(readScan(memorySource(bytes), "scan.stl"));

/** What the bytes are refused with; its sentence must be one line, name the file, and hold no missing fact. */
function refusal(bytes: Uint8Array): Issue {
	try {
		read(bytes);
	} catch (error) {
		if (!(error instanceof Refusal)) throw error;
		const sentence = scanRefusals[error.issue.code](error.issue.facts);
		expect(sentence).toMatch(/^scan\.stl[^\n]*\.$/);
		expect(sentence).not.toMatch(/undefined|NaN\b.*expected \d|null|\[object/);
		return error.issue;
	}
	return expect.fail("was read");
}

function withFloat(bytes: Uint8Array, at: number, value: number): Uint8Array {
	const copy = bytes.slice();
	new DataView(copy.buffer).setFloat32(at, value, true);
	return copy;
}

describe("refused STL", () => {
	it("nothing, and things that are no scan", () => {
		expect(refusal(new Uint8Array(0)).code).toBe("scan.empty");
		expect(refusal(bytesOf("Dear Sir,\nthe model is ready.\n")).code).toBe("stl.notStl");
		expect(refusal(bytesOf("x".repeat(5000))).code).toBe("stl.notStl");
		expect(refusal(Uint8Array.of(1, 2, 3)).code).toBe("stl.notStl");
		expect(refusal(bytesOf("solid nothing\nendsolid nothing\n")).code).toBe("scan.noTriangles");
		expect(refusal(new Uint8Array(84)).code).toBe("scan.noTriangles");
	});

	it("a binary file that ends too soon, with what is there", () => {
		const issue = refusal(binaryStl(figure).slice(0, 84 + 50 * 7 + 20));
		expect(issue).toEqual({
			code: "stl.truncated",
			facts: { name: "scan.stl", found: 84 + 370, expected: 84 + 50 * triangles, triangles, whole: 7 },
		});
	});

	it("a header that claims four thousand million triangles, without taking memory for them", () => {
		const before = process.memoryUsage().arrayBuffers;
		expect(refusal(binaryStl(figure, { count: 4_000_000_000 })).facts.triangles).toBe(4_000_000_000);
		expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(1e7);
	});

	it.each([Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY])(
		"a coordinate of %d, with its place",
		(value) => {
			const at = 84 + 50 * 4 + 12 + 4 * 5;
			expect(refusal(withFloat(binaryStl(figure), at, value))).toEqual({
				code: "stl.notFinite",
				facts: { name: "scan.stl", triangle: 5, at, found: String(value) },
			});
		},
	);

	const facet = (vertices: string[]): string =>
		`solid a\nfacet normal 0 0 1\nouter loop\n${vertices.map((v) => `vertex ${v}\n`).join("")}endloop\nendfacet\nendsolid\n`;
	it.each([
		["a facet of two corners", facet(["0 0 0", "1 0 0"]), "stl.facetCorners", 2],
		["a facet of four corners", facet(["0 0 0", "1 0 0", "1 1 0", "0 1 0"]), "stl.facetCorners", 2],
		["a facet of none", facet([]), "stl.facetCorners", 2],
		["a word for a number", facet(["0 0 0", "1 0 zero", "1 1 0"]), "stl.badNumber", 5],
		["a coordinate too few", facet(["0 0 0", "1 0", "1 1 0"]), "stl.badNumber", 6],
		["NaN", facet(["0 0 0", "1 0 nan", "1 1 0"]), "stl.badNumber", 5],
		["infinity by overflow", facet(["0 0 0", "1 0 1e999", "1 1 0"]), "stl.badNumber", 5],
	])("%s, with its line", (_, text, code, line) => {
		for (const newline of ["\n", "\r\n", "\r"]) {
			const issue = refusal(bytesOf(text.replaceAll("\n", newline)));
			expect(issue.code).toBe(code);
			expect(issue.facts.line).toBe(line);
		}
	});

	it("a text file cut off anywhere but between facets, or a scan of whole facets", () => {
		const whole = asciiStl(figure);
		const facetEnds = new Set<number>();
		const text = String.fromCharCode(...whole);
		for (let at = text.indexOf("endfacet"); at >= 0; at = text.indexOf("endfacet", at + 1)) facetEnds.add(at + 8);
		let read1 = 0;
		for (let cut = 20; cut < whole.length; cut += 7) {
			try {
				const scan = read(whole.slice(0, cut));
				read1++;
				// Only whole facets, none made up: as many as have their three corners before the cut.
				const corners = text.slice(0, cut).split("vertex").length - 1;
				expect(scan.mesh.triangles.length).toBe(corners - (corners % 3));
			} catch (error) {
				expect(error).toBeInstanceOf(Refusal);
			}
		}
		expect(read1).toBeGreaterThan(10);
		const lastFacet = text.lastIndexOf("endloop");
		expect(refusal(whole.slice(0, lastFacet - 2)).code).toBe("stl.cutOff");
	});
});

describe("refused PLY", () => {
	const head = (...lines: string[]): Uint8Array => bytesOf(`ply\n${lines.join("\n")}\n`);
	const vertices = ["element vertex 3", "property float x", "property float y", "property float z"];
	const face = ["element face 1", "property list uchar int vertex_indices"];
	const three = "0 0 0\n1 0 0\n0 1 0\n";
	it.each([
		["no end of the header", head("format ascii 1.0", ...vertices), "ply.headerEnd", undefined],
		["no format", head(...vertices, ...face, "end_header"), "ply.header", 7],
		["a format of its own", head("format ascii2 1.0", "end_header"), "ply.header", 2],
		["a word of its own", head("format ascii 1.0", "elephant vertex 3", "end_header"), "ply.header", 3],
		[
			"a type of its own",
			head("format ascii 1.0", "element vertex 3", "property float128 x", "end_header"),
			"ply.header",
			4,
		],
		["a count that is none", head("format ascii 1.0", "element vertex -3", "end_header"), "ply.header", 3],
		["a property of nothing", head("format ascii 1.0", "property float x", "end_header"), "ply.header", 3],
		[
			"no z",
			joined([head("format ascii 1.0", ...vertices.slice(0, 3), ...face, "end_header"), bytesOf(three)]),
			"ply.noVertices",
			undefined,
		],
		[
			"points without faces",
			joined([head("format ascii 1.0", ...vertices, "end_header"), bytesOf(three)]),
			"ply.noFaces",
			undefined,
		],
		[
			"nothing at all",
			head("format ascii 1.0", "element vertex 0", ...vertices.slice(1), "element face 0", face[1], "end_header"),
			"scan.noTriangles",
			undefined,
		],
		[
			"more vertices than bytes",
			head("format binary_little_endian 1.0", "element vertex 4000000000", ...vertices.slice(1), ...face, "end_header"),
			"ply.claim",
			3,
		],
		[
			"an index too high",
			joined([head("format ascii 1.0", ...vertices, ...face, "end_header"), bytesOf(`${three}3 0 1 3\n`)]),
			"ply.badIndex",
			13,
		],
		[
			"an index below nought",
			joined([head("format ascii 1.0", ...vertices, ...face, "end_header"), bytesOf(`${three}3 0 1 -1\n`)]),
			"ply.badIndex",
			13,
		],
		[
			"half an index",
			joined([head("format ascii 1.0", ...vertices, ...face, "end_header"), bytesOf(`${three}3 0 1 1.5\n`)]),
			"ply.badIndex",
			13,
		],
		[
			"a list of minus one",
			joined([head("format ascii 1.0", ...vertices, ...face, "end_header"), bytesOf(`${three}-1 0 1 2\n`)]),
			"ply.badLength",
			13,
		],
		[
			"a short line",
			joined([head("format ascii 1.0", ...vertices, ...face, "end_header"), bytesOf("0 0 0\n1 0\n0 1 0\n3 0 1 2\n")]),
			"ply.shortLine",
			11,
		],
		[
			"a long line",
			joined([
				head("format ascii 1.0", ...vertices, ...face, "end_header"),
				bytesOf("0 0 0\n1 0 0 0\n0 1 0\n3 0 1 2\n"),
			]),
			"ply.longLine",
			11,
		],
		[
			"a list longer than said",
			joined([head("format ascii 1.0", ...vertices, ...face, "end_header"), bytesOf(`${three}3 0 1 2 0\n`)]),
			"ply.longLine",
			13,
		],
		[
			"a body cut off",
			joined([head("format ascii 1.0", ...vertices, ...face, "end_header"), bytesOf(`${three}3 0 1`)]),
			"ply.cutOff",
			undefined,
		],
		[
			"NaN in a corner",
			joined([
				head("format ascii 1.0", ...vertices, ...face, "end_header"),
				bytesOf("0 0 0\n1 nan 0\n0 1 0\n3 0 1 2\n"),
			]),
			"ply.notFinite",
			11,
		],
	])("%s", (_, bytes, code, line) => {
		const issue = refusal(bytes);
		expect(issue.code).toBe(code);
		expect(issue.facts.line).toBe(line);
	});

	it("a binary body cut off at any byte", () => {
		const small = squareFigure(1, 2);
		for (const format of ["binary_little_endian", "binary_big_endian"] as const) {
			const whole = ply(small, { format, strangers: true });
			const start = String.fromCharCode(...whole).indexOf("end_header\n") + 11;
			for (let cut = start; cut < whole.length; cut++)
				expect(["ply.cutOff", "ply.claim"]).toContain(refusal(whole.slice(0, cut)).code);
		}
	});

	it("a list whose length runs past the end of the file, before memory is taken for it", () => {
		const whole = ply(figure, { format: "binary_little_endian", countType: "uint" });
		const at = whole.length - 16;
		const bad = whole.slice();
		new DataView(bad.buffer).setUint32(at, 3_000_000_000, true);
		const before = process.memoryUsage().arrayBuffers;
		expect(refusal(bad).code).toBe("ply.cutOff");
		expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(1e8);
	});
});

describe("taken all the same", () => {
	it("blank lines by the megabyte between PLY lines, and lines longer than a chunk", () => {
		const text = String.fromCharCode(...ply(figure)).split("end_header\n");
		const spaced = `${text[0]}end_header\n${text[1].replace("\n", "\n".repeat(3_000_000)).replace(/\n(?=3 )/, `\n${" ".repeat(2_500_000)}`)}`;
		expect(read(bytesOf(spaced)).mesh.triangles.length).toBe(3 * triangles);
	});

	it("coordinates at the end of what 32 bits hold", () => {
		const scan = read(withFloat(binaryStl(figure), 84 + 12, 3.4e38));
		expect(scan.mesh.triangles.length).toBe(3 * triangles);
	});
});

describe("lineOf", () => {
	it("counts LF, CR and CRLF, over the borders of chunks too", () => {
		const source = memorySource(bytesOf("a\nb\r\nc\rd\n\ne"));
		expect([0, 1, 2, 4, 5, 7, 9, 10].map((at) => lineOf(source, at))).toEqual([1, 1, 2, 3, 3, 4, 5, 6]);
		const long = new Uint8Array((1 << 20) + 10).fill(65);
		long[(1 << 20) - 1] = 13;
		long[1 << 20] = 10;
		expect(lineOf(memorySource(long), (1 << 20) + 5)).toBe(2);
	});
});
