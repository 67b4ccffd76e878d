/** Rough-out cuts: what is kept, and the stone as it stands after them. */

import { type CutsAnswer, planCuts } from "../../cuts/planCuts.ts";
import { type Saw, USUAL_SAWS } from "../../cuts/saws.ts";
import { type Kept, markedCorner } from "../../cuts/spared.ts";
import { bossesOf } from "../../datum/bosses.ts";
import { DATUM_LETTERS, type DatumSet } from "../../datum/datumSets.ts";
import type { Lie } from "../../drilling/lies.ts";
import type { Job } from "../../job.ts";
import { along, place, turn } from "../../vector.ts";
import type { StoneAnswer } from "../answers.ts";
import type { Commission } from "../commission.ts";
import { choice, type Graph } from "../graph.ts";
import { readsFromDatums } from "../transfer.ts";
import { bridgesOf } from "./pointingStages.ts";
import type { SurfaceParts } from "./surfaceStages.ts";

/** Waste left standing over a proof mark that the carver chose, mm high and about its line (common practice, no source). */
const MARK_HEIGHT = 20;
const MARK_RADIUS = 5;

/** null where no cuts were asked for. */
export function* cutsStage(
	graph: Graph,
	{ index }: SurfaceParts,
	stone: StoneAnswer,
	lies: readonly Lie[],
	datumSets: readonly DatumSet[] | null,
	commission: Commission,
): Job<CutsAnswer | null> {
	const { cuts, bridges, proofMarks } = commission;
	if (lies.length === 0 || (cuts.count === 0 && cuts.own.length === 0 && cuts.stopCuts === 0)) return null;
	const lieFaces = lies.map((lie) => lie.closedFace);
	const seated = readsFromDatums(commission) ? (datumSets ?? []) : [];
	return yield* graph.stage(
		"cuts",
		[stone, seated.length > 0 ? datumSets : null, index, choice([cuts, bridges, proofMarks, lieFaces])],
		() =>
			planCuts({
				stone: stone.stone,
				hull: stone.held,
				placement: stone.fit.placement,
				kept: [...bossesKept(stone, seated), ...othersKept(stone, commission)],
				lieFaces,
				index,
				density: stone.density,
				wanted: {
					saw: sawOf(commission),
					count: cuts.count,
					stopCuts: cuts.stopCuts,
					own: cuts.own.map(({ normal, offset_mm, skipped }) => ({ normal, offset: offset_mm, skipped })),
				},
			}),
	);
}

/** The stone as it stands when it is drilled. */
export const asCut = (stone: StoneAnswer, cuts: CutsAnswer | null): StoneAnswer =>
	cuts === null ? stone : { ...stone, stone: cuts.left };

export function sawOf({ cuts }: Commission): Saw {
	const usual = USUAL_SAWS[cuts.saw];
	return {
		kind: cuts.saw,
		allowance: cuts.allowance_mm ?? usual.allowance,
		kerf: cuts.kerf_mm ?? usual.kerf,
		reach: cuts.reach_mm ?? usual.reach,
		disc: usual.disc === null ? null : (cuts.disc_mm ?? usual.disc),
	};
}

function bossesKept({ fit: { placement } }: StoneAnswer, sets: readonly DatumSet[]): Kept[] {
	return sets.flatMap((set) =>
		bossesOf(set, placement).map(({ tip, entry, radius }, i): Kept => {
			const name = `boss ${DATUM_LETTERS[i]}${sets.length > 1 ? ` of ${set.name}` : ""}`;
			return { kind: "boss", name, from: tip, to: entry, radius };
		}),
	);
}

function othersKept({ fit: { placement }, block }: StoneAnswer, commission: Commission): Kept[] {
	const kept = bridgesOf(commission).map(
		({ name, from, to, radius }): Kept => ({
			kind: "bridge",
			name: `bridge ${name}`,
			from: place(placement, from),
			to: place(placement, to),
			radius,
		}),
	);
	const marks = commission.proofMarks.map(({ position_mm, normal }, i): Kept => {
		const foot = place(placement, position_mm);
		const top = along(foot, turn(placement.rotation, normal), MARK_HEIGHT);
		return { kind: "boss", name: `proof mark P${i + 1}`, from: foot, to: top, radius: MARK_RADIUS };
	});
	const corner = commission.cuts.spareCorner ? [markedCorner(block)] : [];
	return [...kept, ...marks, ...corner];
}
