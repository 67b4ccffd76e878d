/** Does the figure fit in a stone of any convex shape: a block, a block with broken corners, an offcut (handbook 10). */
import type { Job } from "../job.ts";
import { Refusal } from "../refusal.ts";
import {
	add,
	distance,
	dot,
	IDENTITY,
	type Mat3,
	type Placement,
	place,
	rotationFromQuaternion,
	scale,
	sub,
	turn,
	turnBack,
	type Vec3,
} from "../vector.ts";
import type { Stone } from "./block.ts";
import {
	checkSides,
	type FaceGap,
	FIT_TOLERANCE,
	type FitOptions,
	fitBlock,
	fitOf,
	NO_MARGINS,
	type StoneFit,
} from "./fitBlock.ts";
import type { Flaw } from "./flaws.ts";
import type { Hull } from "./hull.ts";
import { keepClear } from "./keepClear.ts";
import { type LargestScale, largestScale, SCALE_TOLERANCE, type SizeOptions } from "./sizes.ts";
import { type StoneAim, StoneJudge, StonePlacer, type StoneRoom, stoneDomain } from "./stoneJudge.ts";
import { type Body, bodyOf } from "./support.ts";
import { type Quaternion, readyLimits, type Turning } from "./turning.ts";
import { type SearchLimits, searchTurns, type TurnSearch } from "./turnSearch.ts";

/** Margins of the faces of a stone in their order: by name, `other` for breaks and the faces of an offcut. */
function marginsOf(stone: Stone, options: FitOptions): number[] {
	const margins: Readonly<Record<string, number | undefined>> = options.margins ?? NO_MARGINS;
	return stone.faces.map((face) => margins[face.name] ?? options.otherMargin ?? 0);
}

/** The stone less its margins, around its middle. */
interface Room extends StoneRoom {
	readonly middle: Vec3;
}

function roomOf(stone: Stone, margins: readonly number[]): Room {
	const corners = stone.faces.flatMap((face) => face.outline);
	let middle: Vec3 = [0, 0, 0];
	for (const corner of corners) middle = add(middle, scale(corner, 1 / corners.length));
	const planes = stone.planes.slice();
	stone.faces.forEach((face, f) => {
		planes[4 * f + 3] = face.offset - margins[f] - dot(face.normal, middle);
	});
	return { planes, middle, reach: Math.max(...corners.map((corner) => distance(corner, middle))) };
}

/** The best turn in a room, with the value of the aim and its bound. */
function* searchRoom(room: Room, body: Body, aim: StoneAim, turning: Turning, limits: SearchLimits): Job<TurnSearch> {
	if (turning.kind === "fixed") {
		const { value } = placeInRoom(room, body, aim, turning.rotation);
		return { rotation: turning.rotation, value, bound: value, cells: 0 };
	}
	const domain = stoneDomain(turning);
	return yield* searchTurns(new StoneJudge(room, body, aim, domain), domain, limits);
}

/** Sets and gives the limits of the place of a turned body: what is left of each face beyond its furthest corner. */
function placeLimits(placer: StonePlacer, room: Room, body: Body, rotation: Mat3): Float64Array {
	const { corners } = body;
	const { limits } = placer.programme;
	for (let f = 0; f < placer.faces; f++) {
		const [dx, dy, dz] = turnBack(rotation, [room.planes[4 * f], room.planes[4 * f + 1], room.planes[4 * f + 2]]);
		let most = -Infinity;
		for (let k = 0; k < corners.length; k += 3) {
			const reach = dx * corners[k] + dy * corners[k + 1] + dz * corners[k + 2];
			if (reach > most) most = reach;
		}
		limits[f] = placer.limitOf(room, f) - most;
	}
	return limits;
}

/** The best place of a turned body in a room: the way of its middle from the room's middle, and the aim's value. */
function placeInRoom(room: Room, body: Body, aim: StoneAim, rotation: Mat3): { shift: Vec3; value: number } {
	const placer = new StonePlacer(room, body, aim);
	const { programme, solver } = placer;
	placeLimits(placer, room, body, rotation);
	if (!solver.solve(programme)) throw new Error("a closed stone has a best place for every body");
	const value = solver.y[3];
	if (aim === "clearance") spreadOut(placer, room);
	return { shift: [solver.y[0], solver.y[1], solver.y[2]], value };
}

/**
 * Among the places that are best by the tightest faces, the one that is best by the others too: the faces that hold the
 * answer are kept at their gap and the programme is solved again for the rest, so that a long stone is not used up at one
 * end for nothing.
 */
function spreadOut({ programme, solver }: StonePlacer, room: StoneRoom): void {
	const rows = programme.rows.slice();
	const limits = programme.limits.slice();
	// What a settled face may lose to rounding, mm.
	const slack = 1e-10 * (1 + room.reach);
	for (let round = 0; round < 3; round++) {
		const settled: number[] = [];
		for (let k = 0; k < 4; k++) if (solver.weights[k] > 1e-9 && solver.basis[k] >= 0) settled.push(solver.basis[k]);
		for (const f of settled) {
			if (rows[4 * f + 3] === 0) continue;
			rows[4 * f + 3] = 0;
			limits[f] += slack - solver.y[3];
		}
		const last = solver.y.slice();
		if (!solver.solve({ ...programme, rows, limits }) || !solver.solved || solver.basis.some((k) => k < 0)) {
			solver.y.set(last);
			return;
		}
	}
}

/**
 * The placement of a figure in a convex stone that leaves most over the margins, and the bound that no other placement
 * beats; a plain block goes the shorter way of `fitBlock`. Refuses limits on directions that no turn keeps.
 */
export function* fitStone(hull: Hull, stone: Stone, options: FitOptions = {}): Job<StoneFit> {
	if (stone.block.kind === "box") return yield* fitBlock(hull, stone.block.size, options);
	const tolerance = options.tolerance ?? FIT_TOLERANCE;
	checkSides(null, options, tolerance);
	const margins = marginsOf(stone, options);
	const room = roomOf(stone, margins);
	const body = bodyOf(hull);
	const turning = options.turning ?? { kind: "free" };
	const found = yield* searchRoom(room, body, "clearance", turning, {
		tolerance,
		decideSign: true,
		maxCells: options.maxCells,
		enough: options.enough,
	});
	const { shift } = placeInRoom(room, body, "clearance", found.rotation);
	const translation = sub(add(shift, room.middle), turn(found.rotation, body.middle));
	const placement: Placement = { rotation: found.rotation, translation };
	return fitOf(placement, gapsIn(stone, hull, placement, margins), found, tolerance);
}

/**
 * The best placement found that keeps every flaw `clear` mm away from the places that must be sound; its bound is that of
 * `best`, the fit without flaws. null when none was found, whether or not there is one.
 */
export function* fitClearOf(
	hull: Hull,
	stone: Stone,
	flaws: readonly Flaw[],
	sound: readonly Vec3[],
	clear: number,
	options: FitOptions,
	best: StoneFit,
): Job<StoneFit | null> {
	const margins = marginsOf(stone, options);
	const room = roomOf(stone, margins);
	const body = bodyOf(hull);
	const turning = options.turning ?? { kind: "free" };
	const placer = new StonePlacer(room, body, "clearance");
	const found = yield* keepClear({
		flaws: flaws.map((flaw) => ({ ...flaw, offset: flaw.offset - dot(flaw.normal, room.middle) })),
		sound,
		within: clear,
		turning,
		limits: readyLimits(turning),
		first: best.placement.rotation,
		middle: body.middle,
		placeAt(rotation, more) {
			const limits = placeLimits(placer, room, body, rotation);
			const { programme, solver } = placer;
			const count = placer.faces + more.length;
			const rows = new Float64Array(4 * count);
			rows.set(programme.rows);
			const all = new Float64Array(count);
			all.set(limits);
			more.forEach(({ normal, limit }, i) => {
				rows.set(normal, 4 * (placer.faces + i));
				all[placer.faces + i] = limit;
			});
			if (!solver.solve({ ...programme, rows, limits: all, rowCount: count }) || !solver.solved) return null;
			const shift: Vec3 = [solver.y[0], solver.y[1], solver.y[2]];
			const middle = turn(rotation, body.middle);
			return {
				placement: { rotation, translation: sub(add(shift, room.middle), middle) },
				value: solver.y[3],
			};
		},
	});
	if (!found) return null;
	const tolerance = options.tolerance ?? FIT_TOLERANCE;
	return fitOf(found.placement, gapsIn(stone, hull, found.placement, margins), best, tolerance);
}

/** The best placement near a turn, within the turns that are allowed; null where the turn is fixed. */
export function bestNear(hull: Hull, stone: Stone, near: Quaternion, options: FitOptions): Placement | null {
	const turning = options.turning ?? { kind: "free" };
	if (turning.kind === "fixed") return null;
	const room = roomOf(stone, marginsOf(stone, options));
	const body = bodyOf(hull);
	const polished = new StoneJudge(room, body, "clearance", stoneDomain(turning)).polish(near);
	if (polished.value === -Infinity) return null;
	const rotation = rotationFromQuaternion(polished.turn);
	const { shift } = placeInRoom(room, body, "clearance", rotation);
	return { rotation, translation: sub(add(shift, room.middle), turn(rotation, body.middle)) };
}

/**
 * What a placement chosen by hand leaves, in a stone whose best placement was found as `best`: its bound is the bound of
 * every placement that was allowed then.
 */
export function placedByHand(
	hull: Hull,
	stone: Stone,
	placement: Placement,
	options: FitOptions,
	best: StoneFit,
): StoneFit {
	const gaps = gapsIn(stone, hull, placement, marginsOf(stone, options));
	return fitOf(placement, gaps, best, options.tolerance ?? FIT_TOLERANCE);
}

/** What is left between the placed figure and each face. */
export function gapsIn(stone: Stone, hull: Hull, placement: Placement, margins: readonly number[]): FaceGap[] {
	const { vertices } = hull;
	return stone.faces.map((face, f) => {
		let gap = Infinity;
		let touching: Vec3 = [0, 0, 0];
		let touchingInStone: Vec3 = [0, 0, 0];
		for (let k = 0; k < vertices.length; k += 3) {
			const at: Vec3 = [vertices[k], vertices[k + 1], vertices[k + 2]];
			const inStone = place(placement, at);
			const left = face.offset - dot(face.normal, inStone);
			if (left < gap) {
				gap = left;
				touching = at;
				touchingInStone = inStone;
			}
		}
		return { face: face.name, gap, margin: margins[f], touching, touchingInStone };
	});
}

/** How large the figure can be made in a convex stone: the factor on its present size, margins unchanged. */
export function* largestScaleIn(hull: Hull, stone: Stone, options: SizeOptions = {}): Job<LargestScale> {
	if (stone.block.kind === "box") return yield* largestScale(hull, stone.block.size, options);
	const tolerance = options.tolerance ?? SCALE_TOLERANCE;
	checkSides(null, options, tolerance);
	const room = roomOf(stone, marginsOf(stone, options));
	const aPoint: Body = { ...bodyOf(hull), corners: new Float64Array(3), radius: 0 };
	if (!(placeInRoom(room, aPoint, "clearance", IDENTITY).value > 0)) {
		throw new Refusal("stone.marginsUseUpStone", { faces: stone.faces.length });
	}
	const body = bodyOf(hull);
	const found = yield* searchRoom(room, body, "scale", options.turning ?? { kind: "free" }, {
		tolerance: 0,
		relativeTolerance: tolerance / (1 + tolerance),
		maxCells: options.maxCells,
		enough: options.enough,
	});
	const { shift, value } = placeInRoom(room, body, "scale", found.rotation);
	// The value is minus the inverse of the scale.
	const factor = -1 / value;
	const bound = Math.max(factor, -1 / Math.max(value, found.bound));
	const placedMiddle = add(scale(shift, factor), room.middle);
	return {
		scale: factor,
		bound,
		certified: found.bound < 0 && bound <= factor * (1 + tolerance),
		placement: {
			rotation: found.rotation,
			translation: sub(placedMiddle, turn(found.rotation, scale(body.middle, factor))),
		},
		cells: found.cells,
	};
}
