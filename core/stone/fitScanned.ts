/**
 * Does the figure fit in a stone that was scanned, hollows and all?
 *
 * The bound is a proof: no placement in the stone spares more than the best one in the polyhedron around it. The placement
 * is a search (from many seeded turns, each improved by linear programmes over small turns and shifts), and what it leaves
 * is measured on the two scans themselves, triangle against triangle. Where the two meet within the tolerance, as in a
 * stone without hollows, the answer is proved after all.
 */
import { type Job, within } from "../job.ts";
import { seededRandom } from "../random.ts";
import type { TriangleMesh } from "../scan/mesh.ts";
import { type DepthGrid, depthGrid } from "../surface/depthGrid.ts";
import { isInside } from "../surface/insideness.ts";
import { surfaceGap } from "../surface/surfaceGap.ts";
import { buildSurfaceIndex, type SurfaceIndex } from "../surface/surfaceIndex.ts";
import {
	distance,
	multiply,
	type Placement,
	place,
	placeBack,
	rotationFromQuaternion,
	scale,
	transpose,
	turn,
	type Vec3,
} from "../vector.ts";
import { FIT_TOLERANCE, type FitOptions, type StoneFit } from "./fitBlock.ts";
import { fitStone, gapsIn } from "./fitStone.ts";
import type { Hull } from "./hull.ts";
import type { ScannedStone } from "./scannedStone.ts";
import { type Figure, Settler, spreadPlaces } from "./settle.ts";
import { keepsLimits, type ReadyLimit, readyLimits, type Turning } from "./turning.ts";

export interface ScannedFit extends StoneFit {
	/** Where figure and stone's skin come nearest in the placement, stone frame. */
	readonly tightest: { readonly onFigure: Vec3; readonly onStone: Vec3 };
}

/** Turns from which the search starts, beside the best one in the polyhedron. */
const STARTS = 48;
/** Of those, how many are settled to the end. */
const FINALISTS = 4;
/** Places of the figure that a search looks at. */
const COARSE = 500;
const FINE = 4000;

/** Rounds in which the nearest place found on the scans is taken into the search. */
const ROUNDS = 6;

/** `figure` is the model's mesh, `hull` its hull with the holding foot; the margin is the one of an offcut's faces. */
export function* fitScanned(
	figure: TriangleMesh,
	hull: Hull,
	scanned: ScannedStone,
	options: FitOptions = {},
): Job<ScannedFit> {
	const inPolyhedron = yield* within(fitStone(hull, scanned.stone, options), 0, 0.3);
	const scans = yield* within(scansOf(figure, hull, scanned), 0.3, 0.4);
	let best = yield* within(measureOn(scans, inPolyhedron.placement), 0.4, 0.45);
	const margin = options.otherMargin ?? 0;
	const tolerance = options.tolerance ?? FIT_TOLERANCE;
	if (inPolyhedron.bound - (best.clearance - margin) > tolerance) {
		const grid = yield* within(depthGrid(scans.stone), 0.45, 0.55);
		const found = yield* within(search(scans, grid, inPolyhedron.placement, options), 0.55, 0.8);
		for (const [i, placement] of found.entries()) {
			const from = 0.8 + (0.2 * i) / found.length;
			const settled = yield* within(settleMeasured(scans, grid, placement, options), from, from + 0.2 / found.length);
			if (settled.clearance > best.clearance) best = settled;
		}
	}
	return answerOf(scans, best, inPolyhedron, options);
}

/** What a placement chosen by hand leaves in a scanned stone. */
export function* placedInScan(
	figure: TriangleMesh,
	hull: Hull,
	scanned: ScannedStone,
	placement: Placement,
	options: FitOptions,
	best: StoneFit,
): Job<ScannedFit> {
	const scans = yield* within(scansOf(figure, hull, scanned), 0, 0.6);
	return answerOf(scans, yield* within(measureOn(scans, placement), 0.6, 1), best, options);
}

function answerOf(
	{ hull, scanned }: Scans,
	{ placement, clearance, onFigure, onStone }: Measured,
	best: { readonly bound: number; readonly cells: number },
	options: FitOptions,
): ScannedFit {
	const margin = options.otherMargin ?? 0;
	const spare = clearance - margin;
	const bound = Math.max(spare, best.bound);
	return {
		placement,
		gaps: gapsIn(
			scanned.stone,
			hull,
			placement,
			scanned.stone.faces.map(() => margin),
		),
		spare,
		bound,
		clearance,
		clearanceBound: bound + margin,
		certified: bound - spare <= (options.tolerance ?? FIT_TOLERANCE),
		fits: spare >= -1e-6,
		cells: best.cells,
		tightest: { onFigure, onStone },
	};
}

/** Both surfaces, each in its own frame. */
interface Scans {
	readonly figure: SurfaceIndex;
	readonly hull: Hull;
	readonly scanned: ScannedStone;
	readonly stone: SurfaceIndex;
	/** Places spread over the figure, model frame. */
	readonly coarse: Float64Array;
	readonly fine: Float64Array;
	/** No place of the stone is further from the origin, mm. */
	readonly size: number;
}

function* scansOf(figure: TriangleMesh, hull: Hull, scanned: ScannedStone): Job<Scans> {
	return {
		figure: yield* within(buildSurfaceIndex(figure), 0, 0.5),
		stone: yield* within(buildSurfaceIndex(scanned.mesh), 0.5, 1),
		hull,
		scanned,
		coarse: spreadPlaces(figure.positions, COARSE),
		fine: spreadPlaces(figure.positions, FINE),
		size: distance([0, 0, 0], scanned.stone.faces.flatMap((f) => f.outline).reduce(furthest)),
	};
}

interface Measured {
	readonly placement: Placement;
	/** mm; where the surfaces meet, minus how far the figure's places stand out at most. */
	readonly clearance: number;
	/** The nearest places of either, stone frame. */
	readonly onFigure: Vec3;
	readonly onStone: Vec3;
}

/** The gap between the placed figure (with its holding foot) and the stone's skin. */
function* measureOn(scans: Scans, placement: Placement): Job<Measured> {
	const { figure, stone, hull, fine, size } = scans;
	const close = { distance: 0, triangle: 0, x: 0, y: 0, z: 0 };
	let out: Measured | null = null;
	let least: Measured = { placement, clearance: Infinity, onFigure: [0, 0, 0], onStone: [0, 0, 0] };
	for (const positions of [placedPositions(hull.vertices, placement), placedPositions(fine, placement)]) {
		for (let i = 0; i < positions.length; i += 3) {
			const onFigure: Vec3 = [positions[i], positions[i + 1], positions[i + 2]];
			const hit = stone.closestPoint(onFigure, Number.POSITIVE_INFINITY, close);
			if (!hit) continue;
			const onStone: Vec3 = [hit.x, hit.y, hit.z];
			if (!isInside(stone, onFigure, size)) {
				if (!out || hit.distance > -out.clearance) out = { placement, clearance: -hit.distance, onFigure, onStone };
			} else if (hit.distance < least.clearance) least = { placement, clearance: hit.distance, onFigure, onStone };
			if (i % 600 === 0) yield { stage: "measuring what is left around the figure", share: 0 };
		}
	}
	if (out) return out;
	// The smaller of the two scans is brought into the other's frame.
	const stoneMoves = stone.mesh.triangles.length < figure.mesh.triangles.length;
	const moving = stoneMoves ? stone.mesh : figure.mesh;
	const way = stoneMoves ? inverseOf(placement) : placement;
	const moved: TriangleMesh = { positions: placedPositions(moving.positions, way), triangles: moving.triangles };
	const index = yield* within(buildSurfaceIndex(moved), 0, 0.5);
	const gap = yield* within(
		surfaceGap(stoneMoves ? figure : index, stoneMoves ? index : stone, least.clearance),
		0.5,
		1,
	);
	if (!gap) return least;
	const inStone = (at: Vec3): Vec3 => (stoneMoves ? place(placement, at) : at);
	return { placement, clearance: gap.distance, onFigure: inStone(gap.onFirst), onStone: inStone(gap.onSecond) };
}

/**
 * Settles a placement by the stone's surface and measures it on the scans; the place where they come nearest, on a facet
 * or an edge between the places looked at, is taken in and it is settled again, as long as that helps.
 */
function* settleMeasured(scans: Scans, grid: DepthGrid, start: Placement, options: FitOptions): Job<Measured> {
	const turning = options.turning ?? { kind: "free" };
	const limits = readyLimits(turning);
	const met: number[] = [];
	let best: Measured | null = null;
	let from = start;
	for (let round = 0; round < ROUNDS; round++) {
		const settler = new Settler(
			grid,
			figureOf([scans.fine, scans.hull.vertices, Float64Array.from(met)]),
			turning,
			limits,
		);
		const settled = yield* within(settler.settleOn(scans.stone, from, 40), round / ROUNDS, (round + 0.5) / ROUNDS);
		const measured = yield* within(measureOn(scans, settled.placement), (round + 0.5) / ROUNDS, (round + 1) / ROUNDS);
		if (best === null || measured.clearance > best.clearance) best = measured;
		if (measured.clearance > settled.value - NEAR) break;
		met.push(...placeBack(measured.placement, measured.onFigure));
		from = measured.placement;
	}
	if (best === null) throw new Error("at least one round was settled");
	return best;
}

/** What is measured and what was foreseen agree when this near, mm. */
const NEAR = 0.01;

const inverseOf = ({ rotation, translation }: Placement): Placement => {
	const back = transpose(rotation);
	return { rotation: back, translation: scale(turn(back, translation), -1) };
};

const furthest = (a: Vec3, b: Vec3): Vec3 => (distance([0, 0, 0], b) > distance([0, 0, 0], a) ? b : a);

function placedPositions(positions: Float64Array, { rotation: r, translation: t }: Placement): Float64Array {
	const placed = new Float64Array(positions.length);
	for (let i = 0; i < positions.length; i += 3) {
		const x = positions[i];
		const y = positions[i + 1];
		const z = positions[i + 2];
		placed[i] = r[0] * x + r[1] * y + r[2] * z + t[0];
		placed[i + 1] = r[3] * x + r[4] * y + r[5] * z + t[1];
		placed[i + 2] = r[6] * x + r[7] * y + r[8] * z + t[2];
	}
	return placed;
}

/** Good placements, the best first, by the grid. */
function* search(scans: Scans, grid: DepthGrid, first: Placement, options: FitOptions): Job<Placement[]> {
	const turning = options.turning ?? { kind: "free" };
	const limits = readyLimits(turning);
	const { vertices } = scans.hull;
	const coarse = new Settler(grid, figureOf([scans.coarse, vertices]), turning, limits);
	const fine = new Settler(grid, figureOf([scans.fine, vertices]), turning, limits);
	const { middle } = coarse.figure;
	const room: Vec3 = place(first, middle);
	const starts = startTurns(turning, limits, first);
	const tried: { placement: Placement; value: number }[] = [];
	for (const [i, rotation] of starts.entries()) {
		const at = turn(rotation, middle);
		const start: Placement = { rotation, translation: [room[0] - at[0], room[1] - at[1], room[2] - at[2]] };
		tried.push(coarse.settle(i === 0 ? first : start, 24));
		yield { stage: "looking for room in the stone", share: (0.7 * i) / starts.length };
	}
	tried.sort((a, b) => b.value - a.value);
	const settled: { placement: Placement; value: number }[] = [];
	for (let i = 0; i < FINALISTS && i < tried.length; i++) {
		settled.push(fine.settle(tried[i].placement, 60));
		yield { stage: "looking for room in the stone", share: 0.7 + (0.3 * i) / FINALISTS };
	}
	settled.sort((a, b) => b.value - a.value);
	return settled.slice(0, 2).map((one) => one.placement);
}

function figureOf(parts: readonly Float64Array[]): Figure {
	const places = Float64Array.from(parts.flatMap((part) => [...part]));
	const min = [Infinity, Infinity, Infinity];
	const max = [-Infinity, -Infinity, -Infinity];
	for (let i = 0; i < places.length; i++) {
		min[i % 3] = Math.min(min[i % 3], places[i]);
		max[i % 3] = Math.max(max[i % 3], places[i]);
	}
	const middle: Vec3 = [(min[0] + max[0]) / 2, (min[1] + max[1]) / 2, (min[2] + max[2]) / 2];
	return { places, middle, radius: distance(middle, [max[0], max[1], max[2]]) };
}

/** The first placement's turn, then others spread over those allowed. */
function startTurns(turning: Turning, limits: readonly ReadyLimit[], first: Placement): Placement["rotation"][] {
	const turns = [first.rotation];
	if (turning.kind === "fixed") return turns;
	const random = seededRandom(11);
	for (let tries = 0; turns.length < STARTS && tries < 100 * STARTS; tries++) {
		const small = tries % 3 === 0 ? 0.15 : 0.5;
		const rotation =
			turning.kind === "upright"
				? rotationFromQuaternion([0, 0, random.normal(), random.normal()])
				: limits.length > 0
					? multiply(
							rotationFromQuaternion([small * random.normal(), small * random.normal(), small * random.normal(), 1]),
							first.rotation,
						)
					: rotationFromQuaternion([random.normal(), random.normal(), random.normal(), random.normal()]);
		if (keepsLimits(limits, rotation)) turns.push(rotation);
	}
	return turns;
}
