/** The plan document from the answers of the stages: lines for every point, numbers, and everything as others read it. */

import { calliperLengths } from "../datum/callipers.ts";
import { DATUM_LETTERS, type DatumSet } from "../datum/datumSets.ts";
import { seatErrorAt, type Triangle } from "../datum/seatError.ts";
import { aimOf, type Drill, drillOf, stopAllowances } from "../drilling/drill.ts";
import { type DrillLine, isUndercut, type SharedLine, type Undercut } from "../drilling/drillLine.ts";
import type { Lie } from "../drilling/lies.ts";
import type { LineSearch } from "../drilling/lineSearch.ts";
import { separateHoles } from "../drilling/separateHoles.ts";
import { thicknessAt } from "../drilling/thickness.ts";
import type { Job } from "../job.ts";
import type { SurfacePoint } from "../pointing/ground.ts";
import { numberPoints, orderPoints } from "../pointing/order.ts";
import type { PointedGround } from "../pointing/rounds.ts";
import { defaultMiddlePlane, type Side, sideOf } from "../pointing/side.ts";
import type { SurfaceIndex } from "../surface/surfaceIndex.ts";
import { degreesFromCosine } from "../text/angle.ts";
import { openingText, undercutText } from "../text/drillingWords.ts";
import { refusalText } from "../text/refusals.ts";
import { along, distance, place, turn, type Vec3 } from "../vector.ts";
import type { ModelAnswer, OpenedScan, StoneAnswer } from "./answers.ts";
import type { Commission } from "./commission.ts";
import { planCautions } from "./planCautions.ts";
import type { Plan, PlanDatum, PlanPoint } from "./planFile.ts";
import { transferOf } from "./transfer.ts";

export interface PlanParts {
	readonly scan: OpenedScan;
	readonly commission: Commission;
	readonly model: ModelAnswer;
	readonly stone: StoneAnswer;
	readonly datumSets: readonly DatumSet[];
	readonly search: LineSearch;
	readonly lies: readonly Lie[];
	readonly ground: PointedGround;
	readonly index: SurfaceIndex;
}

/** Lengths are stored to a millionth of a millimetre, directions to 1e-12: far under any bench, and short to read. */
const mm = (value: number): number => Math.round(value * 1e6) / 1e6 + 0;
const mm3 = (v: Vec3): [number, number, number] => [mm(v[0]), mm(v[1]), mm(v[2])];
const direction = (v: Vec3): [number, number, number] => {
	const r = (x: number): number => Math.round(x * 1e12) / 1e12 + 0;
	return [r(v[0]), r(v[1]), r(v[2])];
};

/** A point with its line, before it is numbered. */
interface WorkedPoint {
	readonly point: SurfacePoint;
	readonly thickness: number | null;
	readonly side: Side;
	readonly answer: DrillLine | Undercut;
}

const UP: Vec3 = [0, 0, 1];

export function* assemblePlan(parts: PlanParts): Job<Plan> {
	const { scan, commission, model, stone, datumSets, lies, ground } = parts;
	const transfer = transferOf(commission);
	const aim = aimOf(transfer, commission.aim);
	const drills = commission.rounds.map((round) => drillOf(round.tool));
	const allowances = stopAllowances(commission.rounds, commission.holes);
	const alone = yield* workLines(parts, drills, allowances);
	const parted = yield* separateHoles(
		alone.map(({ point, thickness, answer }) => ({
			target: { position: point.position, normal: point.normal },
			drill: drills[point.round],
			allowance: allowances[point.round],
			thickness: thickness ?? undefined,
			answer,
		})),
		parts.search,
	);
	const worked = alone.map((w, i) => ({ ...w, answer: parted.answers[i] }));
	const order = orderPoints(
		worked.map(({ point, answer, side }) => ({
			position: point.position,
			round: point.round,
			lie: isUndercut(answer) ? null : answer.lie,
			kind: point.kind,
			side,
		})),
		UP,
	);
	const numbers = numberPoints(order);
	const crossings = parted.crossings
		.map(({ a, b, web }) => ({
			points: [numbers[a], numbers[b]].sort((m, n) => m - n) as [number, number],
			web_mm: mm(web),
		}))
		.sort((x, y) => x.points[0] - y.points[0] || x.points[1] - y.points[1]);
	const points: PlanPoint[] = [];
	for (const [k, i] of order.entries()) {
		points.push(planPoint(worked[i], numbers[i], parts, drills, allowances));
		if (k % 4 === 3) yield { stage: "writing the plan", share: k / order.length };
	}
	const { fit } = stone;
	return {
		format: "puntello-plan",
		version: 1,
		name: commission.name,
		code: planCode(scan.sha256, commission),
		model: {
			scan: scan.name,
			sha256: scan.sha256,
			unit: model.unit,
			unitReason: refusalText(model.unitReason),
			scale: commission.model.scale,
			benchScale: commission.model.benchScale,
			mirrored: commission.scan.mirrored,
			triangles: model.mesh.triangles.length / 3,
			area_mm2: mm(model.area),
			volume_mm3: model.volume === null ? null : mm(model.volume),
			size_mm: mm3(model.size),
			toModel: model.toModel as Plan["model"]["toModel"],
		},
		stone: {
			kind: commission.stone.kind,
			density_kgm3: [...stone.density],
			block_mm: mm3(stone.block),
			blockAssumed: stone.assumed,
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
			stone_kg: [mm(stone.stoneMass[0]), mm(stone.stoneMass[1])],
			figure_kg: stone.figureMass && [mm(stone.figureMass[0]), mm(stone.figureMass[1])],
		},
		transfer,
		aim: { mark_mm: aim.mark, lean_deg: aim.leanDeg, wander: aim.wander },
		seatError_mm: commission.seatError_mm,
		datumSets: datumSets.map((set) => ({
			name: set.name,
			datums: set.seats.map((seat, i) => planDatum(DATUM_LETTERS[i], seat)) as unknown as [
				PlanDatum,
				PlanDatum,
				PlanDatum,
			],
			sides_mm: mm3(set.sides),
			worstError_mm: mm(set.worstError),
		})),
		lies: lies.map((lie) => planLie(lie, stone)),
		rounds: ground.rounds.map((report, i) => {
			const round = commission.rounds[i];
			const drill = drills[i];
			return {
				name: round.name,
				kind: round.kind,
				allowance_mm: allowances[i],
				join_mm: round.join_mm,
				eyeFactor: round.eyeFactor,
				leastCover_mm: report.leastCover === null ? null : mm(report.leastCover),
				greatestCover_mm: report.greatestCover === null ? null : mm(report.greatestCover),
				plannedCover_mm: report.plannedCover === null ? null : mm(report.plannedCover),
				leastCoverAt_mm: report.leastCoverVertex === null ? null : mm3(vertexAt(model, report.leastCoverVertex)),
				claimedShare: report.claimedShare === null ? null : mm(report.claimedShare),
				points: points.filter((p) => p.round === i).length,
				foreseen: mm(report.foreseen),
				tool: {
					tip: drill.tip,
					radius_mm: drill.holeRadius,
					drill_mm: drill.diameter,
					pointAngle_deg: drill.pointAngleDeg,
					reach_mm: drill.reach,
				},
			};
		}),
		points,
		crossings,
		cuts: [],
		sheet: { ...commission.sheet },
		cautions: planCautions(stone, commission, points, crossings),
	};
}

const vertexAt = ({ mesh: { positions } }: ModelAnswer, v: number): Vec3 => [
	positions[3 * v],
	positions[3 * v + 1],
	positions[3 * v + 2],
];

/** Finds the line of every point; neighbours are offered each other's directions. */
function* workLines(
	{ index, search, ground, model, commission }: PlanParts,
	drills: readonly Drill[],
	allowances: readonly number[],
): Job<WorkedPoint[]> {
	const worked: WorkedPoint[] = [];
	const { points } = ground;
	const middle = defaultMiddlePlane(model.mesh.positions);
	for (const [i, point] of points.entries()) {
		const target = { position: point.position, normal: point.normal };
		const thickness = model.closed ? thicknessAt(index, target) : null;
		const answer = search.find(
			target,
			drills[point.round],
			allowances[point.round],
			sharedLines(worked, point),
			thickness ?? undefined,
		);
		const side = sideOf(point.position, middle, commission.model.smallestForm_mm);
		worked.push({ point, thickness, side, answer });
		if (i % 4 === 3) yield { stage: "finding the drill lines", share: i / points.length };
	}
	return worked;
}

/** How many neighbours' lines are offered. */
const SHARED = 3;

/** Lines of the nearest points that have one, nearest first, ties by order. */
function sharedLines(worked: readonly WorkedPoint[], point: SurfacePoint): SharedLine[] {
	const nearest: { d: number; shared: SharedLine }[] = [];
	for (const { point: other, answer } of worked) {
		if (isUndercut(answer)) continue;
		const d = distance(other.position, point.position);
		if (nearest.length === SHARED && d >= nearest[SHARED - 1].d) continue;
		let at = nearest.length;
		while (at > 0 && nearest[at - 1].d > d) at--;
		nearest.splice(at, 0, { d, shared: { face: answer.face.name, leanDeg: answer.leanDeg } });
		if (nearest.length > SHARED) nearest.pop();
	}
	return nearest.map((n) => n.shared);
}

function planPoint(
	{ point, thickness, side, answer }: WorkedPoint,
	number: number,
	{ commission, stone, datumSets, search, ground }: PlanParts,
	drills: readonly Drill[],
	allowances: readonly number[],
): PlanPoint {
	const set = datumSets[0];
	const base = {
		number,
		round: point.round,
		set: 0,
		kind: point.kind,
		side,
		model_mm: mm3(point.position),
		normal: direction(point.normal),
		thickness_mm: thickness === null ? null : mm(thickness),
		error_mm: mm(seatErrorAt(set.form, commission.seatError_mm, point.position)),
		byEye: point.byEye,
	};
	if (isUndercut(answer)) {
		const target = { position: point.position, normal: point.normal };
		const opening = search.opening(target, drills[point.round], allowances[point.round]);
		return {
			...base,
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
			toGo_mm: null,
			undercut: true,
			reason: `${undercutText(answer)} ${openingText(opening)}`,
		};
	}
	const { placement } = stone.fit;
	const target = place(placement, point.position);
	const floor = along(target, answer.direction, answer.stop);
	const bench = commission.model.benchScale;
	const onModel = set.seats.map((seat) => seat.onModel) as unknown as Triangle;
	const inStone = set.seats.map((seat) => seat.inStone) as unknown as Triangle;
	const model = calliperLengths(onModel, point.position);
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
		stone_mm: mm(answer.stoneAlong),
		callipers_mm: {
			model: mm3([model[0] / bench, model[1] / bench, model[2] / bench]),
			stone: mm3(calliperLengths(inStone, floor)),
		},
		toGo_mm: toGo(point, answer, ground, turn(placement.rotation, point.normal)),
		undercut: false,
		reason: point.reason,
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

const planDatum = (name: string, seat: DatumSet["seats"][number]): PlanDatum => ({
	name,
	model_mm: mm3(seat.onModel),
	stud_mm: mm(seat.stud),
	stone_mm: mm3(seat.inStone),
	face: seat.face.name,
	u_mm: mm(seat.u),
	v_mm: mm(seat.v),
	lean_deg: [...seat.leanDeg],
	depth_mm: mm(seat.depth),
});

/** The direction that points up in a lie is opposite to the face that lies on the banker. */
function planLie(lie: Lie, { stone }: StoneAnswer): Plan["lies"][number] {
	const closed = stone.faces.find((face) => face.name === lie.closedFace);
	const n: Vec3 = closed ? closed.normal : [0, 0, -1];
	return {
		name: lie.name,
		up: [0 - n[0], 0 - n[1], 0 - n[2]],
		openFaces: stone.faces.filter((face) => face.name !== lie.closedFace).map((face) => face.name),
	};
}

const CODE_LETTERS = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ";

/** Six letters from the scan's fingerprint and the commission (FNV-1a, 32 bit; public domain). */
function planCode(sha256: string, commission: Commission): string {
	// The commission may not know its scan's fingerprint yet; the plan always does.
	const known: Commission = { ...commission, scan: { ...commission.scan, sha256 } };
	let hash = 0x811c9dc5;
	for (const text of [sha256, JSON.stringify(known)])
		for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
	let code = "";
	for (let i = 0; i < 6; i++) {
		code += CODE_LETTERS[hash & 31];
		hash = i === 5 ? hash : hash >>> 5;
	}
	return code;
}
