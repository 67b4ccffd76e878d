/** `survey SCAN`: health and measures of a scan, in mm at the size of the stone, along the scan's own axes. */

import { soundAsScanned } from "../../core/plan/soundAsScanned.ts";
import { lengthText } from "../../core/text/format.ts";
import { refusalText } from "../../core/text/refusals.ts";
import { soundnessText } from "../../core/text/soundWords.ts";
import type { Vec3 } from "../../core/vector.ts";
import { readOptions, SCAN_OPTIONS, takingOf } from "./options.ts";
import { settled, takeIn } from "./takeIn.ts";
import type { Verb } from "./verb.ts";

export const survey: Verb = async (argv, shop) => {
	const { values, plain } = readOptions("survey", argv, SCAN_OPTIONS, { what: "a scan" });
	const taking = takingOf(values);
	const scan = await takeIn(plain[0], shop);
	const { name, sha256, file, health } = scan;
	const { min, max } = health.bounds;
	const { unit, reason, mmPerUnit: mm } = settled(scan, taking);
	/** Scan coordinates of a place of the recentred mesh, in mm, mirrored across x when asked. */
	const place = (at: Vec3): Vec3 => [
		(taking.mirrored ? -mm : mm) * (at[0] + file.origin[0]),
		mm * (at[1] + file.origin[1]),
		mm * (at[2] + file.origin[2]),
	];
	const [a, b] = [place(min), place(max)];
	const bounds = taking.mirrored ? { min: [b[0], a[1], a[2]], max: [a[0], b[1], b[2]] } : { min: a, max: b };
	const notes = file.notes.map(refusalText);
	const { triangles, weldedVertices, shells, openEdges, nonManifoldEdges, closed } = health;
	const { flippedTriangles, degenerateTriangles, duplicateTriangles, duplicateSameWay } = health;
	const verdict = soundnessText(soundAsScanned(scan, mm), (length) => lengthText(length, "mm", 0));
	const json = {
		file: name,
		sha256,
		format: file.format,
		triangles,
		weldedVertices,
		shells,
		openEdges,
		nonManifoldEdges,
		flippedTriangles,
		degenerateTriangles,
		duplicateTriangles,
		duplicateSameWay,
		closed,
		area_mm2: health.area * mm * mm,
		volume_mm3: health.volume === null ? null : Math.abs(health.volume) * mm * mm * mm,
		centroid_mm: health.centroid && place(health.centroid),
		bounds_mm: bounds,
		unit: { chosen: unit, reason: refusalText(reason) },
		scale: taking.scale ?? 1,
		mirrored: taking.mirrored,
		verdict,
		notes,
	};
	const count = (n: number): string => n.toLocaleString("en-GB");
	const sides = [0, 1, 2].map((k) => `${((max[k] - min[k]) * mm).toFixed(1)}`).join(" × ");
	return {
		json,
		rows: [
			["verdict", verdict],
			["scan", `${name}, ${file.format}`],
			["size", `${sides} mm`],
			["unit", json.unit.reason],
			["triangles", count(triangles)],
			["vertices, welded", count(weldedVertices)],
			["shells", count(shells)],
			["closed", closed ? "yes" : "no"],
			["open edges", count(openEdges)],
			["edges of more than two triangles", count(nonManifoldEdges)],
			["triangles that face the wrong way", count(flippedTriangles)],
			["triangles without area", count(degenerateTriangles)],
			["doubled triangles", count(duplicateTriangles)],
			["area", `${(json.area_mm2 / 1e6).toFixed(4)} m²`],
			["volume", json.volume_mm3 === null ? "none, the surface is open" : `${(json.volume_mm3 / 1e6).toFixed(3)} dm³`],
			...notes.map((note) => ["note", note] as const),
		],
	};
};
