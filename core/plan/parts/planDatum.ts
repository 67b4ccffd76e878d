import { DATUM_LETTERS, type DatumSet } from "../../datum/datumSets.ts";
import type { Lie } from "../../drilling/lies.ts";
import { distance, place, type Vec3 } from "../../vector.ts";
import type { StoneAnswer } from "../answers.ts";
import type { Plan, PlanDatum } from "../planFile.ts";
import { mm, mm3 } from "./rounding.ts";

/** A set with its seats; `placement` is where the figure lies now, measured seats counted in. */
export const planSet = (set: DatumSet, { fit: { placement } }: StoneAnswer): Plan["datumSets"][number] => ({
	name: set.name,
	datums: set.seats.map((seat, i) =>
		planDatum(DATUM_LETTERS[i], seat, place(placement, set.places[i].position)),
	) as unknown as [PlanDatum, PlanDatum, PlanDatum],
	sides_mm: mm3(set.sides),
	worstError_mm: mm(set.worstError),
	link: set.link && {
		to: set.link.to,
		suggested: set.link.suggested,
		points: set.link.points.map(({ position }) => ({
			model_mm: mm3(position),
			stone_mm: mm3(place(placement, position)),
		})),
	},
	measured: set.measured,
	seatOff_mm: set.measured
		? mm3(set.seats.map((seat) => distance(place(placement, seat.onModel), seat.inStone)) as unknown as Vec3)
		: null,
});

const planDatum = (name: string, seat: DatumSet["seats"][number], foot: Vec3): PlanDatum => ({
	name,
	model_mm: mm3(seat.onModel),
	stud_mm: mm(seat.stud),
	stone_mm: mm3(seat.inStone),
	foot_mm: mm3(foot),
	face: seat.face.name,
	u_mm: mm(seat.u),
	v_mm: mm(seat.v),
	lean_deg: [...seat.leanDeg],
	depth_mm: mm(seat.depth),
});

/** The direction that points up in a lie is opposite to the face that lies on the banker. */
export function planLie(lie: Lie, { stone }: StoneAnswer, reached: number, points: number): Plan["lies"][number] {
	const closed = stone.faces.find((face) => face.name === lie.closedFace);
	const n: Vec3 = closed ? closed.normal : [0, 0, -1];
	return {
		name: lie.name,
		up: [0 - n[0], 0 - n[1], 0 - n[2]],
		openFaces: stone.faces.filter((face) => face.name !== lie.closedFace).map((face) => face.name),
		reachedShare: mm(reached),
		points,
	};
}
