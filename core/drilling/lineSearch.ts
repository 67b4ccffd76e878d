/**
 * The drill line of a point: the least tilted one on the printed half-degree grid whose hole touches nothing but waste
 * (handbook 8).
 *
 * A line is *clear* when nothing of the model stands between target and tip on the line itself and the deepest safe stop
 * lies no farther back than on a plane of the same tilt plus one hole diameter: a tip kept farther off would stand before
 * some other part of the model, or so high over a narrow hollow that the hole would be cut away before it is of use.
 *
 * Every line of the grid counts, so the search is exhaustive; it is quick because each failed line leaves behind one place
 * of the surface that blocks it, and that place blocks a whole bundle of neighbouring lines at the cost of a few
 * multiplications, without walking the tree again.
 */

import { cosDegrees } from "../exactAngle.ts";
import { Refusal } from "../refusal.ts";
import { faceCoordinates, type Stone, type StoneFace } from "../stone/block.ts";
import type { SurfaceIndex } from "../surface/surfaceIndex.ts";
import { capReach, type Touch, tipOnPlane } from "../surface/sweptSolid.ts";
import { along, dot, type Placement, place, turn, type Vec3 } from "../vector.ts";
import { type Aim, type AimedSolid, type Drill, growth, holeSolid, setWorstAim } from "./drill.ts";
import { createHoleGauge, type HoleLine, newTouch } from "./holeGauge.ts";
import { directionOf, LEAN_STEP_DEG, type LeanGrid, leanGrid, TILE_NUMBERS } from "./leanGrid.ts";
import type { Lie } from "./lies.ts";

/** A place to be reached, model frame, mm; `normal` is the unit surface normal. */
export interface DrillTarget {
	readonly position: Vec3;
	readonly normal: Vec3;
}

export interface DrillLine {
	/** Unit, stone frame, from the target out of the stone. */
	readonly direction: Vec3;
	/** Which of the lies, counted from 0. */
	readonly lie: number;
	readonly face: StoneFace;
	/** Leans from square along u and v, degrees, exact multiples of 0.5. */
	readonly leanDeg: readonly [number, number];
	/** Cosine of the angle between line and surface normal. */
	readonly tiltCosine: number;
	/** Where the line meets the skin: stone frame, and on the face. */
	readonly entry: Vec3;
	readonly u: number;
	readonly v: number;
	/** Tip back-off from the target along the line, mm. */
	readonly stop: number;
	/** From entry to tip, mm. */
	readonly depth: number;
	/** From entry to target, mm. */
	readonly length: number;
	/** Least distance from the hole as aimed, tip to entry, to the model, mm. */
	readonly clearance: number;
	/** How much deeper the tip could go along the line before the worst-aimed hole touches the model, mm. */
	readonly worstSpare: number;
	/** Largest lean error that the depth forgives, degrees, a multiple of 0.1 up to 10. */
	readonly aimSafeDeg: number;
	/** Stone alone along the line, mm; the whole depth in a stone without hollows. */
	readonly stoneAlong: number;
	/** The stop stands farther back than the surface asks for, because the part is thin. */
	readonly thin: boolean;
}

/** Why there is no line. What blocks stands in the model frame, mm; `triangle` is −1 where nothing of the model blocks. */
export interface Undercut {
	/**
	 * blocked: the model is in the way of every line. lean: no open face can be entered within the allowed lean.
	 * reach: too deep for the drill. banker: the drill would have to stand in the banker. shallow: less stone than the stop.
	 */
	readonly reason: "blocked" | "lean" | "reach" | "banker" | "shallow";
	readonly triangle: number;
	readonly blockedAt: Vec3 | null;
}

/** What would open an undercut: the first of these that does, from the least trouble to the most. */
export type Opening =
	| { readonly by: "lie"; readonly face: string }
	| { readonly by: "reach"; readonly reach: number }
	| { readonly by: "lean"; readonly face: string; readonly leanDeg: readonly [number, number] }
	| { readonly by: "nothing" };

/** Preferred line of the neighbours. */
export interface SharedLine {
	readonly face: string;
	readonly leanDeg: readonly [number, number];
}

export interface LineSearchSetup {
	readonly index: SurfaceIndex;
	readonly stone: Stone;
	/** Model to stone frame. */
	readonly placement: Placement;
	/** In the order of work: a point is worked in the first lie in which it has a line. */
	readonly lies: readonly Lie[];
	/** Half angle of the cone about the normal, at most 45. */
	readonly coneDeg: number;
	/** Greatest lean from square to the face, at most 45. */
	readonly leanDeg: number;
	/** Free length outside the stone that stays above the banker, mm. */
	readonly outsideMm: number;
	readonly aim: Aim;
}

export interface LineSearch {
	/** The line of a target, or why there is none. */
	find(
		target: DrillTarget,
		drill: Drill,
		allowance: number,
		shared?: readonly SharedLine[],
		thickness?: number,
	): DrillLine | Undercut;
	/** Whether `find` would give a line; several times cheaper. */
	reaches(target: DrillTarget, drill: Drill, allowance: number, thickness?: number): boolean;
	/** What would open a target that has no line. */
	opening(target: DrillTarget, drill: Drill, allowance: number): Opening;
}

export const isUndercut = (answer: DrillLine | Undercut): answer is Undercut => "reason" in answer;

/** Greatest tilt and lean at which a bit does not walk, degrees (common practice, no source). */
export const STEEPEST_DEG = 45;
/** Parts thinner than this are thin: no hammer, and two drill diameters behind the floor (common practice, no source). */
export const THIN_MM = 15;
const DIAMETERS_BEHIND_FLOOR = 2;
/** A hole shorter than this is none: the sheet prints half millimetres. */
const SHORTEST_HOLE = 0.5;
/** Surface met nearer to the target than this is the scan's own noise about it, not another part in the way. */
const NOISE_MM = 0.5;
/** Tilts within half a printed step are equal, and go to the direction that the neighbours share. */
const EQUAL_TILT_DEG = 0.5;
const BLOCKERS = 48;

export function createLineSearch(setup: LineSearchSetup): LineSearch {
	const { index, stone, placement, lies, aim } = setup;
	if (setup.coneDeg > STEEPEST_DEG || setup.leanDeg > STEEPEST_DEG)
		throw new Refusal("drilling.tooSteep", {
			found: Math.max(setup.coneDeg, setup.leanDeg),
			most: STEEPEST_DEG,
		});
	for (const lie of lies)
		if (!stone.faces.some((face) => face.name === lie.closedFace))
			throw new Refusal("drilling.noSuchFace", {
				lie: lie.name,
				face: lie.closedFace,
				faces: stone.faces.map((face) => face.name),
			});
	const gauge = createHoleGauge(index);
	const { probe } = gauge;
	const touch = newTouch();
	const widening = growth(aim);
	const gridsFor = new Map<number, readonly LeanGrid[]>();
	const grids = (leanDeg: number): readonly LeanGrid[] => {
		let found = gridsFor.get(leanDeg);
		if (!found) {
			found = stone.faces.map((face) => leanGrid(face, placement.rotation, leanDeg));
			gridsFor.set(leanDeg, found);
		}
		return found;
	};

	/** What a search may use: each lie is the list of its open faces and the plane of its banker, none for a what-if. */
	interface Rules {
		readonly grids: readonly LeanGrid[];
		readonly coneDeg: number;
		readonly reachAsked: boolean;
		readonly lies: readonly { readonly open: readonly number[]; readonly banker: StoneFace | null }[];
	}
	const closedLies = lies.map((lie) => ({
		open: stone.faces.flatMap((face, f) => (face.name === lie.closedFace ? [] : [f])),
		banker: stone.faces.find((face) => face.name === lie.closedFace) ?? null,
	}));
	const rules: Rules = { grids: grids(setup.leanDeg), coneDeg: setup.coneDeg, reachAsked: true, lies: closedLies };
	const anyFace = [{ open: stone.faces.map((_, f) => f), banker: null }];

	// One target at a time: what is known about it.
	let position: Vec3 = [0, 0, 0];
	let normal: Vec3 = [0, 0, 1];
	let inStone: Vec3 = [0, 0, 0];
	let aimed: AimedSolid = NO_SOLID;
	let worst: AimedSolid = NO_SOLID;
	let drill: Drill;
	let tipLength = 0;
	/** The tip must stand back at least this far, measured along the normal, for the sake of a thin part. */
	let thinBack = 0;
	const depthUnder = new Float64Array(stone.faces.length);

	// Places of the surface that blocked a line, relative to the target; the one that blocked last is asked first.
	const blockers = new Float64Array(3 * BLOCKERS);
	let blockerCount = 0;

	// Lines already known to be blocked, by face and place in its grid: lies share most of their faces.
	let seen = new Map<LeanGrid, Uint32Array>();
	let stamp = 0;
	const seenFor = (grid: LeanGrid): Uint32Array => {
		let marks = seen.get(grid);
		if (!marks) {
			marks = new Uint32Array(grid.u.length);
			seen.set(grid, marks);
		}
		return marks;
	};

	// The candidate under examination.
	let entryDistance = 0;
	let leanSine = 0;
	let tipLimit = 0;
	let planeStop = 0;

	// Why lines failed, for the undercut's reason.
	let failedReach = false;
	let failedBanker = false;
	let failedShallow = false;
	const firstBlock: Touch = newTouch();

	const begin = (target: DrillTarget, withDrill: Drill, allowance: number, thickness: number): void => {
		position = target.position;
		normal = target.normal;
		inStone = place(placement, position);
		drill = withDrill;
		aimed = holeSolid(drill, allowance);
		worst = holeSolid(drill, 0);
		tipLength =
			drill.tip === "ball" ? drill.holeRadius : drill.tip === "pointed" ? drill.holeRadius * aimed.coneSlope : 0;
		thinBack = thickness < THIN_MM ? DIAMETERS_BEHIND_FLOOR * drill.diameter - thickness : 0;
		for (let f = 0; f < stone.faces.length; f++) {
			const face = stone.faces[f];
			depthUnder[f] = face.offset - dot(face.normal, inStone);
		}
		blockerCount = 0;
		stamp++;
		if (stamp === 0xffffffff) {
			seen = new Map();
			stamp = 1;
		}
		failedReach = false;
		failedBanker = false;
		failedShallow = false;
		firstBlock.triangle = -1;
	};

	const isBlockedByKnown = (dx: number, dy: number, dz: number): boolean => {
		const clearWidth = aimed.shoulder + aimed.rounding;
		for (let i = 0; i < blockerCount; i++) {
			const x = blockers[3 * i];
			const y = blockers[3 * i + 1];
			const z = blockers[3 * i + 2];
			const ahead = x * dx + y * dy + z * dz;
			if (ahead <= tipLimit + tipLength) continue;
			const wide = Math.max(clearWidth, drill.holeRadius + worst.wider - widening * ahead);
			if (x * x + y * y + z * z - ahead * ahead >= wide * wide) continue;
			if (i > 0) {
				// One place forward: what blocks often drifts to the front.
				for (let k = 0; k < 3; k++) {
					const kept = blockers[3 * i - 3 + k];
					blockers[3 * i - 3 + k] = blockers[3 * i + k];
					blockers[3 * i + k] = kept;
				}
			}
			return true;
		}
		return false;
	};

	const remember = (): void => {
		const at = blockerCount < BLOCKERS ? blockerCount++ : BLOCKERS - 1;
		blockers[3 * at] = touch.x - position[0];
		blockers[3 * at + 1] = touch.y - position[1];
		blockers[3 * at + 2] = touch.z - position[2];
	};

	/** Everything about a line but the model in its way: exit, banker, depth. Sets the candidate's numbers. */
	const isAllowed = (search: Rules, lie: number, f: number, g: number, cosine: number): boolean => {
		const grid = search.grids[f];
		const face = grid.face;
		const { banker } = search.lies[lie];
		const d = turn(placement.rotation, directionOf(grid, g));
		const square = dot(d, face.normal);
		entryDistance = depthUnder[f] / square;
		if (!(entryDistance > 0)) return false;
		for (let other = 0; other < stone.faces.length; other++) {
			const speed = dot(d, stone.faces[other].normal);
			if (other !== f && speed > 0 && depthUnder[other] < entryDistance * speed) return false;
		}
		leanSine = Math.sqrt(Math.max(0, 1 - square * square));
		setWorstAim(worst, aim, widening, entryDistance, leanSine);
		const slope = Math.sqrt(Math.max(0, 1 - cosine * cosine)) / cosine;
		planeStop = Math.max(tipOnPlane(aimed, slope), tipOnPlane(worst, slope), thinBack / cosine);
		tipLimit = planeStop + 2 * drill.holeRadius;
		if (entryDistance - SHORTEST_HOLE < tipLimit) {
			tipLimit = entryDistance - SHORTEST_HOLE;
			if (tipLimit < planeStop) {
				failedShallow = true;
				return false;
			}
		}
		if (banker) {
			const outside = entryDistance + setup.outsideMm;
			if (dot(d, banker.normal) * outside + dot(inStone, banker.normal) > banker.offset) {
				failedBanker = true;
				return false;
			}
		}
		// With the tip at its deepest, the low rim of the chuck must still clear the skin.
		if (search.reachAsked) {
			const deepest = entryDistance - capReach(aimed, 0);
			if (deepest + drill.chuckRadius * (leanSine / square) > drill.reach) {
				failedReach = true;
				return false;
			}
		}
		return true;
	};

	const isClear = (dx: number, dy: number, dz: number): boolean => {
		if (isBlockedByKnown(dx, dy, dz)) return false;
		const direction: Vec3 = [dx, dy, dz];
		probe.setLine(position, direction);
		probe.setSolids(aimed, worst);
		if (probe.touch(tipLimit, tipLimit, touch).triangle >= 0) {
			if (firstBlock.triangle < 0) Object.assign(firstBlock, touch);
			remember();
			return false;
		}
		const between = index.castRay(along(position, direction, NOISE_MM), direction, Math.max(0, tipLimit - NOISE_MM));
		if (between && firstBlock.triangle < 0) {
			const hit = along(position, direction, NOISE_MM + between.distance);
			Object.assign(firstBlock, { triangle: between.triangle, x: hit[0], y: hit[1], z: hit[2] });
		}
		return between === null;
	};

	/** Tries the lines of one lie in order of tilt; the first clear one, as face × 2^16 + place in its grid, or −1. */
	const keys: number[] = [];
	const cosines = new Map<number, number>();
	const leastTilted = (search: Rules, lie: number): number => {
		const bands = Math.ceil(search.coneDeg);
		const [nx, ny, nz] = normal;
		for (let band = 0; band < bands; band++) {
			const upper = band === 0 ? 2 : BAND_COSINES[band];
			const lower = band + 1 < bands ? BAND_COSINES[band + 1] : cosDegrees(search.coneDeg);
			const upperSine = Math.sqrt(Math.max(0, 1 - upper * upper));
			const lowerSine = Math.sqrt(Math.max(0, 1 - lower * lower));
			keys.length = 0;
			cosines.clear();
			for (const f of search.lies[lie].open) {
				const grid = search.grids[f];
				const { directions, tiles, tileFrom } = grid;
				const marks = seenFor(grid);
				for (let tile = 0; tile + 1 < tileFrom.length; tile++) {
					const c = TILE_NUMBERS * tile;
					const middle = tiles[c] * nx + tiles[c + 1] * ny + tiles[c + 2] * nz;
					// Tilt of the middle less the tile's width, against the band: cos(a − b) > lower without an angle.
					if (middle < lower * tiles[c + 3] - lowerSine * tiles[c + 4]) continue;
					if (upper < tiles[c + 3] && middle > upper * tiles[c + 3] + upperSine * tiles[c + 4]) continue;
					for (let g = tileFrom[tile]; g < tileFrom[tile + 1]; g++) {
						const cosine = directions[3 * g] * nx + directions[3 * g + 1] * ny + directions[3 * g + 2] * nz;
						if (cosine < lower || cosine >= upper || marks[g] === stamp) continue;
						const key = f * GRID_ROOM + g;
						keys.push(key);
						cosines.set(key, cosine);
					}
				}
			}
			keys.sort((a, b) => cosines.get(b)! - cosines.get(a)! || a - b);
			for (const key of keys) {
				const f = Math.floor(key / GRID_ROOM);
				const g = key - f * GRID_ROOM;
				const grid = search.grids[f];
				if (!isAllowed(search, lie, f, g, cosines.get(key)!)) continue;
				if (isClear(grid.directions[3 * g], grid.directions[3 * g + 1], grid.directions[3 * g + 2])) return key;
				seenFor(grid)[g] = stamp;
			}
		}
		return -1;
	};

	/** Of the shared lines that are as little tilted as the best, the first clear one. */
	const sharedLine = (search: Rules, lie: number, best: number, shared: readonly SharedLine[]): number => {
		const bestFace = Math.floor(best / GRID_ROOM);
		const tilt = (f: number, g: number): number => dot(directionOf(search.grids[f], g), normal);
		const bestCosine = Math.min(1, tilt(bestFace, best - bestFace * GRID_ROOM));
		const bestSine = Math.sqrt(Math.max(0, 1 - bestCosine * bestCosine));
		const least = Math.max(cosDegrees(search.coneDeg), bestCosine * EQUAL_COSINE - bestSine * EQUAL_SINE);
		for (const wish of shared) {
			const f = stone.faces.findIndex((face) => face.name === wish.face);
			if (f < 0 || !search.lies[lie].open.includes(f)) continue;
			const grid = search.grids[f];
			const g = findLean(grid, wish.leanDeg);
			if (g < 0 || seenFor(grid)[g] === stamp) continue;
			const cosine = tilt(f, g);
			if (cosine < least || !isAllowed(search, lie, f, g, cosine)) continue;
			if (isClear(grid.directions[3 * g], grid.directions[3 * g + 1], grid.directions[3 * g + 2]))
				return f * GRID_ROOM + g;
		}
		return best;
	};

	const describe = (search: Rules, lie: number, key: number, allowance: number): DrillLine => {
		const f = Math.floor(key / GRID_ROOM);
		const g = key - f * GRID_ROOM;
		const grid = search.grids[f];
		const { face } = grid;
		const inModel = directionOf(grid, g);
		const tiltCosine = dot(inModel, normal);
		isAllowed(search, lie, f, g, tiltCosine);
		const line: HoleLine = { target: position, direction: inModel, entry: entryDistance, leanSine };
		const surfaceStop = gauge.stopOnSurface(line, drill, allowance, aim);
		const stop = Math.max(surfaceStop, thinBack / tiltCosine);
		const leanDeg: [number, number] = [grid.u[g] * LEAN_STEP_DEG, grid.v[g] * LEAN_STEP_DEG];
		const direction = turn(placement.rotation, inModel);
		const entry = along(inStone, direction, entryDistance);
		const depth = entryDistance - stop;
		return {
			direction,
			lie,
			face,
			leanDeg,
			tiltCosine,
			entry,
			...faceCoordinates(face, entry),
			stop,
			depth,
			length: entryDistance,
			clearance: gauge.clearance(line, drill, stop),
			worstSpare: gauge.worstSpare(line, drill, stop, aim),
			aimSafeDeg: gauge.safeLeanDeg(line, drill, stop, aim),
			stoneAlong: depth,
			thin: stop > surfaceStop,
		};
	};

	const undercut = (): Undercut => {
		const blocked = firstBlock.triangle >= 0;
		const reason = blocked
			? "blocked"
			: failedReach
				? "reach"
				: failedBanker
					? "banker"
					: failedShallow
						? "shallow"
						: "lean";
		return {
			reason,
			triangle: firstBlock.triangle,
			blockedAt: blocked ? [firstBlock.x, firstBlock.y, firstBlock.z] : null,
		};
	};

	const find: LineSearch["find"] = (target, withDrill, allowance, shared = [], thickness = Infinity) => {
		begin(target, withDrill, allowance, thickness);
		for (let lie = 0; lie < rules.lies.length; lie++) {
			const best = leastTilted(rules, lie);
			if (best >= 0) return describe(rules, lie, sharedLine(rules, lie, best, shared), allowance);
		}
		return undercut();
	};

	const reaches: LineSearch["reaches"] = (target, withDrill, allowance, thickness = Infinity) => {
		begin(target, withDrill, allowance, thickness);
		for (let lie = 0; lie < rules.lies.length; lie++) if (leastTilted(rules, lie) >= 0) return true;
		return false;
	};

	const opening: LineSearch["opening"] = (target, withDrill, allowance) => {
		const attempt = (search: Rules): number => {
			begin(target, withDrill, allowance, Infinity);
			return leastTilted(search, 0);
		};
		const faceOf = (key: number): string => stone.faces[Math.floor(key / GRID_ROOM)].name;
		const otherLie = attempt({ ...rules, lies: anyFace });
		if (otherLie >= 0) return { by: "lie", face: faceOf(otherLie) };
		if (attempt({ ...rules, lies: anyFace, reachAsked: false }) >= 0) return { by: "reach", reach: entryDistance };
		const wide: Rules = { grids: grids(STEEPEST_DEG), coneDeg: STEEPEST_DEG, reachAsked: false, lies: anyFace };
		const steep = attempt(wide);
		if (steep < 0) return { by: "nothing" };
		const f = Math.floor(steep / GRID_ROOM);
		const g = steep - f * GRID_ROOM;
		const { u, v } = wide.grids[f];
		return { by: "lean", face: faceOf(steep), leanDeg: [u[g] * LEAN_STEP_DEG, v[g] * LEAN_STEP_DEG] };
	};

	return { find, reaches, opening };
}

/** More than the lines of any grid: (2 × 90 + 1)². */
const GRID_ROOM = 65536;
const BAND_COSINES = Array.from({ length: STEEPEST_DEG + 1 }, (_, i) => cosDegrees(i));
const EQUAL_COSINE = cosDegrees(EQUAL_TILT_DEG);
const EQUAL_SINE = Math.sqrt(1 - EQUAL_COSINE * EQUAL_COSINE);
const NO_SOLID: AimedSolid = {
	rounding: 0,
	shoulder: 0,
	coneSlope: 0,
	coneFrom: 0,
	coneTo: 0,
	coneTop: 0,
	shift: 0,
	wider: 0,
	widening: 0,
	push: 0,
};

/** Place in the grid of the line with these leans, or −1. */
function findLean(grid: LeanGrid, leanDeg: readonly [number, number]): number {
	const u = Math.round(leanDeg[0] / LEAN_STEP_DEG);
	const v = Math.round(leanDeg[1] / LEAN_STEP_DEG);
	for (let g = 0; g < grid.u.length; g++) if (grid.u[g] === u && grid.v[g] === v) return g;
	return -1;
}
