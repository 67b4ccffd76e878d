/** How the copy is carried over, and what that allows. */

import { Refusal } from "../refusal.ts";
import type { Commission, Transfer } from "./commission.ts";

/** Without a word from the carver, lines are drilled by rule from the block's faces: nothing else need stand on the bench. */
export const transferOf = (commission: Commission): Transfer => commission.transfer ?? "faces";

/** The machine's arm, mm; anything else reaches everywhere. */
export const armOf = (commission: Commission): number =>
	transferOf(commission) === "machine" ? commission.arm_mm : Number.POSITIVE_INFINITY;

/** Longest side of a datum triangle, mm: the cross's, where there is one. */
export const spanOf = (commission: Commission): number =>
	transferOf(commission) === "machine" ? commission.span_mm : Number.POSITIVE_INFINITY;

/** Whether anything is read from datums, so that marks can prove that nothing moved. */
export const readsFromDatums = (commission: Commission): boolean => {
	const transfer = transferOf(commission);
	return transfer === "machine" || transfer === "callipers";
};

/** Refuses a cross or straightedge between a bench model and a stone of another size or hand (handbook 3). */
export function checkCarriedOver(commission: Commission): void {
	const transfer = transferOf(commission);
	const { benchScale } = commission.model;
	const { mirrored } = commission.scan;
	if (transfer !== "machine" && transfer !== "straightedge") return;
	if (benchScale !== 1 || mirrored)
		throw new Refusal("plan.crossNotCarried", { transfer, benchScale, mirrored: mirrored ? 1 : 0 });
}
