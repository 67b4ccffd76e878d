/** Sentences of the scan stage: what is refused, what is noted about a file, and why a unit was proposed. */

import type { Facts, Sentences } from "./refusals.ts";

/** " in line 7 (byte 123)" or " at byte 123". */
const place = (f: Facts): string => (f.line === undefined ? ` at byte ${f.at}` : ` in line ${f.line} (byte ${f.at})`);
const many = (n: Facts[string], one: string, more = `${one}s`): string => `${n} ${n === 1 ? one : more}`;
const AGAIN = "Copy the file again from where it came, or export it once more.";

/** Millimetres as a carver would say them: "305 mm", "1.83 m". */
const size = (mm: Facts[string]): string =>
	Number(mm) < 1000 ? `${Number(Number(mm).toPrecision(3))} mm` : `${Number((Number(mm) / 1000).toPrecision(3))} m`;

const choices = (f: Facts): string => {
	const units = f.units as readonly string[];
	const mm = f.mm as readonly number[];
	return units.map((unit, i) => `${unit} (${size(mm[i])})`).join(", ");
};

/** The choices of mending in the carver's words. */
const MENDING: Readonly<Record<string, string>> = {
	weldWithin: "welding what lies close together",
	dropArealess: "leaving out triangles without area",
	dropDoubled: "leaving out doubled triangles",
	keepShells: "keeping chosen shells",
	faceOutward: "facing outwards",
	closeHolesUpTo: "closing holes",
};

export const scanRefusals: Sentences = {
	"scan.empty": (f) => `${f.name} is empty: 0 bytes; expected an STL or PLY scan. ${AGAIN}`,
	"scan.noTriangles": (f) => `${f.name} holds no triangles, so there is no surface to copy. Export the meshed scan.`,
	"scan.changed": (f) =>
		`${f.name} ended at byte ${f.at} while it was being read; it was longer at first. Wait until it is copied, then open it again.`,
	"stl.notStl": (f) =>
		`${f.name} is no scan that can be read: ${many(f.bytes, "byte")} without an STL header, STL facets or a PLY header. Export the scan as STL or PLY.`,
	"stl.truncated": (f) =>
		`${f.name} is cut off, or no STL: its header claims ${many(f.triangles, "triangle")} (${f.expected} bytes), found ${f.found} bytes with ${f.whole} whole ones. ${AGAIN}`,
	"stl.notFinite": (f) =>
		`${f.name}, triangle ${f.triangle} (byte ${f.at}): a coordinate is ${f.found}; expected a finite number. Repair the scan in the program it came from and export it again.`,
	"stl.badNumber": (f) =>
		`${f.name}${place(f)}: found "${f.found}"; expected a coordinate of a vertex. Repair the line, or export the scan again.`,
	"stl.facetCorners": (f) =>
		`${f.name}, the facet${place(f)}, triangle ${f.triangle}: found ${f.found === 4 ? "more than three corners" : many(f.found, "corner")}; expected three. Export the scan again as triangles.`,
	"stl.cutOff": (f) =>
		`${f.name} stops within triangle ${f.triangle}${place(f)}; expected its three corners and its end. ${AGAIN}`,
	"ply.header": (f) =>
		`${f.name}, line ${f.line} of the PLY header: found "${f.found}"; expected ${f.expected}. Export the scan again.`,
	"ply.headerEnd": (f) =>
		`${f.name} begins like a PLY file, but no line "end_header" stands in its first ${many(f.found, "byte")}. ${AGAIN}`,
	"ply.claim": (f) =>
		`${f.name}, line ${f.line}: the header claims ${f.count} of "${f.element}", at least ${f.expected} bytes; found ${f.found} bytes after the header. ${AGAIN}`,
	"ply.noVertices": (f) =>
		`${f.name} has no element "vertex" with x, y and z; expected the corners of a surface. Export the scan again.`,
	"ply.noFaces": (f) =>
		`${f.name} holds ${many(f.points, "point")} and no faces; expected a surface. Mesh the scan first in the scanner's program, then open the mesh.`,
	"ply.cutOff": (f) =>
		`${f.name} is cut off: it ends at byte ${f.at} after ${f.found} of "${f.element}"; expected ${f.expected}. ${AGAIN}`,
	"ply.badLength": (f) =>
		`${f.name}${place(f)}, element "${f.element}": a list is ${f.found} long; expected a whole number from 0 that fits the file. Export the scan again.`,
	"ply.badIndex": (f) =>
		`${f.name}${place(f)}, ${f.element} ${f.face}: found the vertex number ${f.found}; expected 0 to ${f.expected}. Export the scan again.`,
	"ply.notFinite": (f) =>
		`${f.name}${place(f)}: a vertex that the surface uses has a coordinate that is no finite number. Repair the scan in the program it came from and export it again.`,
	"ply.shortLine": (f) =>
		`${f.name}${place(f)}, element "${f.element}": the line ends before "${f.expected}" is complete; expected one value for each property. Export the scan again.`,
	"ply.longLine": (f) =>
		`${f.name}${place(f)}, element "${f.element}": found "${f.found}" after the last value; expected the end of the line. Export the scan again.`,
	"mend.nothingLeft": (f) =>
		`Mending (${MENDING[f.choice as string]}) would leave none of the ${many(f.triangles, "triangle")}; expected a surface. Take that choice back.`,
	"mend.shell": (f) => `There is no shell ${f.found}; expected 0 to ${f.expected}. Choose the shells to keep anew.`,
	"scan.otherKind": (f) =>
		`${f.name} is ${f.kind}; expected a scan as a mesh, STL or PLY. ${f.kind === "an archive (ZIP)" ? "Unpack it and open what is inside." : "Choose the scan's own file."}`,
	"back.direction": (f) =>
		`The back was to lie along ${f.found}; expected a direction with a length. Choose a direction away from the carved side.`,
	"back.distance": (f) =>
		`The back was to stand ${f.found} behind the scan; expected a length above 0. Correct the length.`,
	"back.closed": () => "The figure is closed and has no rim that a back could be carried from. Leave it as it is.",
	"back.brokenRim": (f) =>
		`A rim of ${many(f.vertices, "vertex", "vertices")} stops where neighbouring triangles face different ways; expected a closed rim. Choose to make the facing consistent first.`,
	"back.side": (f) =>
		`The rim of ${many(f.vertices, "vertex", "vertices")} faces the way the back was to go; expected the carved side on the other side. Turn the direction round.`,
	"unit.inDoubt": (f) =>
		`${f.name} measures ${Number(Number(f.size).toPrecision(4))} in a unit that the file does not name; it may be ${choices(f)}. Say which: on page 1 of the window, or with --unit on the command line.`,
};

/** What was found in a file that could be read, for the card of the scan. */
export const scanNotes: Sentences = {
	"scan.trailingBytes": (f) => `${many(f.bytes, "byte")} after the last triangle belong to nothing and were left out.`,
	"scan.decimalCommas": () => "Decimal commas were read as decimal points.",
	"stl.countMissing": (f) => `The header says 0 triangles; the ${f.triangles} that are there were read.`,
	"stl.coloursIgnored": (f) =>
		`Colour bits on ${many(f.triangles, "triangle")} were left out; programs do not agree on them.`,
	"stl.solids": (f) => `${f.solids} solids in one file were read as one figure.`,
	"stl.endMissing": () => "The last line of the file, endsolid, is missing; check that nothing of the figure is.",
	"ply.polygons": (f) =>
		`${many(f.polygons, "polygon")} of more than three corners ${f.polygons === 1 ? "was" : "were"} cut into triangles.`,
	"ply.shortFaces": (f) =>
		`${many(f.faces, "face")} of fewer than three corners ${f.faces === 1 ? "was" : "were"} left out.`,
	"ply.looseVertices": (f) =>
		`${many(f.vertices, "vertex", "vertices")} that no face uses ${f.vertices === 1 ? "was" : "were"} left out.`,
};

/** Why a unit was taken or is asked for. */
export const unitReasons: Sentences = {
	"unit.given": (f) => `${f.unit}, as given.`,
	"unit.fromSize": (f) => {
		const others = f.others as readonly string[];
		const rarer = others.length > 0 ? ` It could also be ${others.join(" or ")}, which scanners seldom write.` : "";
		return `The largest measure is ${Number(Number(f.size).toPrecision(4))}: in ${f.unit} a figure of ${size(f.mm)}.${rarer}`;
	},
	"unit.unknown": (f) => `The largest measure is ${Number(Number(f.size).toPrecision(4))}, which may be ${choices(f)}.`,
};
