/** Which ground of a plan's model is hatched on its maps, from what the rounds say of every vertex. */

import type { RoundReport } from "../pointing/rounds.ts";
import type { Ground } from "./hatching.ts";

/**
 * Ground by eye, ground that no drill line reaches, and ground where the last net's flat join would cut in because the carver
 * reads the curve (handbook 6); each vertex in the first of these that it belongs to. Taken from the last round, which is the
 * finest: what it leaves open stays open.
 */
export function markedGround(rounds: readonly RoundReport[]): Ground[] {
	const last = rounds.findLast((r) => r.kind === "net");
	if (!last) return [];
	const n = last.byEye.length;
	const undercut = new Uint8Array(n);
	const cutsIn = new Uint8Array(n);
	for (let v = 0; v < n; v++) {
		if (last.byEye[v]) continue;
		if (last.unreached[v]) undercut[v] = 1;
		else if (last.cover[v] < 0) cutsIn[v] = 1;
	}
	return [
		{ kind: "by eye", at: last.byEye },
		{ kind: "undercut", at: undercut },
		{ kind: "flat join cuts in", at: cutsIn },
	];
}
