/**
 * Stop cuts: parallel kerfs to a safe depth, knocked off between, for hollows that no through cut reaches (handbook 11).
 *
 * A field lies on one face of the stone as it stands after the through cuts. Where one pays is read from a grid of depths
 * (rays against the scan); what is safe is then measured on the scan itself for every kerf with its run-out and for all
 * stone between two kerfs, so that the grid decides nothing but the place.
 */

import { type Job, within } from "../job.ts";
import { onFace, type Stone, type StoneFace } from "../stone/block.ts";
import type { Hull } from "../stone/hull.ts";
import type { MassRange } from "../stone/mass.ts";
import { along, cross, dot, length, placeBack, scale, sub, turnBack, unit, type Vec3 } from "../vector.ts";
import { clearOf, FINEST, type Guard } from "./clearOf.ts";
import { type ConvexSolid, cutBy, measuresOf, type Plane, solidOf } from "./convexSolid.ts";
import { type Saw, USUAL_SAWS } from "./saws.ts";
import { bestWindow, type DepthGrid, type StopWindow } from "./stopWindow.ts";
import { triangleOf } from "./waste.ts";

export interface Kerf {
	/** Across the kerfs, mm from the face's zero corner. */
	readonly at: number;
	/** mm under the face. */
	readonly depth: number;
}

export interface StopField {
	readonly name: string;
	readonly face: StoneFace;
	/** The axis of the face along which the kerfs run; they follow each other along the other one. */
	readonly runs: "u" | "v";
	/** Where every kerf has its full depth, along `runs`, mm. */
	readonly from: number;
	readonly to: number;
	readonly kerfs: readonly Kerf[];
	/** Of what is knocked off, mm³. */
	readonly volume: number;
	readonly mass: MassRange;
}

export interface StopInput extends Guard {
	/** After the through cuts. */
	readonly left: Stone;
	/** Of the figure with its holding foot, model frame. */
	readonly hull: Hull;
	readonly saw: Saw;
	/** The face that the stone lies on while it is sawn. */
	readonly lieFace: string;
	readonly density: readonly [number, number];
	readonly count: number;
}

/** Grid of depths, mm. */
const GRID = 6;
/** Cells from kerf to kerf: 24 mm, about an inch (common practice, no source). */
const APART = 4;
/** A kerf is worth sawing from this depth on, mm (common practice, no source). */
const LEAST_DEPTH = 15;
/** A field is worth setting up for this much stone out of the hollow, mm³: 0.1 litre (common practice, no source). */
const LEAST_VOLUME = 1e5;
/** Depths are set in whole millimetres. */
const DEPTH_STEP = 1;

/** The saw of the stop cuts: a wire makes none, so that a hand disc takes its place. */
export const stopSaw = (saw: Saw): Saw & { readonly disc: number } =>
	saw.disc === null ? { ...USUAL_SAWS["hand disc"], disc: 350 } : { ...saw, disc: saw.disc };

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

/** Axes of a field: `run` along the kerfs, `step` from kerf to kerf, `inwards` into the stone. */
const axesOf = (face: StoneFace, runs: "u" | "v"): { run: Vec3; step: Vec3; inwards: Vec3 } => ({
	run: runs === "u" ? face.u : face.v,
	step: runs === "u" ? face.v : face.u,
	inwards: scale(face.normal, -1),
});

/** What is seen from the cells of a face, straight into the stone: v by rows, u by columns. */
interface FaceSight {
	readonly face: StoneFace;
	readonly rows: number;
	readonly columns: number;
	/** Least u and v of the face. */
	readonly low: readonly [number, number];
	/** Way to the figure or to what is kept, no more than the saw can use; −1 off the face. */
	readonly hit: Float64Array;
	/** Way to the grown hull; Infinity where there is none. */
	readonly entered: Float64Array;
}

const overOf = (saw: Saw): number => saw.allowance + saw.kerf / 2;

function* sightInto({ index, placement, kept, hull, saw: chosen }: StopInput, face: StoneFace): Job<FaceSight> {
	const saw = stopSaw(chosen);
	const over = overOf(saw);
	const inwards = scale(face.normal, -1);
	const flat = face.outline.map((at) => [dot(sub(at, face.origin), face.u), dot(sub(at, face.origin), face.v)]);
	const low = [Math.min(...flat.map((p) => p[0])), Math.min(...flat.map((p) => p[1]))] as const;
	const columns = Math.floor((Math.max(...flat.map((p) => p[0])) - low[0]) / GRID);
	const rows = Math.floor((Math.max(...flat.map((p) => p[1])) - low[1]) / GRID);
	const hit = new Float64Array(rows * columns).fill(-1);
	const entered = new Float64Array(rows * columns).fill(Number.POSITIVE_INFINITY);
	const d = turnBack(placement.rotation, inwards);
	const walls = wallsAgainst(hull, d);
	for (let row = 0; row < rows; row++) {
		for (let column = 0; column < columns; column++) {
			const on = cellAt(face, low, row, column);
			if (!inside(face, on, GRID / 2)) continue;
			const start = placeBack(placement, on);
			const cell = row * columns + column;
			hit[cell] = index.castRay(start, d, saw.reach + over)?.distance ?? saw.reach + over;
			if (kept.some((one) => (one.kind === "boss" || one.kind === "bridge") && ahead(one, on, inwards, over)))
				hit[cell] = 0;
			entered[cell] = enters(walls, start, over);
		}
		if (row % 4 === 3) yield { stage: "looking for stop cuts", share: row / rows };
	}
	return { face, rows, columns, low, hit, entered };
}

const cellAt = (face: StoneFace, low: readonly [number, number], row: number, column: number): Vec3 =>
	onFace(face, low[0] + (column + 0.5) * GRID, low[1] + (row + 0.5) * GRID);

/** How deep each cell of a face can be sawn with the allowance left and clear of the fields before, rows across the kerfs. */
function depthGrid({ saw }: StopInput, sight: FaceSight, runs: "u" | "v", before: readonly StopField[]): DepthGrid {
	const { face, rows, columns, low } = sight;
	const over = overOf(stopSaw(saw));
	const inwards = scale(face.normal, -1);
	const hit = sight.hit.map((way, cell) =>
		way <= 0
			? way
			: Math.min(
					way,
					fieldsAhead(before, cellAt(face, low, Math.floor(cell / columns), cell % columns), inwards) + over,
				),
	);
	// Half a cell more to the sides, because a strip ends at its cells' edges, and what the halving does not tell clear.
	const safe = lowered(hit, rows, columns, over + GRID / 2 + 2 * FINEST);
	const { entered } = sight;
	if (runs === "u") return { rows, columns, cell: GRID, low: [low[1], low[0]], safe, entered };
	const turned = (values: Float64Array): Float64Array =>
		values.map((_, i) => values[(i % rows) * columns + Math.floor(i / rows)]);
	return {
		rows: columns,
		columns: rows,
		cell: GRID,
		low: [low[0], low[1]],
		safe: turned(safe),
		entered: turned(entered),
	};
}

/** The least depth, at each cell, at which a ball of that radius touches what the rays found around it. */
function lowered(hit: Float64Array, rows: number, columns: number, radius: number): Float64Array {
	const safe = new Float64Array(hit.length);
	const cells = Math.ceil(radius / GRID);
	for (let row = 0; row < rows; row++) {
		for (let column = 0; column < columns; column++) {
			let least = hit[row * columns + column] - radius;
			if (hit[row * columns + column] <= 0) continue;
			for (let i = Math.max(0, row - cells); i <= Math.min(rows - 1, row + cells); i++) {
				for (let j = Math.max(0, column - cells); j <= Math.min(columns - 1, column + cells); j++) {
					const aside = GRID * GRID * ((i - row) * (i - row) + (j - column) * (j - column));
					if (aside >= radius * radius || hit[i * columns + j] < 0) continue;
					least = Math.min(least, hit[i * columns + j] - Math.sqrt(radius * radius - aside));
				}
			}
			safe[row * columns + column] = Math.max(0, least);
		}
	}
	return safe;
}

/** Within the face and that far from its edges. */
function inside({ outline, normal }: StoneFace, at: Vec3, margin: number): boolean {
	return outline.every((from, k) => {
		const way = sub(outline[(k + 1) % outline.length], from);
		return length(way) === 0 || dot(unit(cross(normal, way)), sub(at, from)) >= margin;
	});
}

/** Normals, offsets and speeds of the hull's faces that a line in that direction enters by; model frame. */
function wallsAgainst(hull: Hull, d: Vec3): Float64Array {
	const walls: number[] = [];
	for (let t = 0; t < hull.triangles.length; t += 3) {
		const { ring, normal } = triangleOf(hull, t);
		walls.push(...normal, dot(normal, ring[0]), dot(normal, d));
	}
	return Float64Array.from(walls);
}

/** Where a line enters the hull grown by `over`; Infinity where it passes it by. */
function enters(walls: Float64Array, start: Vec3, over: number): number {
	let from = 0;
	let until = Number.POSITIVE_INFINITY;
	for (let w = 0; w < walls.length; w += 5) {
		const away = walls[w] * start[0] + walls[w + 1] * start[1] + walls[w + 2] * start[2] - walls[w + 3] - over;
		const speed = walls[w + 4];
		if (speed < 0) from = Math.max(from, away / -speed);
		else if (speed > 0) until = Math.min(until, -away / speed);
		else if (away > 0) return Number.POSITIVE_INFINITY;
	}
	return from < until ? from : Number.POSITIVE_INFINITY;
}

/** Whether a boss or bridge stands within `over` of the line into the stone. */
function ahead(one: { from: Vec3; to: Vec3; radius: number }, at: Vec3, inwards: Vec3, over: number): boolean {
	const aside = (end: Vec3): Vec3 => {
		const from = sub(end, at);
		return along(from, inwards, -dot(from, inwards));
	};
	const [a, b] = [aside(one.from), aside(one.to)];
	const way = sub(b, a);
	const share = Math.max(0, Math.min(1, -dot(a, way) / (dot(way, way) || 1)));
	return length(along(a, way, share)) < one.radius + over;
}

/** How far into the stone a line meets a field that is knocked off already; Infinity where it meets none. */
function fieldsAhead(before: readonly StopField[], at: Vec3, inwards: Vec3): number {
	let least = Number.POSITIVE_INFINITY;
	for (const field of before) {
		const box = boxOf(field);
		let from = 0;
		let until = Number.POSITIVE_INFINITY;
		for (const axis of box.axes) {
			const half = dot(axis, axis);
			const away = dot(sub(at, box.middle), axis);
			const speed = dot(inwards, axis);
			if (speed === 0) {
				if (Math.abs(away) > half) until = -1;
				continue;
			}
			const [s, t] = [(-half - away) / speed, (half - away) / speed];
			from = Math.max(from, Math.min(s, t));
			until = Math.min(until, Math.max(s, t));
		}
		if (from <= until) least = Math.min(least, from);
	}
	return least;
}

/** Around all that a field takes away, run-out apart. */
function boxOf(field: StopField): { middle: Vec3; axes: [Vec3, Vec3, Vec3] } {
	const { kerfs } = field;
	return box(
		field.face,
		field.runs,
		kerfs[0].at,
		kerfs[kerfs.length - 1].at,
		field.from,
		field.to,
		Math.max(...kerfs.map((k) => k.depth)),
	);
}

/** From the face down to `depth`. */
function box(
	face: StoneFace,
	runs: "u" | "v",
	first: number,
	last: number,
	from: number,
	to: number,
	depth: number,
): { middle: Vec3; axes: [Vec3, Vec3, Vec3] } {
	const { run, step, inwards } = axesOf(face, runs);
	const middle = along(along(along(face.origin, step, (first + last) / 2), run, (from + to) / 2), inwards, depth / 2);
	return { middle, axes: [scale(step, (last - first) / 2), scale(run, (to - from) / 2), scale(inwards, depth / 2)] };
}

/** The field with every depth measured; null when little is left of it. */
function* measuredField(
	input: StopInput,
	{ face, runs, grid, window }: Candidate,
	name: string,
): Job<StopField | null> {
	const saw = stopSaw(input.saw);
	const over = overOf(saw);
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
				clearOf(input, box(face, runs, lines[i], lines[i + 1], from, to, depth), over),
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
	guard: Guard,
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
	const { run } = axesOf(face, runs);
	const sheet = box(face, runs, at, at, from - runOut, to + runOut, depth);
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

/** The planes around what is knocked off between each kerf and the next, the face apart; stone frame. */
function stripsOf({
	face,
	runs,
	from,
	to,
	kerfs,
}: Pick<StopField, "face" | "runs" | "from" | "to" | "kerfs">): Plane[][] {
	const { run, step, inwards } = axesOf(face, runs);
	const upTo = (normal: Vec3, at: number): Plane => ({ normal, offset: dot(normal, face.origin) + at });
	return kerfs.slice(1).map((b, i) => {
		const a = kerfs[i];
		const floor = along(along(face.origin, step, a.at), inwards, a.depth);
		const down = unit(along(scale(inwards, b.at - a.at), step, a.depth - b.depth));
		return [
			upTo(scale(run, -1), -from),
			upTo(run, to),
			upTo(scale(step, -1), -a.at),
			upTo(step, b.at),
			{ normal: down, offset: dot(down, floor) },
		];
	});
}

/** Volume over the floors from kerf to kerf, mm³. */
function knockedOff(solid: ConvexSolid, field: Pick<StopField, "face" | "runs" | "from" | "to" | "kerfs">): number {
	let volume = 0;
	for (const strip of stripsOf(field)) {
		let piece: ConvexSolid | null = solid;
		for (const plane of strip) if (piece !== null) piece = cutBy(piece, plane, "");
		if (piece !== null) volume += measuresOf(piece).volume;
	}
	return volume;
}

/** How much of a straight way from the skin into the stone runs through fields that are knocked off, mm. */
export function airAlong(fields: readonly StopField[], entry: Vec3, tip: Vec3): number {
	const way = sub(tip, entry);
	let air = 0;
	for (const strip of fields.flatMap(stripsOf)) {
		let [from, until] = [0, 1];
		for (const { normal, offset } of strip) {
			const left = offset - dot(normal, entry);
			const speed = dot(normal, way);
			if (speed > 0) until = Math.min(until, left / speed);
			else if (speed < 0) from = Math.max(from, left / speed);
			else if (left < 0) until = -1;
		}
		if (until > from) air += (until - from) * length(way);
	}
	return air;
}
