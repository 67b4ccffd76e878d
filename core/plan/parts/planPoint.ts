/** One point as the plan tells it. */

import { airAlong } from "../../cuts/stopField.ts";
import { calliperLengths, sideOfDatums, unreliableByCallipers } from "../../datum/callipers.ts";
import { servingSet } from "../../datum/reach.ts";
import { chainErrorAt, type Triangle } from "../../datum/seatError.ts";
import { underEdge } from "../../datum/straightedge.ts";
import { type DrillLine, isUndercut } from "../../drilling/drillLine.ts";
import type { SurfacePoint } from "../../pointing/ground.ts";
import type { PointedGround } from "../../pointing/rounds.ts";
import type { Side } from "../../pointing/side.ts";
import { airAlongHole } from "../../stone/airAlongHole.ts";
import { degreesFromCosine } from "../../text/angle.ts";
import { openingText, undercutText } from "../../text/drillingWords.ts";
import { along, place, turn, type Vec3 } from "../../vector.ts";
import type { PlanParts } from "../assemblePlan.ts";
import type { PlanPoint } from "../planFile.ts";
import { armOf, transferOf } from "../transfer.ts";
import { direction, mm, mm3 } from "./rounding.ts";
import type { WorkedPoint } from "./workedPoints.ts";

/** The model faces −y. */
const FRONT: Vec3 = [0, -1, 0];

/** Where stop cuts or the stone's own hollows have left air in a hole, mm. */
const airOf = ({ cuts, stoneIndex }: Pick<PlanParts, "cuts" | "stoneIndex">, entry: Vec3, floor: Vec3): number =>
	airAlong(cuts?.stopFields ?? [], entry, floor) + (stoneIndex ? airAlongHole(stoneIndex, floor, entry) : 0);

/** What an undercut has in place of a line. */
export const NO_LINE = {
	lie: null,
	line: null,
	tilt_deg: null,
	lean_deg: null,
	entry_mm: null,
	face: null,
	u_mm: null,
	v_mm: null,
	stop_mm: null,
	depth_mm: null,
	clearance_mm: null,
	aimSafe_deg: null,
	stone_mm: null,
	callipers_mm: null,
	calliperSide: null,
	calliperUnreliable: false,
	straightedge_mm: null,
	toGo_mm: null,
	undercut: true,
} as const;

export function planPoint(
	point: SurfacePoint,
	{ thickness, answer, opening }: WorkedPoint,
	side: Side,
	number: number,
	{ commission, stone, stoneIndex, datumSets, cuts, ground }: PlanParts,
): PlanPoint {
	const setIndex = servingSet(datumSets, commission.seatError_mm, armOf(commission), point.position, point.normal);
	const set = datumSets[setIndex];
	const base = {
		number,
		round: point.round,
		set: setIndex,
		kind: point.kind,
		side,
		model_mm: mm3(point.position),
		normal: direction(point.normal),
		thickness_mm: thickness === null ? null : mm(thickness),
		error_mm: mm(chainErrorAt(set.forms, commission.seatError_mm, point.position)),
		byEye: point.byEye,
	};
	if (isUndercut(answer)) {
		return {
			...base,
			...NO_LINE,
			reason: opening ? `${undercutText(answer)} ${openingText(opening)}` : undercutText(answer),
			blockedAt_mm: answer.blockedAt && mm3(answer.blockedAt),
		};
	}
	const { placement } = stone.fit;
	const target = place(placement, point.position);
	const floor = along(target, answer.direction, answer.stop);
	const bench = commission.model.benchScale;
	const onModel = set.seats.map((seat) => seat.onModel) as unknown as Triangle;
	const inStone = set.seats.map((seat) => seat.inStone) as unknown as Triangle;
	const model = calliperLengths(onModel, point.position);
	const edge = (datums: Triangle, out: Vec3, at: Vec3, ratio: number): [number, number, number] => {
		const { along, across, below } = underEdge(datums, out, at);
		return mm3([along / ratio, across / ratio, below / ratio]);
	};
	const relief = set.facing ?? FRONT;
	return {
		...base,
		lie: answer.lie,
		line: direction(answer.direction),
		tilt_deg: degreesFromCosine(answer.tiltCosine),
		lean_deg: [...answer.leanDeg],
		entry_mm: mm3(answer.entry),
		face: answer.face.name,
		u_mm: mm(answer.u),
		v_mm: mm(answer.v),
		stop_mm: mm(answer.stop),
		depth_mm: mm(answer.depth),
		clearance_mm: mm(answer.clearance),
		aimSafe_deg: answer.aimSafeDeg,
		stone_mm: mm(Math.max(0, answer.stoneAlong - airOf({ cuts, stoneIndex }, answer.entry, floor))),
		callipers_mm: {
			model: mm3([model[0] / bench, model[1] / bench, model[2] / bench]),
			stone: mm3(calliperLengths(inStone, floor)),
		},
		calliperSide: sideOfDatums(inStone, target),
		calliperUnreliable: unreliableByCallipers(onModel, point.position),
		straightedge_mm:
			transferOf(commission) === "straightedge"
				? {
						model: edge(onModel, relief, point.position, bench),
						stone: edge(inStone, turn(placement.rotation, relief), floor, 1),
					}
				: null,
		toGo_mm: toGo(point, answer, ground, turn(placement.rotation, point.normal)),
		undercut: false,
		reason: point.reason,
		blockedAt_mm: null,
	};
}

/**
 * Stone that is expected along the line when its turn comes: from the skin while it stands; after the first net has been
 * joined, from the flat join of the round before, whose cover over this place is measured along the normal. Less the stop.
 * null where the join of the round before was not measured.
 */
function toGo(point: SurfacePoint, line: DrillLine, ground: PointedGround, normalInStone: Vec3): number | null {
	let before = point.round - 1;
	while (before >= 0 && ground.rounds[before].kind !== "net") before--;
	if (before < 0) return mm(line.depth);
	const cover = ground.rounds[before].cover[point.vertex];
	if (Number.isNaN(cover)) return null;
	const cosine =
		line.direction[0] * normalInStone[0] + line.direction[1] * normalInStone[1] + line.direction[2] * normalInStone[2];
	return mm(Math.min(line.depth, Math.max(0, cover / cosine - line.stop)));
}
