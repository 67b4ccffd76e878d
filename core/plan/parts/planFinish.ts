/** The plan with what comes after its last point: the keys, and the cautions that follow from them. */

import type { FixingAnswer } from "../../finish/fixing.ts";
import { refusalText } from "../../text/refusals.ts";
import type { FinishAnswer } from "../answers.ts";
import type { Plan } from "../planFile.ts";
import { finishCautions } from "./finishCautions.ts";
import { mm, mm3 } from "./rounding.ts";

export function withFinish(plan: Plan, answer: FinishAnswer): Plan {
	return { ...plan, finish: planFinish(answer), cautions: [...plan.cautions, ...finishCautions(answer)] };
}

function planFinish({ ground, grades, gilded, fixing, days }: FinishAnswer): NonNullable<Plan["finish"]> {
	return {
		openArea_mm2: mm(ground.open),
		detailArea_mm2: mm(ground.detail),
		grades: (grades.answer?.steps ?? []).map(({ abrasive, grain, takes, troubles }) => ({
			kind: abrasive.kind,
			grit: abrasive.grit,
			wet: abrasive.wet,
			grain_mm: mm(grain),
			takes_mm: mm(takes),
			troubles: [...troubles],
		})),
		gradesTake_mm: mm(grades.answer?.takes ?? 0),
		gilded: gilded.flatMap(({ answer }) =>
			answer
				? [
						{
							name: answer.name,
							area_mm2: mm(answer.region.area),
							leaves: answer.leaf.leaves,
							books: answer.leaf.books,
						},
					]
				: [],
		),
		fixing: fixing.answer && planFixing(fixing.answer),
		days: days.map(({ name, points, a8, unknown }) => ({
			name,
			points: mm(points),
			a8_ms2: mm(a8),
			unknown: [...unknown],
		})),
	};
}

const some = (value: number | null): number | null => (value === null ? null : mm(value));

function planFixing(f: FixingAnswer): NonNullable<NonNullable<Plan["finish"]>["fixing"]> {
	const { pin } = f;
	return {
		centre_mm: mm3(f.centre),
		mass_kg: [mm(f.mass[0]), mm(f.mass[1])],
		tips_deg: f.figure?.angle ?? null,
		wholeTips_deg: f.whole?.angle ?? null,
		wholeMass_kg: f.whole && [mm(f.whole.mass[0]), mm(f.whole.mass[1])],
		slopeLoad_N: mm(f.slopeLoad),
		topPush_N: some(f.topPush),
		stands: f.stands,
		pin: pin && {
			holds: pin.holds,
			at_mm: [mm(pin.at[0]), mm(pin.at[1])],
			bar_mm: pin.setting.bar_mm,
			hole_mm: mm(pin.setting.hole_mm),
			depth_mm: mm(pin.setting.depth),
			baseDepth_mm: some(f.baseDepth),
			barLength_mm: some(f.barLength),
			cover_mm: some(pin.cover),
			resin_mm3: some(f.resin),
		},
		reasons: f.reasons.map(refusalText),
		engineer: f.engineer.map(refusalText),
	};
}
