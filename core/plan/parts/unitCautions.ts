/** What it costs to print in sixteenths of an inch. */

import { aimOf } from "../../drilling/drill.ts";
import { depthShown, SIXTEENTH_MM, sizeText } from "../../text/length.ts";
import type { Commission } from "../commission.ts";
import type { PlanPoint } from "../planFile.ts";
import { transferOf } from "../transfer.ts";

/** u and v are each off by half a sixteenth at most, mm. */
const OFF_MM = Math.sqrt(2) * (SIXTEENTH_MM / 2);
/** A mark by hand on a face, mm (common practice, no source; handbook 8). */
const BY_HAND_MM = 1;

/** Empty unless the sheets are in sixteenths and holes start at u and v. */
export function unitCautions(commission: Commission, points: readonly PlanPoint[]): string[] {
	const { units } = commission.sheet;
	const transfer = transferOf(commission);
	if (units !== "in16" || transfer === "machine" || !points.some((p) => p.u_mm !== null)) return [];
	const { mark } = aimOf(transfer, commission.aim);
	if (mark >= BY_HAND_MM + OFF_MM) return [];
	const enough = Math.ceil((BY_HAND_MM + OFF_MM) * 10) / 10;
	const most = points.reduce(
		(d, p) => Math.max(d, p.depth_mm === null ? 0 : p.depth_mm - depthShown(p.depth_mm, units)),
		0,
	);
	return [
		`In sixteenths u and v are printed up to ${sizeText(OFF_MM, units)} beside the place that was worked out, and the depths allow for a mark no more than ${sizeText(mark, units)} out in all: take decimal inches, or enter ${sizeText(enough, units)} as the mark's error. Depths are rounded short, by up to ${sizeText(most, units)}.`,
	];
}
