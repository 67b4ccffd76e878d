/** The stone as the plan document tells it. */

import type { Stone } from "../../stone/block.ts";
import { degreesFromCosine } from "../../text/angle.ts";
import { place, unit } from "../../vector.ts";
import type { StoneAnswer } from "../answers.ts";
import type { Commission } from "../commission.ts";
import type { Plan } from "../planFile.ts";
import type { NatureAnswer } from "../stages/flawStages.ts";
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

export function planStone(commission: Commission, answer: StoneAnswer, nature: NatureAnswer): Plan["stone"] {
	const { stone, fit, stoneMass, stoneMassWet, figureMass, figureMassWet } = answer;
	const { kind } = stone.block;
	const { naturalBed: bed, keepSound } = commission.stone;
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
		figureWet_kg: range(figureMassWet),
		holdingFoot_mm: commission.stone.holdingFoot_mm,
		outOfTrue_mm: commission.stone.outOfTrue_mm,
		bed_deg: nature.bed && degreesFromCosine(nature.bed.cosine),
		bed_normal: bed && direction(unit(bed.normal)),
		keepSound_mm: keepSound.map((at) => mm3(place(fit.placement, at.position_mm))),
		flaws: nature.flaws.map(({ flaw, area, parts, sound }) => ({
			name: flaw.name,
			plane: [...direction(flaw.normal), mm(flaw.offset)],
			thickness_mm: mm(2 * flaw.half),
			crossing_mm2: area === null ? null : mm(area),
			thin: parts.some((part) => part.thin),
			sound_mm: sound.map(mm),
		})),
	};
}
