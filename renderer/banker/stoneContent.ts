/** What of the stone stands on the banker: its faces, natural bed and flaws, and how near the figure comes to each face. */

import { along, dot, length, scale, type Vec3 } from "../../core/vector.ts";
import type { StoneShown } from "../jobs/shown.ts";
import { gapsInHand } from "../state/hand.ts";
import type { Session } from "../state/session.ts";
import type { GapDrawn, PlaneDrawn, StoneDrawn } from "./stoneView.ts";

export const stoneDrawn = ({ stone, block }: StoneShown): StoneDrawn => ({
	extent: block,
	faces: stone.faces,
	isBlock: stone.block.kind !== "planes",
});

export function planesDrawn(session: Session): PlaneDrawn[] {
	const stone = session.answers.value?.stone;
	const nature = session.answers.value?.nature;
	const bed = session.commission.value?.stone.naturalBed;
	if (!stone) return [];
	const planes: PlaneDrawn[] = (nature?.flaws ?? []).map(({ flaw }) => ({
		normal: flaw.normal,
		offset: flaw.offset,
		kind: "flaw",
	}));
	if (bed && length(bed.normal) > 0) {
		const normal = scale(bed.normal, 1 / length(bed.normal));
		const middle: Vec3 = [stone.block[0] / 2, stone.block[1] / 2, stone.block[2] / 2];
		// Low in the stone, so that it reads as its grain and does not hide the figure.
		const low = along(middle, normal, -0.35 * Math.abs(dot(normal, stone.block)));
		planes.push({ normal, offset: dot(normal, low), kind: "bed" });
	}
	return planes;
}

/** The nearest way to every face: in hand as it is held, else of the placement that stands; only what is tight is drawn. */
export function gapsDrawn(session: Session): GapDrawn[] {
	const stone = session.answers.value?.stone;
	if (!stone) return [];
	const { faces } = stone.stone;
	const held = gapsInHand(session);
	const gaps = held ?? stone.fit.gaps;
	const least = Math.min(...gaps.map((gap) => gap.gap - gap.margin));
	return gaps.flatMap((gap, f): GapDrawn[] => {
		const spare = gap.gap - gap.margin;
		if (!held && spare > least + 0.5 && spare >= 0) return [];
		const to = along(gap.touchingInStone, faces[f].normal, gap.gap);
		return [{ from: gap.touchingInStone, to, short: spare < 0 }];
	});
}
