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
import { distance, multiply, type Placement, place, rotationFromQuaternion, type Vec3 } from "../vector.ts";
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

/** `figure` is the model's mesh, `hull` its hull with the holding foot; the margin is the one of an offcut's faces. */
export function* fitScanned(
	figure: TriangleMesh,
	hull: Hull,
	scanned: ScannedStone,
	options: FitOptions = {},
): Job<ScannedFit> {
	const inPolyhedron = yield* within(fitStone(hull, scanned.stone, options), 0, 0.3);
	const surface = yield* within(buildSurfaceIndex(scanned.mesh), 0.3, 0.35);
	const measure = (placement: Placement): Job<Measured> => measureOn(surface, scanned, figure, hull, placement);
	let best = { placement: inPolyhedron.placement, ...(yield* within(measure(inPolyhedron.placement), 0.35, 0.4)) };
	const margin = options.otherMargin ?? 0;
	const tolerance = options.tolerance ?? FIT_TOLERANCE;
	const enough = (): boolean => inPolyhedron.bound - (best.clearance - margin) <= tolerance;
	if (!enough()) {
		const grid = yield* within(depthGrid(surface), 0.4, 0.55);
		const found = yield* within(search(figure, hull, grid, surface, inPolyhedron.placement, options), 0.55, 0.9);
		for (const [i, placement] of found.entries()) {
			const measured = yield* within(
				measure(placement),
				0.9 + (0.1 * i) / found.length,
				0.9 + (0.1 * (i + 1)) / found.length,
			);
			if (measured.clearance > best.clearance) best = { placement, ...measured };
		}
	}
	const spare = best.clearance - margin;
	const bound = Math.max(spare, inPolyhedron.bound);
	return {
		placement: best.placement,
		gaps: gapsIn(
			scanned.stone,
			hull,
			best.placement,
			scanned.stone.faces.map(() => margin),
		),
		spare,
		bound,
		clearance: best.clearance,
		clearanceBound: bound + margin,
		certified: bound - spare <= tolerance,
		fits: spare >= -1e-6,
		cells: inPolyhedron.cells,
		tightest: { onFigure: best.onFigure, onStone: best.onStone },
	};
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
	const surface = yield* within(buildSurfaceIndex(scanned.mesh), 0, 0.3);
	const measured = yield* within(measureOn(surface, scanned, figure, hull, placement), 0.3, 1);
	const margin = options.otherMargin ?? 0;
	const spare = measured.clearance - margin;
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
		clearance: measured.clearance,
		clearanceBound: bound + margin,
		certified: bound - spare <= (options.tolerance ?? FIT_TOLERANCE),
		fits: spare >= -1e-6,
		cells: best.cells,
		tightest: { onFigure: measured.onFigure, onStone: measured.onStone },
	};
}

interface Measured {
	/** mm; where the surfaces meet, minus how far the figure's places stand out at most. */
	readonly clearance: number;
	readonly onFigure: Vec3;
	readonly onStone: Vec3;
}

/** The gap between the placed figure (with its holding foot) and the stone's skin. */
function* measureOn(
	surface: SurfaceIndex,
	scanned: ScannedStone,
	figure: TriangleMesh,
	hull: Hull,
	placement: Placement,
): Job<Measured> {
	const placed: TriangleMesh = { positions: placedPositions(figure.positions, placement), triangles: figure.triangles };
	const size = distance([0, 0, 0], scanned.stone.faces.flatMap((f) => f.outline).reduce(furthest));
	const close = { distance: 0, triangle: 0, x: 0, y: 0, z: 0 };
	let out: Measured | null = null;
	let least: Measured = { clearance: Infinity, onFigure: [0, 0, 0], onStone: [0, 0, 0] };
	for (const positions of [placedPositions(hull.vertices, placement), spreadPlaces(placed.positions, FINE)]) {
		for (let i = 0; i < positions.length; i += 3) {
			const at: Vec3 = [positions[i], positions[i + 1], positions[i + 2]];
			const hit = surface.closestPoint(at, Number.POSITIVE_INFINITY, close);
			if (!hit) continue;
			const skin: Vec3 = [hit.x, hit.y, hit.z];
			if (!isInside(surface, at, size)) {
				if (!out || hit.distance > -out.clearance) out = { clearance: -hit.distance, onFigure: at, onStone: skin };
			} else if (hit.distance < least.clearance) least = { clearance: hit.distance, onFigure: at, onStone: skin };
			if (i % 600 === 0) yield { stage: "measuring what is left around the figure", share: 0 };
		}
	}
	if (out) return out;
	const index = yield* within(buildSurfaceIndex(placed), 0, 0.5);
	const gap = yield* within(surfaceGap(index, surface, least.clearance), 0.5, 1);
	return gap ? { clearance: gap.distance, onFigure: gap.onFirst, onStone: gap.onSecond } : least;
}

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
function* search(
	figure: TriangleMesh,
	hull: Hull,
	grid: DepthGrid,
	surface: SurfaceIndex,
	first: Placement,
	options: FitOptions,
): Job<Placement[]> {
	const turning = options.turning ?? { kind: "free" };
	const limits = readyLimits(turning);
	const foot = (places: Float64Array): Figure => figureOf([places, hull.vertices]);
	const coarse = new Settler(grid, foot(spreadPlaces(figure.positions, COARSE)), turning, limits);
	const fine = new Settler(grid, foot(spreadPlaces(figure.positions, FINE)), turning, limits);
	const middle = coarse.figure.middle;
	const room: Vec3 = place(first, middle);
	const starts = startTurns(turning, limits, first);
	const tried: { placement: Placement; value: number }[] = [];
	for (const [i, rotation] of starts.entries()) {
		const at = place({ rotation, translation: [0, 0, 0] }, middle);
		const start: Placement = {
			rotation,
			translation: [room[0] - at[0], room[1] - at[1], room[2] - at[2]],
		};
		tried.push(coarse.settle(i === 0 ? first : start, 24));
		yield { stage: "looking for room in the stone", share: (0.7 * i) / starts.length };
	}
	tried.sort((a, b) => b.value - a.value);
	const finalists = tried.slice(0, FINALISTS);
	const settled: { placement: Placement; value: number }[] = [];
	for (const [i, one] of finalists.entries()) {
		const onGrid = fine.settle(one.placement, 60);
		yield { stage: "looking for room in the stone", share: 0.7 + (0.3 * i) / finalists.length };
		settled.push(yield* fine.settleOn(surface, onGrid.placement, 40));
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
