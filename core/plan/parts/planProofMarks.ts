import { airAlong } from "../../cuts/stopField.ts";
import { type MarkGround, type ProofMark, proofMarkAt, suggestProofMarks } from "../../datum/proofMarks.ts";
import type { DatumPlace } from "../../datum/seat.ts";
import type { Job } from "../../job.ts";
import { along } from "../../vector.ts";
import type { PlanParts } from "../assemblePlan.ts";
import type { PlanPoint, PlanProofMark } from "../planFile.ts";
import { asCut } from "../stages/cutStages.ts";
import { readsFromDatums } from "../transfer.ts";
import { direction, mm, mm3 } from "./rounding.ts";

/** The carver's proof marks or suggested ones, once every hole is known; none where nothing is read from datums. */
export function* planProofMarks(parts: PlanParts, points: readonly PlanPoint[]): Job<PlanProofMark[]> {
	const { commission, stone, cuts, index, lies, datumSets, flatPlaces } = parts;
	if (!readsFromDatums(commission)) return [];
	const ground: MarkGround = {
		index,
		stone: asCut(stone, cuts).stone,
		placement: stone.fit.placement,
		closedFaces: new Set(lies.lies.map((lie) => lie.closedFace)),
		entries: [
			...points.flatMap((point) => (point.entry_mm ? [point.entry_mm] : [])),
			...datumSets.flatMap((set) => set.seats.map((seat) => seat.inStone)),
		],
	};
	if (commission.proofMarks.length === 0) {
		// Over stop cuts there is no waste to be read.
		const fields = cuts?.stopFields ?? [];
		const overStone = (at: DatumPlace): boolean => {
			const mark = fields.length > 0 ? proofMarkAt(at, ground) : null;
			return mark === null || airAlong(fields, mark.entry, along(mark.entry, mark.line, -mark.waste)) === 0;
		};
		const marks = yield* suggestProofMarks(flatPlaces.filter(overStone), ground);
		return marks.map((mark, i) => planMark(i, mark.place, mark, true));
	}
	return commission.proofMarks.map(({ position_mm, normal }, i) => {
		const at: DatumPlace = { position: position_mm, normal };
		return planMark(i, at, proofMarkAt(at, ground), false);
	});
}

const planMark = (i: number, at: DatumPlace, mark: ProofMark | null, suggested: boolean): PlanProofMark => ({
	name: `P${i + 1}`,
	suggested,
	model_mm: mm3(at.position),
	normal: direction(at.normal),
	line: mark && direction(mark.line),
	entry_mm: mark && mm3(mark.entry),
	face: mark?.face.name ?? null,
	u_mm: mark && mm(mark.u),
	v_mm: mark && mm(mark.v),
	waste_mm: mark && mm(mark.waste),
	fromHole_mm: mark && Number.isFinite(mark.fromHole) ? mm(mark.fromHole) : null,
});
