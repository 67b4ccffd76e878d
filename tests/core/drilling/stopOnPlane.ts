import { type Drill, holeSolid } from "../../../core/drilling/drill.ts";
import { tipOnPlane } from "../../../core/surface/sweptSolid.ts";

/**
 * Stop over a plane as aimed, mm back from the target along the line; `slope` = tan(tilt) of line against plane normal:
 * ball (a + r)/cos t − r, flat (a + r·sin t)/cos t, pointed the greater of a/cos t and flat − r·cot(q/2).
 */
export const stopOnPlane = (drill: Drill, allowance: number, slope: number): number =>
	tipOnPlane(holeSolid(drill, allowance), slope);
