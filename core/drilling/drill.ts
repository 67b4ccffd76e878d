/** What drills the hole, how well it is aimed, how much stone it must leave, and the stop on a plane (handbook 8). */

import { cosDegrees, sinDegrees, tanDegrees } from "../exactAngle.ts";
import type { Commission, Tool, Transfer } from "../plan/commission.ts";
import { Refusal } from "../refusal.ts";
import type { SweptSolid } from "../surface/sweptSolid.ts";
import { THIN_MM } from "./thinParts.ts";

/** One drill and the hole that it makes, mm. */
export interface Drill {
	readonly tip: Tool["tip"];
	/** Of the hole: half of drill and oversize. */
	readonly holeRadius: number;
	readonly diameter: number;
	readonly pointAngleDeg: number;
	/** Longest way from skin to tip, where the chuck's face would meet a skin square to the line. */
	readonly reach: number;
	readonly chuckRadius: number;
	readonly action: Tool["action"];
}

export const drillOf = (tool: Tool): Drill => ({
	tip: tool.tip,
	holeRadius: (tool.drill_mm + tool.oversize_mm) / 2,
	diameter: tool.drill_mm,
	pointAngleDeg: tool.pointAngle_deg,
	reach: tool.reach_mm,
	chuckRadius: tool.chuck_mm / 2,
	action: tool.action,
});

/** (common practice, no source) */
const DIAMETERS_BEHIND_FLOOR = 2;

/** Stone that must stay behind the floor of a hole where the part is `thickness` mm thick; 0 where that is not thin. */
export const behindFloor = ({ diameter }: Drill, thickness = Number.POSITIVE_INFINITY): number =>
	thickness < THIN_MM ? DIAMETERS_BEHIND_FLOOR * diameter : 0;

/** How badly a line may be drilled: ρ(s) = mark + s·tan(leanDeg) + wander·s at s mm from the skin. */
export interface Aim {
	/** mm beside the mark on the skin */
	readonly mark: number;
	readonly leanDeg: number;
	/** mm sideways for each mm of depth */
	readonly wander: number;
	/** Drilled by depth from a face: a mark beside its place on a leaning line pushes the tip in by mark·sin(lean). */
	readonly fromFace: boolean;
}

/** The usual aim of a transfer (common practice, no source), or the carver's own figures. */
export function aimOf(transfer: Transfer, own: Commission["aim"] = null): Aim {
	const fromFace = transfer !== "machine";
	if (own) return { mark: own.mark_mm, leanDeg: own.lean_deg, wander: own.wander, fromFace };
	if (fromFace) return { mark: 1, leanDeg: 1, wander: 0.01, fromFace };
	// Needle and stop are read as the hole goes down, so the error does not grow with depth.
	return { mark: 0.5, leanDeg: 0, wander: 0, fromFace };
}

type Bruise = Readonly<Record<Tool["action"], number>>;
/** Stone under the tip that the tool's action spoils, mm (common practice, no source). */
const BRUISE: Bruise = { diamond: 1, carbide: 2, hammer: 6 };

/**
 * Stone that each round's drill leaves over its target, mm: the carver's own figure, else the last round's (holes "once")
 * or the round's own join ("by rounds"); never under the bruise of its tool.
 * Refuses hammer action in the last two rounds, whose bruise would reach the finished surface.
 */
export function stopAllowances(rounds: Commission["rounds"], holes: Commission["holes"]): number[] {
	const last = rounds[rounds.length - 1];
	return rounds.map((round, i) => {
		const { action } = round.tool;
		if (action === "hammer" && i >= rounds.length - 2)
			throw new Refusal("drilling.hammerTooLate", { round: round.name, rounds: rounds.length });
		const asked = round.stop_mm ?? (holes === "once" ? (last.stop_mm ?? last.join_mm) : round.join_mm);
		return Math.max(asked, BRUISE[action]);
	});
}

/**
 * The same without the carver's own figures: the stops with which points are placed, so that a stop changed on its own
 * moves no point.
 */
export const placingAllowances = (rounds: Commission["rounds"], holes: Commission["holes"]): number[] =>
	stopAllowances(
		rounds.map((round) => ({ ...round, stop_mm: null })),
		holes,
	);

/** A solid whose aim part (wider, widening, push) is set anew for every line. */
export type AimedSolid = { -readonly [K in keyof SweptSolid]: SweptSolid[K] };

/** The hole as aimed, grown evenly by the allowance (mm, 0 for the bare hole). */
export function holeSolid(drill: Drill, allowance: number): AimedSolid {
	const r = drill.holeRadius;
	const aim = { wider: 0, widening: 0, push: 0 };
	if (drill.tip === "ball")
		return {
			rounding: r + allowance,
			shoulder: 0,
			coneSlope: 0,
			coneFrom: 0,
			coneTo: 0,
			coneTop: 0,
			shift: -r,
			...aim,
		};
	if (drill.tip === "flat")
		return {
			rounding: allowance,
			shoulder: r,
			coneSlope: 0,
			coneFrom: 0,
			coneTo: r,
			coneTop: allowance,
			shift: 0,
			...aim,
		};
	const sine = sinDegrees(drill.pointAngleDeg / 2);
	const cosine = cosDegrees(drill.pointAngleDeg / 2);
	return {
		rounding: allowance,
		shoulder: r,
		coneSlope: cosine / sine,
		coneFrom: allowance * cosine,
		coneTo: r + allowance * cosine,
		coneTop: allowance / sine,
		shift: 0,
		...aim,
	};
}

/** Growth of the worst-aimed hole for each mm of depth. */
export const growth = (aim: Aim): number => tanDegrees(aim.leanDeg) + aim.wander;

/**
 * Sets a bare hole's aim part to the worst aim of a line: `entry` mm from target to skin, `leanSine` the sine of its lean
 * from square to the face. `widening` is the aim's growth, worked out once.
 */
export function setWorstAim(solid: AimedSolid, aim: Aim, widening: number, entry: number, leanSine: number): void {
	solid.wider = aim.mark + widening * entry;
	solid.widening = widening;
	solid.push = aim.fromFace ? aim.mark * leanSine : 0;
}
