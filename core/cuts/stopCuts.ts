/**
 * Stop cuts: parallel kerfs to a safe depth, knocked off between, for hollows that no through cut reaches (handbook 11).
 *
 * A field lies on one face of the stone as it stands after the through cuts. Where one pays is read from a grid of depths
 * (rays against the scan); what is safe is then measured on the scan itself for every kerf with its run-out and for all
 * stone between two kerfs, so that the grid decides nothing but the place.
 */

import { type Job, within } from "../job.ts";
import type { Stone, StoneFace } from "../stone/block.ts";
import { dot, scale, sub, type Vec3 } from "../vector.ts";
import { clearOf } from "./clearOf.ts";
import { solidOf } from "./convexSolid.ts";
import { depthGrid, type FaceSight, GRID, type Sawn, sightInto } from "./faceSight.ts";
import { keptOver, stopSaw } from "./saws.ts";
import { boxUnder, fieldAxes, type Kerf, knockedOff, type StopField } from "./stopField.ts";
import { bestWindow, type DepthGrid, type StopWindow } from "./stopWindow.ts";

export interface StopInput extends Sawn {
	/** After the through cuts. */
	readonly left: Stone;
	/** The face that the stone lies on while it is sawn. */
	readonly lieFace: string;
	readonly density: readonly [number, number];
	readonly count: number;
}

/** Cells from kerf to kerf: 24 mm, about an inch (common practice, no source). */
const APART = 4;
/** A kerf is worth sawing from this depth on, mm (common practice, no source). */
const LEAST_DEPTH = 15;
/** A field is worth setting up for this much stone out of the hollow, mm³: 0.1 litre (common practice, no source). */
const LEAST_VOLUME = 1e5;
/** Depths are set in whole millimetres. */
const DEPTH_STEP = 1;

export function* stopCuts(input: StopInput): Job<StopField[]> {
	const fields: StopField[] = [];
	if (input.count === 0) return fields;
	const sights: FaceSight[] = [];
	const faces = input.left.faces.filter((face) => face.name !== input.lieFace);
	for (const [i, face] of faces.entries()) {
		sights.push(yield* within(sightInto(input, face), (0.4 * i) / faces.length, (0.4 * (i + 1)) / faces.length));
	}
	while (fields.length < input.count) {
		const [from, to] = [fields.length, fields.length + 1].map((n) => 0.4 + (0.6 * n) / input.count);
		const field = yield* within(nextField(input, sights, fields), from, to);
		if (field === null) break;
		fields.push(field);
	}
	return fields;
}

interface Candidate {
	readonly face: StoneFace;
	readonly runs: "u" | "v";
	readonly grid: DepthGrid;
	readonly window: StopWindow;
}

/** The field that takes most out of the hollows; null when none is worth it. */
function* nextField(
	input: StopInput,
	sights: readonly FaceSight[],
	before: readonly StopField[],
): Job<StopField | null> {
	const found: Candidate[] = [];
	for (const [i, sight] of sights.entries()) {
		for (const runs of ["u", "v"] as const) {
			yield { stage: "looking for stop cuts", share: (0.5 * i) / sights.length };
			const grid = depthGrid(input, sight, runs, before);
			const window = yield* within(
				bestWindow(grid, APART, LEAST_DEPTH),
				(0.5 * i) / sights.length,
				(0.5 * i) / sights.length,
			);
			if (window && window.value >= LEAST_VOLUME) found.push({ face: sight.face, runs, grid, window });
		}
	}
	found.sort((a, b) => b.window.value - a.window.value);
	for (const candidate of found) {
		const field = yield* within(measuredField(input, candidate, `stop cuts ${before.length + 1}`), 0.5, 1);
		if (field !== null) return field;
	}
	return null;
}

/** The field with every depth measured; null when little is left of it. */
function* measuredField(
	input: StopInput,
	{ face, runs, grid, window }: Candidate,
	name: string,
): Job<StopField | null> {
	const saw = stopSaw(input.saw);
	const over = keptOver(saw);
	const from = grid.low[1] + window.from * GRID;
	const to = grid.low[1] + window.to * GRID;
	const lines = Array.from(
		{ length: window.strips.length + 1 },
		(_, i) => grid.low[0] + (window.first + i * APART) * GRID,
	);
	const between: number[] = [];
	for (const [i, planned] of window.strips.entries()) {
		yield { stage: "measuring the stop cuts", share: i / (2 * lines.length) };
		between.push(
			deepest(planned + GRID, (depth) =>
				clearOf(input, boxUnder(face, runs, lines[i], lines[i + 1], from, to, depth), over),
			),
		);
	}
	const kerfs: Kerf[] = [];
	for (const [i, at] of lines.entries()) {
		yield { stage: "measuring the stop cuts", share: (lines.length + i) / (2 * lines.length) };
		// The stone breaks between the floors of two kerfs, so both stay within what is safe for everything between them.
		const most = Math.min(between[i - 1] ?? Number.POSITIVE_INFINITY, between[i] ?? Number.POSITIVE_INFINITY);
		kerfs.push({
			at,
			depth: deepest(most, (depth) => kerfClears(input, face, runs, at, from, to, depth, saw.disc, over)),
		});
	}
	const usable = longestRun(kerfs);
	if (usable.length < 2) return null;
	const volume = knockedOff(solidOf(input.left), { face, runs, from, to, kerfs: usable });
	if (volume < LEAST_VOLUME) return null;
	const kg = (density: number): number => (volume / 1e9) * density;
	return { name, face, runs, from, to, kerfs: usable, volume, mass: [kg(input.density[0]), kg(input.density[1])] };
}

/** The greatest whole step of depth, up to `most`, that is clear; clear grows no deeper than the first that is not. */
function deepest(most: number, clear: (depth: number) => boolean): number {
	let good = 0;
	let bad = Math.floor(most / DEPTH_STEP) + 1;
	while (bad - good > 1) {
		const middle = (good + bad) >> 1;
		if (clear(middle * DEPTH_STEP)) good = middle;
		else bad = middle;
	}
	return good * DEPTH_STEP;
}

/** A kerf with what the disc cuts beyond its ends: at height z over the floor it runs √(2Rz − z²) farther. */
function kerfClears(
	guard: Sawn,
	face: StoneFace,
	runs: "u" | "v",
	at: number,
	from: number,
	to: number,
	depth: number,
	disc: number,
	over: number,
): boolean {
	const radius = disc / 2;
	const runOut = Math.sqrt(Math.max(0, 2 * radius * depth - depth * depth));
	const { run } = fieldAxes(face, runs);
	const sheet = boxUnder(face, runs, at, at, from - runOut, to + runOut, depth);
	/** Whether any of a part, taken as a ball, lies in the kerf: in the window, or within the disc at either end. */
	const counts = (middle: Vec3, ball: number): boolean => {
		const way = dot(sub(middle, face.origin), run);
		if (way > from - ball && way < to + ball) return true;
		const aside = way < from ? from - way : way - to;
		// The disc's centre stands over the end of the window, a radius over the floor.
		const under = depth - radius - dot(sub(middle, face.origin), scale(face.normal, -1));
		return Math.sqrt(aside * aside + under * under) < radius + ball;
	};
	return clearOf(guard, sheet, over, counts);
}

/** The longest run of kerfs that are deep enough; of equal ones the first. */
function longestRun(kerfs: readonly Kerf[]): Kerf[] {
	let best: Kerf[] = [];
	let run: Kerf[] = [];
	for (const kerf of kerfs) {
		run = kerf.depth >= LEAST_DEPTH ? [...run, kerf] : [];
		if (run.length > best.length) best = run;
	}
	return best;
}
