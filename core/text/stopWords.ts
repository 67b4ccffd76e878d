/** What the depth stop of a drill reads, where its zero is not at the tip. */

import { depthNumber, depthShown, type LengthUnit, lengthNumber } from "./format.ts";

/** The name of that reading, in two lines for a column's head. */
export const STOP_READS = ["stop", "reads"] as const;

/**
 * The reading at a depth, both in mm, in the unit but without its name. The depth is rounded as it is printed and then moved
 * by the set zero: whoever sets the drill by either stops it at the same place. In sixteenths the reading is itself rounded short, because a set
 * zero is seldom a whole number of them.
 */
export function stopReading(depth: number, setZero: number, unit: LengthUnit): string {
	const reading = depthShown(depth, unit) + setZero;
	return unit === "in16" ? depthNumber(reading, unit) : lengthNumber(reading, unit);
}
