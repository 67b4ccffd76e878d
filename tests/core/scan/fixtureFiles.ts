/** The recipe of the scans in fixtures/: `npx tsx tests/core/scan/fixtureFiles.ts` writes them anew, byte for byte. */

import { writeFileSync } from "node:fs";
import { pathToFileURL } from "node:url";
import { box, together } from "./brokenMeshes.ts";
import { type AsciiStlDress, bytesOf, joined } from "./scanWriters.ts";

type Draft = ReturnType<typeof box>;

const BOX = box([0, 0, 0], [300, 200, 100]);
/** Regular, edge 100·√2, corners on the axes. */
const OCTAHEDRON: Draft = {
	points: [
		[100, 0, 0],
		[-100, 0, 0],
		[0, 100, 0],
		[0, -100, 0],
		[0, 0, 100],
		[0, 0, -100],
	],
	faces: [
		[0, 2, 4],
		[2, 1, 4],
		[1, 3, 4],
		[3, 0, 4],
		[2, 0, 5],
		[1, 2, 5],
		[3, 1, 5],
		[0, 3, 5],
	],
};
const TETRAHEDRON: Draft = {
	points: [
		[0, 0, 0],
		[90, 0, 0],
		[0, 120, 0],
		[0, 0, 150],
	],
	faces: [
		[0, 2, 1],
		[0, 1, 3],
		[1, 2, 3],
		[2, 0, 3],
	],
};
const turn = (f: number[]): number[] => [f[0], f[2], f[1]];
const without = (draft: Draft, ...faces: number[]): Draft => ({
	points: draft.points,
	faces: draft.faces.filter((_, t) => !faces.includes(t)),
});

function stl(draft: Draft): Uint8Array {
	const bytes = new Uint8Array(84 + 50 * draft.faces.length);
	bytes.set(bytesOf("Puntello fixture"));
	const view = new DataView(bytes.buffer);
	view.setUint32(80, draft.faces.length, true);
	draft.faces.forEach((f, t) => {
		f.forEach((v, c) => {
			for (let k = 0; k < 3; k++) view.setFloat32(84 + 50 * t + 12 + 12 * c + 4 * k, draft.points[v][k], true);
		});
	});
	return bytes;
}

function stlText(draft: Draft, dress: AsciiStlDress = {}): Uint8Array {
	const lines = ["solid fixture"];
	for (const f of draft.faces)
		lines.push(
			"facet normal 0 0 0",
			" outer loop",
			...f.map((v) => `  vertex ${draft.points[v].map((x) => x.toExponential(3)).join(" ")}`),
			" endloop",
			"endfacet",
		);
	lines.push("endsolid fixture", "");
	return bytesOf(lines.join(dress.newline ?? "\n"));
}

function plyText(draft: Draft, properties = "float"): Uint8Array {
	const lines = ["ply", "format ascii 1.0", "comment Puntello fixture", `element vertex ${draft.points.length}`];
	lines.push(...["x", "y", "z"].map((k) => `property ${properties} ${k}`), `element face ${draft.faces.length}`);
	lines.push("property list uchar int vertex_indices", "end_header");
	lines.push(...draft.points.map((p) => p.join(" ")), ...draft.faces.map((f) => [f.length, ...f].join(" ")), "");
	return bytesOf(lines.join("\n"));
}

/** Doubles and 16-bit indices behind 32-bit counts, in either byte order, with a colour on every vertex. */
function plyBinary(draft: Draft, little: boolean): Uint8Array {
	const header = [
		"ply",
		`format binary_${little ? "little" : "big"}_endian 1.0`,
		"comment Puntello fixture",
		`element vertex ${draft.points.length}`,
		...["x", "y", "z"].map((k) => `property double ${k}`),
		...["red", "green", "blue"].map((k) => `property uchar ${k}`),
		`element face ${draft.faces.length}`,
		"property list uint ushort vertex_index",
		"end_header",
		"",
	].join("\n");
	const body = new DataView(
		new ArrayBuffer(27 * draft.points.length + draft.faces.reduce((s, f) => s + 4 + 2 * f.length, 0)),
	);
	let at = 0;
	draft.points.forEach((p, v) => {
		for (const x of p) {
			body.setFloat64(at, x, little);
			at += 8;
		}
		for (const colour of [40 * v, 255 - 40 * v, 128]) body.setUint8(at++, colour);
	});
	for (const f of draft.faces) {
		body.setUint32(at, f.length, little);
		at += 4;
		for (const v of f) {
			body.setUint16(at, v, little);
			at += 2;
		}
	}
	return joined([bytesOf(header), new Uint8Array(body.buffer)]);
}

/** An L of 40 × 40 with arms 10 wide, 20 high: two faces of six corners that are not convex, six of four. */
const ANGLE: Draft = (() => {
	const outline = [
		[0, 0],
		[40, 0],
		[40, 10],
		[10, 10],
		[10, 40],
		[0, 40],
	];
	const points = [...outline.map((p) => [...p, 0]), ...outline.map((p) => [...p, 20])];
	const sides = outline.map((_, i) => [i, (i + 1) % 6, 6 + ((i + 1) % 6), 6 + i]);
	return { points, faces: [[5, 4, 3, 2, 1, 0], [6, 7, 8, 9, 10, 11], ...sides] };
})();

function strips(): Uint8Array {
	const lines = [
		"ply",
		"format ascii 1.0",
		"element vertex 6",
		"property float x",
		"property float y",
		"property float z",
	];
	lines.push("element tristrips 1", "property list int int vertex_indices", "end_header");
	lines.push(...OCTAHEDRON.points.map((p) => p.join(" ")));
	// Every face a strip of its own but the first two, which share the edge 2–4.
	const list = [0, 2, 4, 1, -1, ...OCTAHEDRON.faces.slice(2).flatMap((f) => [...f, -1])].slice(0, -1);
	lines.push(`${list.length} ${list.join(" ")}`, "");
	return bytesOf(lines.join("\r"));
}

function withFloat(bytes: Uint8Array, at: number, value: number): Uint8Array {
	new DataView(bytes.buffer).setFloat32(at, value, true);
	return bytes;
}

function claiming(bytes: Uint8Array, triangles: number): Uint8Array {
	new DataView(bytes.buffer).setUint32(80, triangles, true);
	return bytes;
}

/** Every file of fixtures/ by its name. */
export const FIXTURES: Readonly<Record<string, Uint8Array>> = {
	"box.stl": stl(BOX),
	"box-solid-header.stl": (() => {
		const bytes = stl(BOX);
		bytes.fill(32, 0, 80).set(bytesOf("solid box"));
		return bytes;
	})(),
	"tetrahedron-crlf.stl": stlText(TETRAHEDRON, { newline: "\r\n" }),
	"octahedron.ply": plyText(OCTAHEDRON),
	"octahedron-strips-cr.ply": strips(),
	"octahedron-big-endian.ply": plyBinary(OCTAHEDRON, false),
	"angle-polygons.ply": plyBinary(ANGLE, true),
	"tetrahedron-map-coordinates.ply": plyText(
		{
			points: TETRAHEDRON.points.map(([x, y, z]) => [x + 500000.125, y + 4649776.5, z + 812.0625]),
			faces: TETRAHEDRON.faces,
		},
		"double",
	),
	"head-size-metres.stl": stl(box([0, 0, 0], [0.2, 0.25, 0.3])),
	"head-size-inches.stl": stl(box([0, 0, 0], [8, 10, 12])),
	"open-box.stl": stl(without(BOX, 2, 3)),
	"inside-out-box.stl": stl(box([0, 0, 0], [300, 200, 100], true)),
	"one-triangle-flipped.stl": stl({ points: BOX.points, faces: BOX.faces.map((f, t) => (t === 5 ? turn(f) : f)) }),
	"doubled-triangles.stl": stl({ points: BOX.points, faces: [...BOX.faces, BOX.faces[0], turn(BOX.faces[7])] }),
	"arealess-triangles.stl": stl({
		points: [...BOX.points, [150, 0, 0]],
		faces: [...BOX.faces, [0, 0, 5], [0, 8, 1]],
	}),
	"hollow-box.stl": stl(together(BOX, box([100, 50, 25], [200, 150, 75], true))),
	"box-and-crumbs.stl": stl(together(BOX, box([400, 0, 0], [402, 2, 2]), box([410, 5, 0], [411, 6, 1]))),
	"crowded-edge.stl": stl({ points: [...BOX.points, [0, 0, 400]], faces: [...BOX.faces, [0, 1, 8]] }),
	"truncated.stl": stl(BOX).slice(0, 84 + 50 * 7 + 23),
	"claims-four-thousand-million.stl": claiming(stl(BOX), 4_000_000_000),
	"not-a-number.stl": withFloat(stl(BOX), 84 + 50 * 3 + 12 + 4, Number.NaN),
	"stops-in-a-facet.stl": stlText(TETRAHEDRON).slice(0, 300),
	"text.stl": bytesOf("Dear carver,\nthe scan comes with the next post.\n"),
	"nothing.stl": new Uint8Array(0),
	"empty.ply": plyText({ points: [], faces: [] }),
	"points-only.ply": plyText({ points: OCTAHEDRON.points, faces: [] }),
	"index-too-high.ply": plyText({ points: TETRAHEDRON.points, faces: [...TETRAHEDRON.faces.slice(1), [0, 1, 4]] }),
	"truncated.ply": plyBinary(OCTAHEDRON, true).slice(0, -5),
};

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href)
	for (const [name, bytes] of Object.entries(FIXTURES))
		writeFileSync(new URL(`../../../fixtures/${name}`, import.meta.url), bytes);
