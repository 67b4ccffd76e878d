/** The few lines at the head of every page of tables, which let a hole be made with that page alone. */

import type { Transfer } from "../plan/commission.ts";

const DEPTH =
	"Depth: along the line from the first skin to the tip, no deeper. Where the ground is joined that skin is gone: drill by “to go”; at zero pass the point over.";

const ENTRY =
	"Enter at u and v, measured from the zero corner (the filled one) of the face that is drawn beside the table, as seen from outside.";
const LEAN = "Lean +: the drill's free end leans towards growing u or v";

/** `out`: the head of the columns of the offsets, "100 out". */
export const TABLE_WORDS: Readonly<Record<Transfer, (out: string) => string>> = {
	machine: () => `Needle on the model; drill in its place on the stone, along the needle's line. ${DEPTH}`,
	callipers: () =>
		`${ENTRY} ${LEAN}. Callipers from A, B and C: on the model to the target, on the stone to the floor of the hole; “?”: too near the plane of A, B, C, not reliable. ${DEPTH}`,
	faces: (out) => `${ENTRY} ${LEAN}; “${out}” gives the same line with square and rule. ${DEPTH}`,
	straightedge: () =>
		`${ENTRY} ${LEAN}. “Model”: under a straightedge across A, B and C, along AB, across towards C, square below to the surface; “stone”: below it to the floor of the hole. ${DEPTH}`,
};
