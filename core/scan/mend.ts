/**
 * Mending: what a carver may choose to have put right in a scan. The file stays as it is; the choices are part of the
 * commission and give the same mesh every time.
 */

import { type Job, within } from "../job.ts";
import { Refusal } from "../refusal.ts";
import { withoutDoubled } from "./dropDoubled.ts";
import { type Edges, SLICE, sortEdges } from "./edges.ts";
import { facing } from "./facing.ts";
import { fillHoles } from "./holes.ts";
import { boundaryOf, openLoops } from "./loops.ts";
import { withoutLoose } from "./loose.ts";
import { areaBetween, hasNoArea } from "./measures.ts";
import { type TriangleMesh, triangleCount, vertexCount } from "./mesh.ts";
import { listShells, type ShellList } from "./shellList.ts";
import { findShells, type Shells } from "./shells.ts";
import { weldWithin } from "./weldWithin.ts";

/** Lengths are in the units of the mesh. */
export interface MendChoices {
	/** Vertices at most this far apart become one; 0: none. */
	readonly weldWithin: number;
	/** Triangles without area are left out. */
	readonly dropArealess: boolean;
	/**
	 * Of triangles with the same three vertices one stays; flaps of two against each other, grown on the surface, go; what
	 * closes the surface stays, though it be doubled.
	 */
	readonly dropDoubled: boolean;
	/** Shells that stay: all, the one of the largest area, or those of these numbers as `examine` counts the mesh so far mended. */
	readonly keepShells: "all" | "largest" | readonly number[];
	/** Triangles are turned so that the surface faces one way, outwards. */
	readonly faceOutward: boolean;
	/** Holes whose rim is at most this long are closed; 0: none. Meant for a surface that faces one way. */
	readonly closeHolesUpTo: number;
}

/** What one choice did. */
export interface MendStep {
	readonly choice: keyof MendChoices;
	/**
	 * What the choice counts: vertices (weldWithin), arealess, doubled or wrongly facing triangles, shells, or loops of the
	 * boundary (closeHolesUpTo), before and after.
	 */
	readonly before: number;
	readonly after: number;
	/** Triangles of the mesh before and after. */
	readonly trianglesBefore: number;
	readonly trianglesAfter: number;
}

export interface Mended {
	/** The mesh itself when nothing was chosen; every vertex of a mended one is in use. */
	readonly mesh: TriangleMesh;
	/** In the order in which they were done. */
	readonly steps: readonly MendStep[];
	/** The shells among which `keepShells` chooses: those of the mesh when its turn comes, in the mesh's units and frame. */
	readonly shells: ShellList;
}

/**
 * Mends a welded mesh by the choices, in this order: weld, drop arealess, drop doubled, keep shells, face, close holes.
 * The mesh handed in is not changed; `known` are its shells, where they have been found before. Throws Refusal when nothing
 * would be left, and for a shell that is not there.
 */
export function* mend(mesh: TriangleMesh, choices: MendChoices, known?: Shells): Job<Mended> {
	const steps: MendStep[] = [];
	let now = mesh;
	let shells: Shells = { of: new Uint32Array(0), count: 0 };
	let listed: ShellList = { count: 0, shells: [] };
	const stages: [keyof MendChoices, boolean, (m: TriangleMesh) => Job<Done>][] = [
		["weldWithin", choices.weldWithin > 0, (m) => weldStep(m, choices.weldWithin)],
		["dropArealess", choices.dropArealess, dropArealess],
		["dropDoubled", choices.dropDoubled, dropDoubled],
		["keepShells", choices.keepShells !== "all", (m) => keepShells(m, choices.keepShells, shells)],
		["faceOutward", choices.faceOutward, faceOutward],
		["closeHolesUpTo", choices.closeHolesUpTo > 0, (m) => closeHoles(m, choices)],
	];
	for (let i = 0; i < stages.length; i++) {
		const [choice, chosen, step] = stages[i];
		if (choice === "keepShells") {
			shells = now === mesh && known ? known : (yield* edgesAndShells(now)).shells;
			listed = listShells(now, shells.of, shells.count);
		}
		if (!chosen) continue;
		const done = yield* within(step(now), i / stages.length, (i + 1) / stages.length);
		const trianglesBefore = triangleCount(now);
		now = done.mesh;
		steps.push({ choice, before: done.before, after: done.after, trianglesBefore, trianglesAfter: triangleCount(now) });
		if (triangleCount(now) === 0) throw new Refusal("mend.nothingLeft", { choice, triangles: trianglesBefore });
	}
	if (now === mesh) return { mesh, steps, shells: listed };
	const triangles = now.triangles === mesh.triangles ? now.triangles.slice() : now.triangles;
	const { mesh: tidy } = yield* withoutLoose(now.positions, triangles, now.colours ?? null);
	return { mesh: tidy, steps, shells: listed };
}

interface Done {
	readonly mesh: TriangleMesh;
	readonly before: number;
	readonly after: number;
}

/** The mesh with those triangles alone that are marked. */
function only(mesh: TriangleMesh, keep: Uint8Array): TriangleMesh {
	let n = 0;
	for (let t = 0; t < keep.length; t++) n += keep[t];
	const triangles = new Uint32Array(3 * n);
	for (let t = 0, to = 0; t < keep.length; t++) {
		if (keep[t] === 0) continue;
		for (let k = 0; k < 3; k++) triangles[to++] = mesh.triangles[3 * t + k];
	}
	return { ...mesh, triangles };
}

function* weldStep(mesh: TriangleMesh, distance: number): Job<Done> {
	const becomes = yield* weldWithin(mesh.positions, distance);
	const triangles = mesh.triangles.map((v) => becomes[v]);
	const keep = new Uint8Array(triangleCount(mesh));
	for (let t = 0; t < keep.length; t++) {
		const [a, b, c] = [triangles[3 * t], triangles[3 * t + 1], triangles[3 * t + 2]];
		// A triangle that the welding drew together to a line is gone; one that named a vertex twice before is not its concern.
		const [a0, b0, c0] = [mesh.triangles[3 * t], mesh.triangles[3 * t + 1], mesh.triangles[3 * t + 2]];
		const whole = a !== b && b !== c && c !== a;
		keep[t] = whole || a0 === b0 || b0 === c0 || c0 === a0 ? 1 : 0;
	}
	const stay = becomes.reduce((sum, w, v) => sum + (w === v ? 1 : 0), 0);
	return { mesh: only({ ...mesh, triangles }, keep), before: vertexCount(mesh), after: stay };
}

function* dropArealess(mesh: TriangleMesh): Job<Done> {
	const keep = new Uint8Array(triangleCount(mesh)).fill(1);
	let flat = 0;
	const { positions, triangles } = mesh;
	for (let from = 0; from < keep.length; from += SLICE) {
		for (let t = from; t < Math.min(from + SLICE, keep.length); t++)
			if (hasNoArea(positions, triangles[3 * t], triangles[3 * t + 1], triangles[3 * t + 2])) {
				keep[t] = 0;
				flat++;
			}
		yield { stage: "leaving out triangles without area", share: from / keep.length };
	}
	return { mesh: only(mesh, keep), before: flat, after: 0 };
}

function* dropDoubled(mesh: TriangleMesh): Job<Done> {
	const { keep, before, after } = yield* withoutDoubled(mesh);
	return { mesh: only(mesh, keep), before, after };
}

function* edgesAndShells(mesh: TriangleMesh): Job<{ edges: Edges; shells: Shells }> {
	const edges = yield* within(sortEdges(mesh.triangles, vertexCount(mesh)), 0, 0.6);
	const shells = yield* within(findShells(triangleCount(mesh), edges), 0.6, 1);
	return { edges, shells };
}

function* keepShells(mesh: TriangleMesh, choice: MendChoices["keepShells"], shells: Shells): Job<Done> {
	const stays = new Uint8Array(shells.count);
	if (typeof choice === "string") {
		const area = new Float64Array(shells.count);
		const { positions: p, triangles } = mesh;
		for (let t = 0; t < shells.of.length; t++)
			area[shells.of[t]] += areaBetween(p, triangles[3 * t], triangles[3 * t + 1], triangles[3 * t + 2]);
		let largest = 0;
		for (let s = 1; s < shells.count; s++) if (area[s] > area[largest]) largest = s;
		stays[largest] = 1;
	} else
		for (const s of choice) {
			if (!(s >= 0 && s < shells.count && Number.isInteger(s)))
				throw new Refusal("mend.shell", { found: s, expected: shells.count - 1 });
			stays[s] = 1;
		}
	const after = stays.reduce((sum, s) => sum + s, 0);
	const keep = new Uint8Array(shells.of.length);
	for (let t = 0; t < keep.length; t++) keep[t] = stays[shells.of[t]];
	yield { stage: "keeping the chosen shells", share: 1 };
	return { mesh: only(mesh, keep), before: shells.count, after };
}

function* faceOutward(mesh: TriangleMesh): Job<Done> {
	const { edges, shells } = yield* within(edgesAndShells(mesh), 0, 0.6);
	const turned = yield* within(facing(mesh, edges, shells), 0.6, 1);
	const triangles = mesh.triangles.slice();
	let wrong = 0;
	for (let t = 0; t < turned.length; t++) {
		if (turned[t] === 0) continue;
		wrong++;
		triangles[3 * t + 1] = mesh.triangles[3 * t + 2];
		triangles[3 * t + 2] = mesh.triangles[3 * t + 1];
	}
	return { mesh: { ...mesh, triangles }, before: wrong, after: 0 };
}

function* closeHoles(mesh: TriangleMesh, choices: MendChoices): Job<Done> {
	const edges = yield* within(sortEdges(mesh.triangles, vertexCount(mesh)), 0, 0.4);
	const loops = yield* within(openLoops(mesh.positions, boundaryOf(mesh.triangles, edges)), 0.4, 0.5);
	const { positions, triangles } = mesh;
	const filled = yield* within(fillHoles(positions, triangles, edges, loops, choices.closeHolesUpTo), 0.5, 0.8);
	const all = new Uint32Array(triangles.length + filled.triangles.length);
	all.set(triangles);
	all.set(filled.triangles, triangles.length);
	let closed: TriangleMesh = { ...mesh, triangles: all };
	// A shell that was open along too much of its edge to have an outside may have one now.
	if (choices.faceOutward && filled.holes > 0) closed = (yield* within(faceOutward(closed), 0.8, 1)).mesh;
	return { mesh: closed, before: loops.count, after: loops.count - filled.holes };
}
