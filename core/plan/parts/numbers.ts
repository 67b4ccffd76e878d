import type { PlanPoint } from "../planFile.ts";

/** At most twelve numbers, then how many more. */
export function numbers(points: readonly PlanPoint[]): string {
	const shown = points.slice(0, 12).map((p) => p.number);
	return points.length > 12 ? `${shown.join(", ")} and ${points.length - 12} more` : shown.join(", ");
}
