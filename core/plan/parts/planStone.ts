/** The stone as the plan document tells it. */

import type { Stone } from "../../stone/block.ts";
import type { StoneAnswer } from "../answers.ts";
import type { Commission } from "../commission.ts";
import type { Plan } from "../planFile.ts";
import { direction, mm, mm3 } from "./rounding.ts";

export const planFaces = (stone: Stone): Plan["stone"]["faces"] =>
	stone.faces.map((f) => ({
		name: f.name,
		normal: direction(f.normal),
		origin_mm: mm3(f.origin),
		u: direction(f.u),
		v: direction(f.v),
		outline_mm: f.outline.map(mm3),
	}));

export function planStone(commission: Commission, answer: StoneAnswer): Plan["stone"] {
	const { stone, fit, stoneMass, stoneMassWet, figureMass } = answer;
	const { kind } = stone.block;
	const range = (kg: readonly [number, number] | null): [number, number] | null => kg && [mm(kg[0]), mm(kg[1])];
	return {
		kind: commission.stone.kind,
		density_kgm3: [...answer.density],
		block_mm: kind === "planes" ? null : mm3(answer.block),
		planes: kind === "box" ? null : stone.faces.map((f) => [...direction(f.normal), mm(f.offset)]),
		extent_mm: mm3(answer.block),
		faces: planFaces(stone),
		blockAssumed: answer.assumed,
		placement: { rotation: [...fit.placement.rotation], translation: [...fit.placement.translation] },
		fits: fit.fits,
		clearance_mm: mm(fit.clearance),
		spare_mm: mm(fit.spare),
		clearanceBound_mm: mm(fit.clearanceBound),
		certified: fit.certified,
		perFace: fit.gaps.map((g) => ({
			face: g.face,
			gap_mm: mm(g.gap),
			margin_mm: g.margin,
			touching_mm: mm3(g.touching),
		})),
		stone_kg: [mm(stoneMass[0]), mm(stoneMass[1])],
		stoneWet_kg: range(stoneMassWet),
		figure_kg: range(figureMass),
	};
}
