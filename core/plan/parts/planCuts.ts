/** Cuts and bridges as the plan document tells them. */

import type { CutsAnswer, ThroughCut } from "../../cuts/planCuts.ts";
import { stopSaw } from "../../cuts/saws.ts";
import type { StopField } from "../../cuts/stopField.ts";
import { type Placement, place } from "../../vector.ts";
import type { Commission } from "../commission.ts";
import type { Plan } from "../planFile.ts";
import { planFaces } from "./planStone.ts";
import { direction, mm, mm3 } from "./rounding.ts";

export function planCuts(
	answer: CutsAnswer | null,
	{ bridges }: Commission,
	placement: Placement,
): Pick<Plan, "saw" | "cuts" | "stopCuts" | "afterCuts" | "bridges"> {
	return {
		saw: answer && planSaw(answer),
		cuts: answer ? answer.cuts.map(planCut) : [],
		stopCuts: answer ? answer.stopFields.map((field) => planStopCuts(field, stopSaw(answer.saw))) : [],
		afterCuts: answer && afterCuts(answer),
		bridges: bridges.map((bridge) => ({
			name: bridge.name,
			from_mm: mm3(place(placement, bridge.from_mm)),
			to_mm: mm3(place(placement, bridge.to_mm)),
			radius_mm: bridge.radius_mm,
			round: bridge.round,
		})),
	};
}

/** What of the cuts needs care before the first one is begun. */
export function cutWarnings(answer: CutsAnswer | null): string[] {
	if (answer === null) return [];
	const warnings: string[] = [];
	const named = (cuts: readonly { readonly name: string }[]): string => cuts.map((cut) => cut.name).join(", ");
	const falling = answer.cuts.filter((cut) => !cut.stands);
	if (falling.length > 0)
		warnings.push(
			`After ${named(falling)} the stone no longer stands in its lie by itself: prop it before the saw starts.`,
		);
	const short = answer.cuts.filter((cut) => cut.sides === null);
	if (short.length > 0)
		warnings.push(
			`The saw does not reach through ${named(short)}, even from two sides: take one that reaches farther, or wedge off the rest.`,
		);
	const near = answer.barred.filter((cut) => cut.bar !== "skipped");
	if (near.length > 0)
		warnings.push(
			`${near.length === 1 ? "One cut of your own is" : `${near.length} cuts of your own are`} left out, because it would come too near, take nothing, or take away a face that the stone lies on.`,
		);
	if (answer.cuts.length > 0)
		warnings.push(
			"Depths count from the stone as it stands after the cuts: drill nothing through a face before it is sawn and measured.",
		);
	return warnings;
}

const planSaw = ({ saw, waste }: CutsAnswer): Plan["saw"] => ({
	kind: saw.kind,
	allowance_mm: saw.allowance,
	kerf_mm: saw.kerf,
	reach_mm: Number.isFinite(saw.reach) ? saw.reach : null,
	removableWaste_mm3: mm(waste),
});

const planCut = (cut: ThroughCut): Plan["cuts"][number] => ({
	name: cut.name,
	by: cut.by,
	plane: [...direction(cut.plane.normal), mm(cut.plane.offset)],
	removed_mm3: mm(cut.volume),
	removed_kg: mm(cut.mass[1]),
	removedRange_kg: [mm(cut.mass[0]), mm(cut.mass[1])],
	marks: cut.marks.map(({ faces, from, distance, at }) => ({
		edge: faces.join(" / "),
		from,
		distance_mm: mm(distance),
		at_mm: mm3(at),
	})),
	outline_mm: cut.section.map(mm3),
	spare_mm: mm(cut.spare),
	nearest: cut.nearest,
	sides: cut.sides,
	loose: cut.loose,
	wasteShare: mm(cut.share),
	stands: cut.stands,
	tipping_mm: cut.standing && mm(cut.standing.margin),
});

const planStopCuts = (field: StopField, saw: ReturnType<typeof stopSaw>): Plan["stopCuts"][number] => ({
	name: field.name,
	face: field.face.name,
	runs: field.runs,
	from_mm: mm(field.from),
	to_mm: mm(field.to),
	kerfs: field.kerfs.map(({ at, depth }) => ({ at_mm: mm(at), depth_mm: depth })),
	saw: { kind: saw.kind, allowance_mm: saw.allowance, kerf_mm: saw.kerf, disc_mm: saw.disc },
	removed_mm3: mm(field.volume),
	removedRange_kg: [mm(field.mass[0]), mm(field.mass[1])],
});

const afterCuts = ({ left, leftVolume, leftMass }: CutsAnswer): Plan["afterCuts"] => ({
	volume_mm3: mm(leftVolume),
	mass_kg: [mm(leftMass[0]), mm(leftMass[1])],
	faces: planFaces(left),
});
