/** What the search for drill lines is asked and what it answers. */

import type { StoneFace } from "../stone/block.ts";
import type { Vec3 } from "../vector.ts";

/** A place to be reached, model frame, mm; `normal` is the unit surface normal. */
export interface DrillTarget {
	readonly position: Vec3;
	readonly normal: Vec3;
	/** Stone that is kept while the hole is drilled, bridges and bosses: no hole runs into it. */
	readonly kept?: readonly Hole[];
}

export interface DrillLine {
	/** Unit, stone frame, from the target out of the stone. */
	readonly direction: Vec3;
	/** Which of the lies, counted from 0. */
	readonly lie: number;
	readonly face: StoneFace;
	/** Leans from square along u and v, degrees, exact multiples of 0.5; of a hole in the stone as they are, to 1e-4. */
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
	/** Stone alone along the line, mm: the whole depth, before the hollows of a scanned stone or of stop cuts are taken off. */
	readonly stoneAlong: number;
	/** The stop stands farther back than the surface asks for, because the part is thin. */
	readonly thin: boolean;
}

/** Why there is no line. What blocks stands in the model frame, mm; `triangle` is −1 where nothing of the model blocks. */
export interface Undercut {
	/**
	 * blocked: the model is in the way of every line. lean: no open face can be entered within the allowed lean.
	 * reach: too deep for the drill. banker: the drill would have to stand in the banker. shallow: less stone than the stop.
	 * arris: every line would enter too near an edge. thin: no hammer action on a thin part. holes: every line would run into a hole that is already planned.
	 * bridge: every line would run into stone that is kept until a later round.
	 */
	readonly reason: "blocked" | "lean" | "reach" | "banker" | "shallow" | "arris" | "thin" | "holes" | "bridge";
	readonly triangle: number;
	readonly blockedAt: Vec3 | null;
}

/** What would open an undercut: the first of these that does, from the least trouble to the most. */
export type Opening =
	/** The round in which the bridge in its way is cut away. */
	| { readonly by: "bridge" }
	/** Lying on `closedFace`, the stone can be drilled through `face`. */
	| { readonly by: "lie"; readonly closedFace: string; readonly face: string }
	/** A drill whose reach is this, mm. */
	| { readonly by: "reach"; readonly reach: number }
	/** A line tilted this far from the surface normal, within the allowed lean. */
	| { readonly by: "tilt"; readonly face: string; readonly tiltCosine: number }
	/** Leans past the allowed ones, so that a flat must be cut first. */
	| { readonly by: "lean"; readonly face: string; readonly leanDeg: readonly [number, number] }
	| { readonly by: "nothing" };

/** Preferred line of the neighbours. */
export interface SharedLine {
	readonly face: string;
	readonly leanDeg: readonly [number, number];
}

/** A hole that is planned already, or a round-ended bridge or boss; stone frame, mm. */
export interface Hole {
	readonly tip: Vec3;
	readonly entry: Vec3;
	readonly radius: number;
	/** In a thin part, the stone that must stay between its floor and a hole from the opposite side; 0 elsewhere. */
	readonly behind?: number;
}

/** A hole that is in the stone: the unit line out of it, and the place of the tip at its stop; stone frame, mm. */
export interface SunkHole {
	readonly line: Vec3;
	readonly floor: Vec3;
}

/** Holes that a new one must not run into: at least `web` mm of stone stays between them. */
export interface OtherHoles {
	readonly holes: readonly Hole[];
	readonly web: number;
}

export const isUndercut = (answer: DrillLine | Undercut): answer is Undercut => "reason" in answer;
