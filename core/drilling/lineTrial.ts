/**
 * One target under search: whether a line to it is permitted, and whether it is clear of the model.
 *
 * A line is *clear* when nothing of the model stands between target and tip on the line itself and the deepest safe stop
 * lies no farther back than on a plane of the same tilt plus one hole diameter: a tip kept farther off would stand before
 * some other part of the model, or so high over a narrow hollow that the hole would be cut away before it is of use.
 */

import type { Stone, StoneFace } from "../stone/block.ts";
import { type HoleProbe, newTouch } from "../surface/holeProbe.ts";
import type { SurfaceIndex } from "../surface/surfaceIndex.ts";
import { capReach, tipOnPlane } from "../surface/sweptSolid.ts";
import { along, dot, type Placement, place, type Vec3 } from "../vector.ts";
import { Blockers } from "./blockers.ts";
import { ConeTiles } from "./coneTiles.ts";
import { runsInto } from "./crossings.ts";
import { type Aim, type AimedSolid, behindFloor, type Drill, growth, holeSolid, setWorstAim } from "./drill.ts";
import type { DrillTarget, OtherHoles } from "./drillLine.ts";
import type { LeanGrid } from "./leanGrid.ts";
import type { Candidate, SearchRules } from "./searchRules.ts";
import { thicknessAt } from "./thickness.ts";
import { THIN_MM } from "./thinParts.ts";

/** A hole shorter than this is none: the sheet prints half millimetres. */
const SHORTEST_HOLE = 0.5;
/** The middle of a hole enters no nearer to an arris than this many drill diameters, or it breaks out (common practice, no source). */
const FROM_ARRIS_DIAMETERS = 1;
/** Surface met nearer to the target than this is the scan's own noise about it, not another part in the way. */
const NOISE_MM = 0.5;

/** Stone between a hole and a bridge or boss that is kept, mm (common practice, no source). */
export const KEPT_WEB = 2;

const NO_HOLES: OtherHoles = { holes: [], web: 0 };

/** What stays the same from target to target. */
export interface TrialGround {
	readonly index: SurfaceIndex;
	readonly probe: HoleProbe;
	readonly stone: Stone;
	readonly placement: Placement;
	readonly outsideMm: number;
	readonly aim: Aim;
	/** By vertex, as `ThinParts.marks`; null: not asked. */
	readonly thinMarks: Uint8Array | null;
}

/** A line that nothing but the drill's reach, or nothing but the banker, forbids. */
export interface Barred {
	readonly lie: number;
	readonly candidate: Candidate;
}

/** "too far" and "in the banker": that alone forbids the line. */
export type Permit = "allowed" | "forbidden" | "too far" | "in the banker";

/** Whether a line from a place, so long, ends in the banker on which the stone lies with that face; stone frame. */
export function isInBanker(
	{ normal: [nx, ny, nz], offset }: StoneFace,
	[x, y, z]: Vec3,
	dx: number,
	dy: number,
	dz: number,
	long: number,
): boolean {
	const over = offset - (nx * x + ny * y + nz * z);
	return (nx * dx + ny * dy + nz * dz) * long > over;
}

export class LineTrial {
	readonly #ground: TrialGround;
	readonly aim: Aim;
	readonly #widening: number;
	/** How deep the target lies under the plane of each face, mm. */
	readonly depthUnder: Float64Array;

	// What is asked.
	target: DrillTarget = { position: [0, 0, 0], normal: [0, 0, 1] };
	inStone: Vec3 = [0, 0, 0];
	drill!: Drill;
	aimed!: AimedSolid;
	worst!: AimedSolid;
	#others = NO_HOLES;
	/** Stone that must stay between the floor and holes from the other side of a thin part. */
	#behind = 0;
	/** The tip must stand back at least this far, measured along the normal, for the sake of a thin part. */
	thinBack = 0;
	/** No hammer on a thin part, whatever the line. */
	isForbidden = false;

	// What is known of it. Marks on the grids hold for this stamp.
	stamp = 0;
	readonly blockers = new Blockers();
	/** Of the search that runs. */
	readonly tiles = new ConeTiles();
	/** The place that blocked the least tilted of the blocked lines; triangle −1 while there is none. */
	readonly firstBlock = newTouch();
	readonly tooFar: Barred[] = [];
	readonly inBanker: Barred[] = [];
	isShallow = false;
	isAtArris = false;
	meetsHoles = false;
	meetsBridge = false;

	// The line examined last: mm from target to skin, its lean, and how far back its tip may stand.
	entry = 0;
	leanSine = 0;
	leanCosine = 1;
	tipLimit = 0;

	readonly #touch = newTouch();

	constructor(ground: TrialGround) {
		this.#ground = ground;
		this.aim = ground.aim;
		this.#widening = growth(ground.aim);
		this.depthUnder = new Float64Array(ground.stone.faces.length);
	}

	/** Takes the next target. `thickness` is measured here unless given. */
	begin(target: DrillTarget, drill: Drill, allowance: number, thickness?: number, others = NO_HOLES): void {
		const { index, stone, placement } = this.#ground;
		this.target = target;
		this.inStone = place(placement, target.position);
		this.drill = drill;
		this.aimed = holeSolid(drill, allowance);
		this.worst = holeSolid(drill, 0);
		this.#others = others;
		const behind = thickness ?? thicknessAt(index, target) ?? Number.POSITIVE_INFINITY;
		this.#behind = behindFloor(drill, behind);
		this.thinBack = Math.max(0, this.#behind - behind);
		this.isForbidden = drill.action === "hammer" && (behind < THIN_MM || this.#isOnThinPart(target));
		for (let f = 0; f < stone.faces.length; f++) {
			const { offset, normal } = stone.faces[f];
			this.depthUnder[f] = offset - dot(normal, this.inStone);
		}
		this.blockers.forget();
		this.firstBlock.triangle = -1;
		this.tooFar.length = 0;
		this.inBanker.length = 0;
		this.isShallow = false;
		this.isAtArris = false;
		this.meetsHoles = false;
		this.meetsBridge = false;
		this.stamp++;
	}

	/** A part more than five times as long as thick breaks at a blow however thick it is (handbook 4). */
	#isOnThinPart({ position }: DrillTarget): boolean {
		const { index, thinMarks } = this.#ground;
		if (thinMarks === null) return false;
		const triangle = index.closestPoint(position)?.triangle;
		if (triangle === undefined) return false;
		return [0, 1, 2].some((k) => thinMarks[index.mesh.triangles[3 * triangle + k]] !== 0);
	}

	/** How far back the tip stands on a plane tilted by `slope` = tan(tilt), worst aim and thin parts included. */
	#planeStop(slope: number): number {
		return Math.max(
			tipOnPlane(this.aimed, slope),
			tipOnPlane(this.worst, slope),
			this.thinBack * Math.sqrt(1 + slope * slope),
		);
	}

	/** Farthest back that the tip of a line may stand that tilts no more and is no longer than this. */
	farthestTip(tiltCosine: number, longest: number): number {
		setWorstAim(this.worst, this.aim, this.#widening, longest, 1);
		return this.#planeStop(Math.sqrt(1 - tiltCosine * tiltCosine) / tiltCosine) + 2 * this.drill.holeRadius;
	}

	/**
	 * Everything about a line but the model in its way: exit, depth, banker, reach. Sets the numbers of the line.
	 */
	examine(search: SearchRules, lie: number, f: number, g: number, cosine: number): Permit {
		const { planes } = this.#ground.stone;
		const { depthUnder, drill } = this;
		const { inStone } = search.grids[f];
		const dx = inStone[3 * g];
		const dy = inStone[3 * g + 1];
		const dz = inStone[3 * g + 2];
		const square = planes[4 * f] * dx + planes[4 * f + 1] * dy + planes[4 * f + 2] * dz;
		const entry = depthUnder[f] / square;
		if (!(entry > 0)) return "forbidden";
		for (let other = 0; other < depthUnder.length; other++) {
			const speed = planes[4 * other] * dx + planes[4 * other + 1] * dy + planes[4 * other + 2] * dz;
			if (other === f) continue;
			const fromArris = depthUnder[other] - entry * speed;
			if (fromArris < 0) return "forbidden";
			if (fromArris < FROM_ARRIS_DIAMETERS * drill.diameter) {
				this.isAtArris = true;
				return "forbidden";
			}
		}
		this.entry = entry;
		this.leanCosine = square;
		this.leanSine = Math.sqrt(Math.max(0, 1 - square * square));
		setWorstAim(this.worst, this.aim, this.#widening, entry, this.leanSine);
		const planeStop = this.#planeStop(Math.sqrt(Math.max(0, 1 - cosine * cosine)) / cosine);
		if (entry - SHORTEST_HOLE < planeStop) {
			this.isShallow = true;
			return "forbidden";
		}
		this.tipLimit = Math.min(planeStop + 2 * drill.holeRadius, entry - SHORTEST_HOLE);
		const { banker } = search.lies[lie];
		const far = search.reachAsked && this.reachNeeded() > drill.reach;
		const low = banker !== null && isInBanker(banker, this.inStone, dx, dy, dz, entry + this.#ground.outsideMm);
		return far ? (low ? "forbidden" : "too far") : low ? "in the banker" : "allowed";
	}

	/** With the tip as deep as it can come, the low rim of the chuck must still clear the skin. */
	reachNeeded(): number {
		return this.entry - capReach(this.aimed, 0) + this.drill.chuckRadius * (this.leanSine / this.leanCosine);
	}

	/** Whether a place that blocked another line blocks line g of a grid, examined just now, as well. */
	isKnownBlocked({ inModel }: LeanGrid, g: number): boolean {
		const dx = inModel[3 * g];
		const dy = inModel[3 * g + 1];
		const dz = inModel[3 * g + 2];
		return this.blockers.blocksLine(dx, dy, dz, this.tipLimit, this.aimed, this.worst);
	}

	/** Whether the line that was examined just now is clear. What blocks it is remembered. */
	isClear(search: SearchRules, { face, line: g }: Candidate): boolean {
		const { index, probe } = this.#ground;
		const { firstBlock, blockers, tipLimit } = this;
		const { inModel, inStone } = search.grids[face];
		const d: Vec3 = [inModel[3 * g], inModel[3 * g + 1], inModel[3 * g + 2]];
		if (this.isKnownBlocked(search.grids[face], g)) return false;
		const { position } = this.target;
		probe.setLine(position, d);
		probe.setSolids(this.aimed, this.worst);
		const touch = probe.anyTouch(tipLimit, this.#touch);
		if (touch.triangle >= 0) {
			if (firstBlock.triangle < 0) Object.assign(firstBlock, touch);
			blockers.add(touch.x - position[0], touch.y - position[1], touch.z - position[2]);
			return false;
		}
		const start = along(position, d, NOISE_MM);
		const between = index.castRay(start, d, Math.max(0, tipLimit - NOISE_MM));
		if (between) {
			const [x, y, z] = along(start, d, between.distance);
			if (firstBlock.triangle < 0) Object.assign(firstBlock, { triangle: between.triangle, x, y, z });
			return false;
		}
		const { kept = [] } = this.target;
		if (this.#others.holes.length === 0 && kept.length === 0) return true;
		const out: Vec3 = [inStone[3 * g], inStone[3 * g + 1], inStone[3 * g + 2]];
		const entry = along(this.inStone, out, this.entry);
		const hole = { tip: this.inStone, entry, radius: this.drill.holeRadius, behind: this.#behind };
		if (runsInto(hole, { holes: kept, web: KEPT_WEB })) {
			this.meetsBridge = true;
			return false;
		}
		const meets = runsInto(hole, this.#others);
		if (meets) this.meetsHoles = true;
		return !meets;
	}
}
