/** What of the last good answer may still be shown: its points stay, marked as old, but never on a figure that is not theirs. */

import type { Session } from "./session.ts";

/** In full, wherever an answer from before the last change is shown. */
export const AGAIN = "being worked out again";

/** The points that are shown are from before the last change. */
export const arePointsOld = ({ plan, awaited }: Session): boolean => plan.value !== null && awaited.plan;

/** The model that stands, or where it lies in the stone, is no longer what the points were worked out for: they are put away. */
export function arePointsPutAway(session: Session): boolean {
	const { plannedFor } = session;
	if (!arePointsOld(session) || plannedFor.value === null) return false;
	const { mesh, placement } = plannedFor.value;
	return mesh !== session.mesh.value || placement !== placementKey(session.answers.value?.stone);
}

interface Placed {
	readonly fit: { readonly placement: unknown };
}

/** Where the figure lies, to be compared. */
export const placementKey = (stone: Placed | null | undefined): string => JSON.stringify(stone?.fit.placement ?? null);
