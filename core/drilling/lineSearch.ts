/**
 * The drill line of a point: the least tilted one on the printed grid of leans whose hole touches nothing but waste
 * (handbook 8). Which lines are permitted and clear is said in `lineTrial.ts`, how they are gone through in
 * `leastTilted.ts`.
 */

import { Refusal } from "../refusal.ts";
import { exitOf, faceCoordinates, leansOf, type Stone, type StoneFace } from "../stone/block.ts";
import type { SurfaceIndex } from "../surface/surfaceIndex.ts";
import { degreesFromTangent } from "../text/angle.ts";
import { along, distance, dot, type Placement, place, sub, turn, turnBack } from "../vector.ts";
import type { Aim, Drill } from "./drill.ts";
import type { DrillLine, DrillTarget, Opening, OtherHoles, SharedLine, SunkHole, Undercut } from "./drillLine.ts";
import { createHoleGauge, type HoleLine } from "./holeGauge.ts";
import { directionOf, LEAN_STEP_DEG, leanGrid } from "./leanGrid.ts";
import { leastTilted, preferShared } from "./leastTilted.ts";
import type { Lie } from "./lies.ts";
import { type Barred, isInBanker, LineTrial } from "./lineTrial.ts";
import {
	type Candidate,
	type MarkedGrid,
	type OpenFaces,
	type SearchRules,
	STEEPEST_DEG,
	withMarks,
} from "./searchRules.ts";

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
	/** By vertex of the indexed mesh as `ThinParts.marks`: no hammer on what is marked; null where none is used. */
	readonly thinMarks?: Uint8Array | null;
}

export interface LineSearch {
	/**
	 * The line of a target, or why there is none. Of lines equally little tilted one that is `shared` is taken. `thickness`
	 * is the stone behind the target in the finished figure, mm, measured here unless given. A line that would run into one
	 * of the `others` is passed over.
	 */
	find(
		target: DrillTarget,
		drill: Drill,
		allowance: number,
		shared?: readonly SharedLine[],
		thickness?: number,
		others?: OtherHoles,
	): DrillLine | Undercut;
	/**
	 * The line of a target whose hole is in the stone: it and its stop are facts, permitted or not; the rest is measured as
	 * the stone stands now. null when the hole does not lead to the target any more.
	 */
	sunk(target: DrillTarget, drill: Drill, hole: SunkHole): DrillLine | null;
	/** Whether `find` would give a line; several times cheaper. */
	reaches(target: DrillTarget, drill: Drill, allowance: number, thickness?: number): boolean;
	/** What would open a target that has no line. */
	opening(target: DrillTarget, drill: Drill, allowance: number, thickness?: number): Opening;
}

/** A hole whose axis passes the target by no more leads to it, mm: far under any bench, over what plans are rounded to. */
const SAME_AXIS = 1e-3;
/** Every second line of the grid is enough where a line is not drilled, only advised. */
const COARSE_STEPS = 2;

/** A search over one placement in one stone. It holds scratch, so each thread needs its own. */
export function createLineSearch(setup: LineSearchSetup): LineSearch {
	const { index, stone, placement, lies, aim } = setup;
	checkSetup(setup);
	const gauge = createHoleGauge(index);
	const trial = new LineTrial({ ...setup, thinMarks: setup.thinMarks ?? null, probe: gauge.probe });
	const gridsOf = (leanDeg: number, step = 1): readonly MarkedGrid[] =>
		stone.faces.map((face) => withMarks(leanGrid(face, placement.rotation, leanDeg, step)));
	/** Made when they are first asked for. */
	let coarse: { allowed: readonly MarkedGrid[]; steep: readonly MarkedGrid[] } | null = null;
	const lyingOn = (closedFace: string): OpenFaces => ({
		open: stone.faces.flatMap((face, f) => (face.name === closedFace ? [] : [f])),
		banker: stone.faces.find((face) => face.name === closedFace) ?? null,
	});
	const rules: SearchRules = {
		grids: gridsOf(setup.leanDeg),
		coneDeg: setup.coneDeg,
		leanDeg: setup.leanDeg,
		reachAsked: true,
		lies: lies.map((lie) => lyingOn(lie.closedFace)),
	};
	const leanOf = ({ face, line }: Candidate, grids = rules.grids): [number, number] => [
		grids[face].u[line] * LEAN_STEP_DEG,
		grids[face].v[line] * LEAN_STEP_DEG,
	];

	const describe = (lie: number, candidate: Candidate, allowance: number): DrillLine => {
		// Other lines may have been examined since: sets the numbers of this one again.
		trial.examine(rules, lie, candidate.face, candidate.line, candidate.cosine);
		const { drill, entry, leanSine } = trial;
		const { face } = rules.grids[candidate.face];
		const inModel = directionOf(rules.grids[candidate.face], candidate.line);
		const line: HoleLine = { target: trial.target.position, direction: inModel, entry, leanSine };
		const surfaceStop = gauge.stopOnSurface(line, drill, allowance, aim);
		const stop = Math.max(surfaceStop, trial.thinBack / candidate.cosine);
		return {
			lie,
			leanDeg: leanOf(candidate),
			tiltCosine: candidate.cosine,
			thin: stop > surfaceStop,
			...measured(face, line, drill, stop),
		};
	};

	/** What follows from a line through a face once the stop is known. */
	const measured = (face: StoneFace, line: HoleLine, drill: Drill, stop: number) => {
		const direction = turn(placement.rotation, line.direction);
		const onSkin = along(place(placement, line.target), direction, line.entry);
		const depth = line.entry - stop;
		return {
			direction,
			face,
			entry: onSkin,
			...faceCoordinates(face, onSkin),
			stop,
			depth,
			length: line.entry,
			clearance: gauge.clearance(line, drill, stop),
			worstSpare: gauge.worstSpare(line, drill, stop, aim),
			aimSafeDeg: gauge.safeLeanDeg(line, drill, stop, aim),
			stoneAlong: depth,
		};
	};

	const sunk: LineSearch["sunk"] = ({ position, normal }, drill, { line: out, floor }) => {
		const at = place(placement, position);
		const stop = dot(sub(floor, at), out);
		const exit = exitOf(stone, at, out);
		if (!exit || exit.distance <= stop || distance(along(at, out, stop), floor) > SAME_AXIS) return null;
		const { face, distance: entry } = exit;
		const f = stone.faces.indexOf(face);
		const outside = entry + setup.outsideMm;
		const lie = rules.lies.findIndex(
			({ open, banker }) => open.includes(f) && !(banker && isInBanker(banker, at, ...out, outside)),
		);
		const square = dot(face.normal, out);
		const leans = leansOf(face, out) ?? { u: 0, v: 0 };
		const direction = turnBack(placement.rotation, out);
		const leanSine = Math.sqrt(Math.max(0, 1 - square * square));
		return {
			lie: Math.max(0, lie),
			leanDeg: [degreesFromTangent(leans.u), degreesFromTangent(leans.v)],
			tiltCosine: dot(direction, normal),
			thin: false,
			...measured(face, { target: position, direction, entry, leanSine }, drill, stop),
		};
	};

	/** Whether one of the barred lines is clear of the model when what bars it is lifted. */
	const opens = (barred: readonly Barred[], lifted: SearchRules): boolean =>
		barred.some(({ lie, candidate }) => {
			const { face, line, cosine } = candidate;
			return trial.examine(lifted, lie, face, line, cosine) === "allowed" && trial.isClear(lifted, candidate);
		});

	const reasonOf = (): Undercut["reason"] => {
		if (trial.isForbidden) return "thin";
		if (trial.meetsBridge) return "bridge";
		if (trial.meetsHoles) return "holes";
		if (opens(trial.tooFar, { ...rules, reachAsked: false })) return "reach";
		const noBanker = rules.lies.map(({ open }) => ({ open, banker: null }));
		if (opens(trial.inBanker, { ...rules, lies: noBanker })) return "banker";
		if (trial.firstBlock.triangle >= 0) return "blocked";
		if (trial.isShallow) return "shallow";
		return trial.isAtArris ? "arris" : "lean";
	};

	const undercut = (): Undercut => {
		const reason = reasonOf();
		const { triangle, x, y, z } = trial.firstBlock;
		return { reason, triangle, blockedAt: triangle >= 0 ? [x, y, z] : null };
	};

	const find: LineSearch["find"] = (target, drill, allowance, shared = [], thickness, others) => {
		trial.begin(target, drill, allowance, thickness, others);
		if (trial.isForbidden) return undercut();
		for (let lie = 0; lie < lies.length; lie++) {
			const best = leastTilted(trial, rules, lie);
			if (best) return describe(lie, preferShared(trial, rules, lie, best, shared), allowance);
		}
		return undercut();
	};

	const reaches: LineSearch["reaches"] = (target, drill, allowance, thickness) => {
		trial.begin(target, drill, allowance, thickness);
		if (trial.isForbidden) return false;
		return lies.some((_, lie) => leastTilted(trial, rules, lie) !== null);
	};

	const opening: LineSearch["opening"] = (target, drill, allowance, thickness) => {
		const { position, normal, kept = [] } = target;
		if (kept.length > 0 && reaches({ position, normal }, drill, allowance, thickness)) return { by: "bridge" };
		trial.begin(target, drill, allowance, thickness);
		if (trial.isForbidden) return { by: "nothing" };
		const nameOf = (candidate: Candidate): string => stone.faces[candidate.face].name;
		// What blocks a line blocks it in every lie, so the marks of one attempt serve the next.
		for (const { name } of stone.faces) {
			if (lies.some((lie) => lie.closedFace === name)) continue;
			const found = leastTilted(trial, { ...rules, lies: [lyingOn(name)] }, 0);
			if (found) return { by: "lie", closedFace: name, face: nameOf(found) };
		}
		const anyLie = stone.faces.map(({ name }) => lyingOn(name));
		const firstIn = (search: SearchRules): Candidate | null => {
			for (let lie = 0; lie < anyLie.length; lie++) {
				const found = leastTilted(trial, search, lie);
				if (found) return found;
			}
			return null;
		};
		const free: SearchRules = { ...rules, lies: anyLie, reachAsked: false };
		if (firstIn(free)) return { by: "reach", reach: trial.reachNeeded() };
		coarse ??= { allowed: gridsOf(setup.leanDeg, COARSE_STEPS), steep: gridsOf(STEEPEST_DEG, COARSE_STEPS) };
		const tilted = firstIn({ ...free, grids: coarse.allowed, coneDeg: STEEPEST_DEG });
		if (tilted) return { by: "tilt", face: nameOf(tilted), tiltCosine: tilted.cosine };
		const leaning = firstIn({ ...free, grids: coarse.steep, coneDeg: STEEPEST_DEG, leanDeg: STEEPEST_DEG });
		return leaning ? { by: "lean", face: nameOf(leaning), leanDeg: leanOf(leaning, coarse.steep) } : { by: "nothing" };
	};

	return { find, sunk, reaches, opening };
}

function checkSetup({ stone, lies, coneDeg, leanDeg }: LineSearchSetup): void {
	const found = Math.max(coneDeg, leanDeg);
	if (!(found <= STEEPEST_DEG)) throw new Refusal("drilling.tooSteep", { found, most: STEEPEST_DEG });
	for (const lie of lies)
		if (!stone.faces.some((face) => face.name === lie.closedFace))
			throw new Refusal("drilling.noSuchFace", {
				lie: lie.name,
				face: lie.closedFace,
				faces: stone.faces.map((face) => face.name),
			});
}
