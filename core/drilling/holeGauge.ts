/** The stop on the scan, and how much the hole then has to spare (handbook 8). */

import { tanDegrees } from "../exactAngle.ts";
import { createHoleProbe, type HoleProbe, newTouch, type Touch } from "../surface/holeProbe.ts";
import type { SurfaceIndex } from "../surface/surfaceIndex.ts";
import type { Vec3 } from "../vector.ts";
import { type Aim, type AimedSolid, type Drill, growth, holeSolid, setWorstAim } from "./drill.ts";

/** A line on which a hole is drilled, frame of the mesh. */
export interface HoleLine {
	/** On the model's surface. */
	readonly target: Vec3;
	/** Unit, from the target out of the stone. */
	readonly direction: Vec3;
	/** mm from the target to the skin */
	readonly entry: number;
	/** Sine of the lean from square to the face. */
	readonly leanSine: number;
}

/** Lean errors that the sheet tells apart, and the largest that it promises. */
const SAFE_STEP_DEG = 0.1;
const SAFE_MOST_STEPS = 100;
/** mm within which two stops are the same: over the kernel's error, far under what a bench can tell. */
const SAME_STOP = 1e-7;
/** Lower than any tip can be. */
const DEEPEST = -1e9;

export interface HoleGauge {
	readonly probe: HoleProbe;
	/**
	 * Deepest safe stop: mm that the tip stands back from the target along the line so that (1) the hole as aimed, tip to
	 * skin, keeps `allowance` to the model and (2) at worst aim it does not touch it. `into` tells what decides it.
	 */
	stopOnSurface(line: HoleLine, drill: Drill, allowance: number, aim: Aim, into?: Touch): number;
	/** Least distance from the hole as aimed to the model, mm, with the tip at `stop`; 0 where it touches. */
	clearance(line: HoleLine, drill: Drill, stop: number): number;
	/** How much deeper, mm along the line, the tip could go before the worst-aimed hole touches; negative when it does. */
	worstSpare(line: HoleLine, drill: Drill, stop: number, aim: Aim): number;
	/** Largest lean error in degrees, a multiple of 0.1 up to 10, that the stop forgives with mark and wander as given. */
	safeLeanDeg(line: HoleLine, drill: Drill, stop: number, aim: Aim): number;
}

export function createHoleGauge(index: SurfaceIndex): HoleGauge {
	const probe = createHoleProbe(index);
	const scratch = newTouch();

	const stopOnSurface: HoleGauge["stopOnSurface"] = (line, drill, allowance, aim, into = scratch) => {
		const worst = holeSolid(drill, 0);
		setWorstAim(worst, aim, growth(aim), line.entry, line.leanSine);
		probe.setLine(line.target, line.direction);
		probe.setSolids(holeSolid(drill, allowance), worst);
		return probe.touch(DEEPEST, into).tip;
	};

	const clearance: HoleGauge["clearance"] = (line, drill, stop) => {
		probe.setLine(line.target, line.direction);
		probe.setSolids(holeSolid(drill, 0));
		return probe.clearance(stop);
	};

	const worstSpare: HoleGauge["worstSpare"] = (line, drill, stop, aim) => {
		const worst = holeSolid(drill, 0);
		setWorstAim(worst, aim, growth(aim), line.entry, line.leanSine);
		probe.setLine(line.target, line.direction);
		probe.setSolids(worst);
		return stop - probe.touch(DEEPEST, scratch).tip;
	};

	const safeLeanDeg: HoleGauge["safeLeanDeg"] = (line, drill, stop, aim) => {
		const worst: AimedSolid = holeSolid(drill, 0);
		probe.setLine(line.target, line.direction);
		probe.setSolids(worst);
		const forgives = (steps: number): boolean => {
			setWorstAim(worst, aim, tanDegrees(steps * SAFE_STEP_DEG) + aim.wander, line.entry, line.leanSine);
			return probe.anyTouch(stop + SAME_STOP, scratch).triangle < 0;
		};
		if (!forgives(0)) return 0;
		let safe = 0;
		let unsafe = SAFE_MOST_STEPS + 1;
		while (unsafe - safe > 1) {
			const middle = (safe + unsafe) >>> 1;
			if (forgives(middle)) safe = middle;
			else unsafe = middle;
		}
		return safe / 10;
	};

	return { probe, stopOnSurface, clearance, worstSpare, safeLeanDeg };
}
