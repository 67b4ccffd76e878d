/**
 * The drill line of a point: the least tilted one on the printed half-degree grid whose hole touches nothing but waste
 * (handbook 8).
 *
 * A line is *clear* when nothing of the model stands between target and tip on the line itself and the deepest safe stop
 * lies no farther back than on a plane of the same tilt plus one hole diameter: a tip kept farther off would stand before
 * some other part of the model, or so high over a narrow hollow that the hole would be cut away before it is of use.
 *
 * Every line of the grid counts, so the search is exhaustive. It is quick because each failed line leaves behind a place
 * of the surface that blocks it, which is asked before the tree is walked again (`blockers.ts`).
 */

import { cosDegrees, sinDegrees, tanDegrees } from "../exactAngle.ts";
import { Refusal } from "../refusal.ts";
import { faceCoordinates, type Stone, type StoneFace } from "../stone/block.ts";
import { newTouch } from "../surface/holeProbe.ts";
import type { SurfaceIndex } from "../surface/surfaceIndex.ts";
import { capReach, tipOnPlane } from "../surface/sweptSolid.ts";
import { along, dot, type Placement, place, turn, type Vec3 } from "../vector.ts";
import { Blockers } from "./blockers.ts";
import { runsInto } from "./crossings.ts";
import { type Aim, type AimedSolid, type Drill, growth, holeSolid, setWorstAim } from "./drill.ts";
import type { DrillLine, DrillTarget, Opening, OtherHoles, SharedLine, Undercut } from "./drillLine.ts";
import { createHoleGauge, type HoleLine } from "./holeGauge.ts";
import { directionOf, LEAN_STEP_DEG, type LeanGrid, leanGrid, lineAt, TILE_NUMBERS } from "./leanGrid.ts";
import type { Lie } from "./lies.ts";
import { thicknessAt } from "./thickness.ts";

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
	/** Whether `find` would give a line; several times cheaper. */
	reaches(target: DrillTarget, drill: Drill, allowance: number, thickness?: number): boolean;
	/** What would open a target that has no line. */
	opening(target: DrillTarget, drill: Drill, allowance: number, thickness?: number): Opening;
}

/** Greatest tilt and lean at which a bit does not walk, degrees (common practice, no source). */
export const STEEPEST_DEG = 45;
/** Parts thinner than this are thin: no hammer, and two drill diameters behind the floor (common practice, no source). */
export const THIN_MM = 15;
const DIAMETERS_BEHIND_FLOOR = 2;
/** A hole shorter than this is none: the sheet prints half millimetres. */
const SHORTEST_HOLE = 0.5;
/** Surface met nearer to the target than this is the scan's own noise about it, not another part in the way. */
const NOISE_MM = 0.5;
/** Tilts within a printed step are equal, and go to the direction that the neighbours share. */
const EQUAL_COSINE = cosDegrees(LEAN_STEP_DEG);
const EQUAL_SINE = sinDegrees(LEAN_STEP_DEG);
const BAND_COSINES = Array.from({ length: STEEPEST_DEG + 1 }, (_, i) => cosDegrees(i));

/** What a search may use; without a banker, a face that can never be closed. */
interface Rules {
	readonly grids: readonly Marked[];
	readonly coneDeg: number;
	readonly leanDeg: number;
	readonly reachAsked: boolean;
	/** Open faces, by number, and the face that lies on the banker. */
	readonly lies: readonly { readonly open: readonly number[]; readonly banker: StoneFace | null }[];
}

/** A grid with what is known of its lines for the target of that stamp. */
interface Marked extends LeanGrid {
	/** Stamp of the target for which a line is known to be blocked. */
	readonly blocked: Uint32Array;
	/** Stamp of the target for which `tileKnown` holds: how many blockers a tile has been held against, −1 when one blocks it all. */
	readonly tileStamp: Uint32Array;
	readonly tileKnown: Int32Array;
}

/** One line of one grid, and the cosine of its tilt. */
interface Candidate {
	readonly face: number;
	readonly line: number;
	readonly cosine: number;
}
interface Barred {
	readonly lie: number;
	readonly candidate: Candidate;
}
const byTilt = (a: Candidate, b: Candidate): number => b.cosine - a.cosine || a.face - b.face || a.line - b.line;

export function createLineSearch(setup: LineSearchSetup): LineSearch {
	const { index, stone, placement, lies, aim } = setup;
	checkSetup(setup);
	const gauge = createHoleGauge(index);
	const { probe } = gauge;
	const touch = newTouch();
	const widening = growth(aim);
	const gridsByLean = new Map<number, readonly Marked[]>();
	const gridsOf = (leanDeg: number): readonly Marked[] => {
		let grids = gridsByLean.get(leanDeg);
		if (!grids) {
			grids = stone.faces.map((face) => withMarks(leanGrid(face, placement.rotation, leanDeg)));
			gridsByLean.set(leanDeg, grids);
		}
		return grids;
	};
	const lyingOn = (closedFace: string): Rules["lies"][number] => ({
		open: stone.faces.flatMap((face, f) => (face.name === closedFace ? [] : [f])),
		banker: stone.faces.find((face) => face.name === closedFace) ?? null,
	});
	const rules: Rules = {
		grids: gridsOf(setup.leanDeg),
		coneDeg: setup.coneDeg,
		leanDeg: setup.leanDeg,
		reachAsked: true,
		lies: lies.map((lie) => lyingOn(lie.closedFace)),
	};

	// One target at a time: what is asked of it …
	let target: DrillTarget = { position: [0, 0, 0], normal: [0, 0, 1] };
	let inStone: Vec3 = [0, 0, 0];
	let drill!: Drill;
	let aimed!: AimedSolid;
	let worst!: AimedSolid;
	let others: OtherHoles = NO_HOLES;
	/** The tip must stand back at least this far, measured along the normal, for the sake of a thin part. */
	let thinBack = 0;
	const depthUnder = new Float64Array(stone.faces.length);
	let stamp = 0;
	// … what is known of it …
	const blockers = new Blockers();
	const firstBlock = newTouch();
	const failed = { shallow: false, holes: false };
	/** Lines that nothing but the drill's reach, or the banker, stands against: face, line, lie. */
	const tooFar: Barred[] = [];
	const inBanker: Barred[] = [];
	// … and the line under examination.
	let entry = 0;
	let leanSine = 0;
	let tipLimit = 0;

	const begin = (at: DrillTarget, withDrill: Drill, allowance: number, thickness?: number): void => {
		target = at;
		inStone = place(placement, at.position);
		drill = withDrill;
		aimed = holeSolid(drill, allowance);
		worst = holeSolid(drill, 0);
		others = NO_HOLES;
		const behind = thickness ?? thicknessAt(index, at) ?? Number.POSITIVE_INFINITY;
		thinBack = behind < THIN_MM ? DIAMETERS_BEHIND_FLOOR * drill.diameter - behind : 0;
		for (let f = 0; f < stone.faces.length; f++) {
			const { offset, normal } = stone.faces[f];
			depthUnder[f] = offset - dot(normal, inStone);
		}
		stamp++;
		blockers.forget();
		firstBlock.triangle = -1;
		tooFar.length = 0;
		inBanker.length = 0;
		failed.shallow = false;
		failed.holes = false;
	};

	/** Farthest back that the tip of a line may stand when it is tilted by `slope` = tan(tilt) and `entry` mm long. */
	const farthestTip = (slope: number): number =>
		Math.max(tipOnPlane(aimed, slope), tipOnPlane(worst, slope), thinBack * Math.sqrt(1 + slope * slope));

	/** The same for any line of the search, and one hole diameter more. */
	const farthestOfAll = (search: Rules): number => {
		let longest = 0;
		for (let f = 0; f < depthUnder.length; f++) longest = Math.max(longest, depthUnder[f] / cosDegrees(search.leanDeg));
		setWorstAim(worst, aim, widening, longest, 1);
		return farthestTip(tanDegrees(search.coneDeg)) + 2 * drill.holeRadius;
	};

	/** Everything about a line but the model in its way: exit, banker, depth. Sets the numbers of the line. */
	const isAllowed = (search: Rules, lie: number, candidate: Candidate): boolean => {
		const { face: f, line: g, cosine } = candidate;
		const grid = search.grids[f];
		const { banker } = search.lies[lie];
		const dx = grid.inStone[3 * g];
		const dy = grid.inStone[3 * g + 1];
		const dz = grid.inStone[3 * g + 2];
		const { planes } = stone;
		const square = planes[4 * f] * dx + planes[4 * f + 1] * dy + planes[4 * f + 2] * dz;
		entry = depthUnder[f] / square;
		if (!(entry > 0)) return false;
		for (let other = 0; other < depthUnder.length; other++) {
			const speed = planes[4 * other] * dx + planes[4 * other + 1] * dy + planes[4 * other + 2] * dz;
			if (other !== f && speed > 0 && depthUnder[other] < entry * speed) return false;
		}
		leanSine = Math.sqrt(Math.max(0, 1 - square * square));
		setWorstAim(worst, aim, widening, entry, leanSine);
		const planeStop = farthestTip(Math.sqrt(Math.max(0, 1 - cosine * cosine)) / cosine);
		if (entry - SHORTEST_HOLE < planeStop) {
			failed.shallow = true;
			return false;
		}
		tipLimit = Math.min(planeStop + 2 * drill.holeRadius, entry - SHORTEST_HOLE);
		// With the tip as deep as it can come, the low rim of the chuck must still clear the skin.
		const far = search.reachAsked && reachNeeded(square) > drill.reach;
		const low = banker !== null && isInBanker(banker, dx, dy, dz);
		if (far !== low) (far ? tooFar : inBanker).push({ lie, candidate });
		if (far || low) return false;
		return true;
	};
	const isInBanker = ({ normal: [nx, ny, nz], offset }: StoneFace, dx: number, dy: number, dz: number): boolean => {
		const over = offset - (nx * inStone[0] + ny * inStone[1] + nz * inStone[2]);
		return (nx * dx + ny * dy + nz * dz) * (entry + setup.outsideMm) > over;
	};
	const reachNeeded = (square: number): number => entry - capReach(aimed, 0) + drill.chuckRadius * (leanSine / square);

	const isClear = (grid: LeanGrid, g: number): boolean => {
		const [dx, dy, dz] = [grid.inModel[3 * g], grid.inModel[3 * g + 1], grid.inModel[3 * g + 2]];
		if (blockers.blocksLine(dx, dy, dz, tipLimit, aimed, worst)) return false;
		const { position } = target;
		const direction: Vec3 = [dx, dy, dz];
		probe.setLine(position, direction);
		probe.setSolids(aimed, worst);
		if (probe.anyTouch(tipLimit, touch).triangle >= 0) {
			if (firstBlock.triangle < 0) Object.assign(firstBlock, touch);
			blockers.add(touch.x - position[0], touch.y - position[1], touch.z - position[2]);
			return false;
		}
		const start = along(position, direction, NOISE_MM);
		const between = index.castRay(start, direction, Math.max(0, tipLimit - NOISE_MM));
		if (between) {
			const [x, y, z] = along(start, direction, between.distance);
			if (firstBlock.triangle < 0) Object.assign(firstBlock, { triangle: between.triangle, x, y, z });
			return false;
		}
		if (others.holes.length > 0) {
			const out: Vec3 = [grid.inStone[3 * g], grid.inStone[3 * g + 1], grid.inStone[3 * g + 2]];
			const hole = { tip: inStone, entry: along(inStone, out, entry), radius: drill.holeRadius };
			if (runsInto(hole, others)) {
				failed.holes = true;
				return false;
			}
		}
		return true;
	};

	/** Lines of a lie's open faces with a tilt in one band that no known place blocks, least tilted first. */
	const band: Candidate[] = [];
	const gather = (search: Rules, lie: number, upper: number, lower: number, tipMost: number): void => {
		const [nx, ny, nz] = target.normal;
		const upperSine = Math.sqrt(Math.max(0, 1 - upper * upper));
		const lowerSine = Math.sqrt(Math.max(0, 1 - lower * lower));
		band.length = 0;
		for (const face of search.lies[lie].open) {
			if (!(depthUnder[face] > 0)) continue;
			const { inModel, tiles, tileFrom, blocked, tileStamp, tileKnown } = search.grids[face];
			for (let tile = 0; tile + 1 < tileFrom.length; tile++) {
				const c = TILE_NUMBERS * tile;
				const middle = tiles[c] * nx + tiles[c + 1] * ny + tiles[c + 2] * nz;
				// Tilt of the middle less, and plus, the width of the tile, against the band: cosines of sums, no angles.
				if (middle < lower * tiles[c + 3] - lowerSine * tiles[c + 4]) continue;
				if (upper < tiles[c + 3] && middle > upper * tiles[c + 3] + upperSine * tiles[c + 4]) continue;
				if (tileStamp[tile] !== stamp) {
					tileStamp[tile] = stamp;
					tileKnown[tile] = 0;
				}
				if (tileKnown[tile] < 0) continue;
				if (tileKnown[tile] < blockers.count) {
					const dead = blockers.blocksTile(tiles, c, tipMost, aimed, tileKnown[tile]);
					tileKnown[tile] = dead ? -1 : blockers.count;
					if (dead) continue;
				}
				for (let line = tileFrom[tile]; line < tileFrom[tile + 1]; line++) {
					const dx = inModel[3 * line];
					const dy = inModel[3 * line + 1];
					const dz = inModel[3 * line + 2];
					const cosine = dx * nx + dy * ny + dz * nz;
					if (cosine < lower || cosine >= upper || blocked[line] === stamp) continue;
					if (blockers.blocksLine(dx, dy, dz, tipMost, aimed)) blocked[line] = stamp;
					else band.push({ face, line, cosine });
				}
			}
		}
		band.sort(byTilt);
	};

	/** The least tilted clear line of one lie. */
	const leastTilted = (search: Rules, lie: number): Candidate | null => {
		const bands = Math.ceil(search.coneDeg);
		const tipMost = farthestOfAll(search);
		for (let b = 0; b < bands; b++) {
			const lower = b + 1 < bands ? BAND_COSINES[b + 1] : cosDegrees(search.coneDeg);
			gather(search, lie, b === 0 ? 2 : BAND_COSINES[b], lower, tipMost);
			for (const candidate of band) {
				if (!isAllowed(search, lie, candidate)) continue;
				const grid = search.grids[candidate.face];
				if (isClear(grid, candidate.line)) return candidate;
				grid.blocked[candidate.line] = stamp;
			}
		}
		return null;
	};

	/** The first clear one of the shared lines that are as little tilted as the best line; else the best itself. */
	const preferShared = (search: Rules, lie: number, best: Candidate, shared: readonly SharedLine[]): Candidate => {
		const cosineOfBest = Math.min(1, best.cosine);
		const least = Math.max(
			cosDegrees(search.coneDeg),
			cosineOfBest * EQUAL_COSINE - Math.sqrt(1 - cosineOfBest * cosineOfBest) * EQUAL_SINE,
		);
		for (const wish of shared) {
			const face = search.lies[lie].open.find((f) => stone.faces[f].name === wish.face);
			if (face === undefined) continue;
			const grid = search.grids[face];
			const line = lineAt(grid, wish.leanDeg);
			if (line < 0 || grid.blocked[line] === stamp) continue;
			const candidate = { face, line, cosine: dot(directionOf(grid, line), target.normal) };
			if (candidate.cosine >= least && isAllowed(search, lie, candidate) && isClear(grid, line)) return candidate;
		}
		return best;
	};

	const describe = (search: Rules, lie: number, candidate: Candidate, allowance: number): DrillLine => {
		isAllowed(search, lie, candidate);
		const grid = search.grids[candidate.face];
		const { face } = grid;
		const inModel = directionOf(grid, candidate.line);
		const line: HoleLine = { target: target.position, direction: inModel, entry, leanSine };
		const surfaceStop = gauge.stopOnSurface(line, drill, allowance, aim);
		const stop = Math.max(surfaceStop, thinBack / candidate.cosine);
		const direction = turn(placement.rotation, inModel);
		const onSkin = along(inStone, direction, entry);
		const depth = entry - stop;
		return {
			direction,
			lie,
			face,
			leanDeg: [grid.u[candidate.line] * LEAN_STEP_DEG, grid.v[candidate.line] * LEAN_STEP_DEG],
			tiltCosine: candidate.cosine,
			entry: onSkin,
			...faceCoordinates(face, onSkin),
			stop,
			depth,
			length: entry,
			clearance: gauge.clearance(line, drill, stop),
			worstSpare: gauge.worstSpare(line, drill, stop, aim),
			aimSafeDeg: gauge.safeLeanDeg(line, drill, stop, aim),
			stoneAlong: depth,
			thin: stop > surfaceStop,
		};
	};

	/** No hammer on a thin part, whatever the line. */
	const isForbidden = (): boolean => thinBack > 0 && drill.action === "hammer";

	/** Whether one of the barred lines is clear of the model when what bars it is lifted. */
	const opens = (barred: readonly Barred[], lifted: Rules): boolean =>
		barred.slice().some(({ lie, candidate }) => {
			const grid = lifted.grids[candidate.face];
			return isAllowed(lifted, lie, candidate) && isClear(grid, candidate.line);
		});

	const reasonOf = (): Undercut["reason"] => {
		if (isForbidden()) return "thin";
		if (failed.holes) return "holes";
		if (opens(tooFar, { ...rules, reachAsked: false })) return "reach";
		if (opens(inBanker, { ...rules, lies: rules.lies.map(({ open }) => ({ open, banker: null })) })) return "banker";
		if (firstBlock.triangle >= 0) return "blocked";
		return failed.shallow ? "shallow" : "lean";
	};

	const undercut = (): Undercut => {
		const reason = reasonOf();
		const { triangle, x, y, z } = firstBlock;
		return { reason, triangle, blockedAt: triangle >= 0 ? [x, y, z] : null };
	};

	const find: LineSearch["find"] = (at, withDrill, allowance, shared = [], thickness, otherHoles = NO_HOLES) => {
		begin(at, withDrill, allowance, thickness);
		others = otherHoles;
		if (isForbidden()) return undercut();
		for (let lie = 0; lie < rules.lies.length; lie++) {
			const best = leastTilted(rules, lie);
			if (best) return describe(rules, lie, preferShared(rules, lie, best, shared), allowance);
		}
		return undercut();
	};

	const reaches: LineSearch["reaches"] = (at, withDrill, allowance, thickness) => {
		begin(at, withDrill, allowance, thickness);
		if (isForbidden()) return false;
		for (let lie = 0; lie < rules.lies.length; lie++) if (leastTilted(rules, lie)) return true;
		return false;
	};

	const opening: LineSearch["opening"] = (at, withDrill, allowance, thickness) => {
		begin(at, withDrill, allowance, thickness);
		if (isForbidden()) return { by: "nothing" };
		// What blocks a line blocks it in every lie, so the marks of one attempt serve the next one on the same grid.
		const newLies = stone.faces.filter((face) => lies.every((lie) => lie.closedFace !== face.name));
		for (const { name } of newLies) {
			const found = leastTilted({ ...rules, lies: [lyingOn(name)] }, 0);
			if (found) return { by: "lie", closedFace: name, face: stone.faces[found.face].name };
		}
		const anyWay = [{ open: stone.faces.map((_, f) => f), banker: null }];
		const free: Rules = { ...rules, lies: anyWay, reachAsked: false };
		const far = leastTilted(free, 0);
		if (far) return { by: "reach", reach: reachNeeded(squareOf(free, far)) };
		const tilted = leastTilted({ ...free, coneDeg: STEEPEST_DEG }, 0);
		if (tilted) return { by: "tilt", face: stone.faces[tilted.face].name, tiltCosine: tilted.cosine };
		const wide: Rules = { ...free, grids: gridsOf(STEEPEST_DEG), coneDeg: STEEPEST_DEG, leanDeg: STEEPEST_DEG };
		const leaning = leastTilted(wide, 0);
		if (!leaning) return { by: "nothing" };
		const { u, v } = wide.grids[leaning.face];
		return {
			by: "lean",
			face: stone.faces[leaning.face].name,
			leanDeg: [u[leaning.line] * LEAN_STEP_DEG, v[leaning.line] * LEAN_STEP_DEG],
		};
	};
	const squareOf = (search: Rules, { face, line }: Candidate): number => {
		const { inStone: d } = search.grids[face];
		return dot(stone.faces[face].normal, [d[3 * line], d[3 * line + 1], d[3 * line + 2]]);
	};

	return { find, reaches, opening };
}

const NO_HOLES: OtherHoles = { holes: [], web: 0 };

const withMarks = (grid: LeanGrid): Marked => ({
	...grid,
	blocked: new Uint32Array(grid.u.length),
	tileStamp: new Uint32Array(grid.tileFrom.length),
	tileKnown: new Int32Array(grid.tileFrom.length),
});

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
