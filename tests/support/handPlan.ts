/**
 * A plan made by hand around a lumpy egg, without any stage of the planner: for tests of what is printed. Its numbers hang
 * together (entries lie on faces, depths on lines), but nothing about it is a proof that the holes are safe.
 */

import type { Paper } from "../../core/plan/commission.ts";
import { NO_LINE } from "../../core/plan/parts/planPoint.ts";
import { planFaces } from "../../core/plan/parts/planStone.ts";
import { type Plan, type PlanPoint, planSchema } from "../../core/plan/planFile.ts";
import { seededRandom } from "../../core/random.ts";
import type { TriangleMesh } from "../../core/scan/mesh.ts";
import { stoneOf } from "../../core/stone/block.ts";
import { add, cross, distance, dot, scale, sub, unit, type Vec3 } from "../../core/vector.ts";

export interface HandPlanChoice {
	readonly seed?: number;
	readonly points?: number;
	readonly paper?: Paper;
	readonly units?: "mm" | "in";
	readonly transfer?: Plan["transfer"];
	readonly mirrored?: boolean;
	/** Circles of the egg's mesh from pole to pole. */
	readonly rings?: number;
	/** Another figure than the egg: model frame, foot at z = 0, in the middle of its block. */
	readonly figure?: HandFigure;
}

export interface HandPlan {
	readonly plan: Plan;
	readonly mesh: TriangleMesh;
	readonly normals: Float64Array;
}

export interface HandFigure {
	readonly name: string;
	readonly mesh: TriangleMesh;
	readonly normals: Float64Array;
	readonly block: Vec3;
	/** Model frame → stone frame, mm. */
	readonly translation: Vec3;
}

const CENTRE: Vec3 = [0, 0, 185];

/** Distance of the egg's surface from its centre in a direction: an egg with brow, wings and a belly. */
function radius(d: Vec3, seed: number): number {
	const waist = 1 - 0.1 * Math.cos(5 * d[2] + seed);
	const wings = 1 + 0.09 * Math.sin(7 * d[0] + 2 * d[2]) * Math.sin(6 * d[2]);
	const brow = d[1] < 0 ? 1 + 0.12 * Math.exp(-40 * (d[2] - 0.55) * (d[2] - 0.55)) : 1;
	const egg = 1 / Math.sqrt((d[0] / 92) ** 2 + (d[1] / 84) ** 2 + (d[2] / 165) ** 2);
	return egg * waist * wings * brow;
}

function egg(rings: number, seed: number): HandFigure {
	const around = 2 * rings;
	const positions: number[] = [];
	const put = (d: Vec3): void => {
		positions.push(...add(CENTRE, scale(d, radius(d, seed))));
	};
	put([0, 0, -1]);
	for (let i = 1; i < rings; i++)
		for (let k = 0; k < around; k++) {
			const polar = (Math.PI * i) / rings;
			const turn = (2 * Math.PI * k) / around;
			put([Math.sin(polar) * Math.cos(turn), Math.sin(polar) * Math.sin(turn), -Math.cos(polar)]);
		}
	put([0, 0, 1]);
	const last = positions.length / 3 - 1;
	const triangles: number[] = [];
	const at = (i: number, k: number): number => 1 + (i - 1) * around + (k % around);
	for (let k = 0; k < around; k++) {
		triangles.push(0, at(1, k + 1), at(1, k), last, at(rings - 1, k), at(rings - 1, k + 1));
		for (let i = 1; i < rings - 1; i++) {
			triangles.push(at(i, k), at(i, k + 1), at(i + 1, k + 1));
			triangles.push(at(i, k), at(i + 1, k + 1), at(i + 1, k));
		}
	}
	const mesh = { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
	const normals = new Float64Array(positions.length);
	const corner = (v: number): Vec3 => [positions[3 * v], positions[3 * v + 1], positions[3 * v + 2]];
	for (let f = 0; f < triangles.length; f += 3) {
		const [a, b, c] = triangles.slice(f, f + 3);
		const n = cross(sub(corner(b), corner(a)), sub(corner(c), corner(a)));
		for (const v of [a, b, c]) for (let i = 0; i < 3; i++) normals[3 * v + i] += n[i];
	}
	for (let v = 0; v <= last; v++) {
		const n = unit([normals[3 * v], normals[3 * v + 1], normals[3 * v + 2]]);
		normals.set(n, 3 * v);
	}
	return { name: "Egg with a brow, trial piece", mesh, normals, block: [260, 240, 420], translation: [130, 120, 14] };
}

/** A copy that the plan's own types take. */
const triple = (v: Vec3): [number, number, number] => [...v];

interface Side {
	readonly face: string;
	readonly outward: Vec3;
	readonly u: Vec3;
	readonly v: Vec3;
	readonly at: number;
}

const X: Vec3 = [1, 0, 0];
const Y: Vec3 = [0, 1, 0];
const Z: Vec3 = [0, 0, 1];
const sidesOf = (block: Vec3): readonly Side[] => [
	{ face: "front", outward: [0, -1, 0], u: X, v: Z, at: 0 },
	{ face: "back", outward: Y, u: X, v: Z, at: block[1] },
	{ face: "left", outward: [-1, 0, 0], u: Y, v: Z, at: 0 },
	{ face: "right", outward: X, u: Y, v: Z, at: block[0] },
	{ face: "top", outward: Z, u: X, v: Y, at: block[2] },
];

const ROUNDS = [
	{ name: "high points", kind: "high points", join: 10, drill: 6 },
	{ name: "first net", kind: "net", join: 6, drill: 6 },
	{ name: "close net", kind: "net", join: 3.5, drill: 4 },
	{ name: "last net", kind: "net", join: 2, drill: 4 },
] as const;

export function handPlan(choice: HandPlanChoice = {}): HandPlan {
	const { seed = 1, points: count = 60, paper = "A4", units = "mm", transfer = "faces", mirrored = false } = choice;
	const random = seededRandom(seed);
	const figure = choice.figure ?? egg(choice.rings ?? 60, seed % 7);
	const { mesh, normals, block, translation } = figure;
	const sides = sidesOf(block);
	const at = (from: Float64Array, v: number): Vec3 => [from[3 * v], from[3 * v + 1], from[3 * v + 2]];
	const datums = (
		[
			[0, -1, -0.75],
			[0.9, 0.5, -0.6],
			[0.1, 0.6, 0.8],
		] as Vec3[]
	).map((d, i) => {
		const toward = unit(d);
		const model = add(CENTRE, scale(toward, radius(toward, seed % 7)));
		const stone = add(model, translation);
		const side = sides[[0, 3, 1][i]];
		return {
			name: "ABC"[i],
			model_mm: model,
			stone_mm: stone,
			foot_mm: sub(stone, scale(toward, 20)),
			face: side.face,
			u_mm: dot(stone, side.u),
			v_mm: dot(stone, side.v),
			lean_deg: [0, 0],
			stud_mm: 20,
			depth_mm: Math.abs(
				side.at - dot(stone, [1, 1, 1].map((k, j) => k * Math.abs(side.outward[j])) as unknown as Vec3),
			),
		};
	});
	const made = Array.from({ length: count }, (_, i): Omit<PlanPoint, "number"> => {
		const v = random.below(mesh.positions.length / 3);
		const model = at(mesh.positions, v);
		const normal = at(normals, v);
		const round = Math.min(3, Math.floor((4 * (i + random.next())) / count));
		const side = [...sides].sort((a, b) => dot(b.outward, normal) - dot(a.outward, normal))[0];
		const facing = dot(side.outward, normal);
		const half = (axis: Vec3): number =>
			Math.max(-20, Math.min(20, Math.round((Math.atan(dot(axis, normal) / facing) * 180 * 2) / Math.PI) / 2));
		const lean: [number, number] = [half(side.u), half(side.v)];
		const tan = (deg: number): number => Math.tan((deg * Math.PI) / 180);
		const line = unit(add(side.outward, add(scale(side.u, tan(lean[0])), scale(side.v, tan(lean[1])))));
		const target = add(model, translation);
		const axis = side.outward.findIndex((c) => c !== 0);
		const way = (side.at - target[axis]) / line[axis];
		const entry = add(target, scale(line, way));
		const onFace = (axis: Vec3): boolean => {
			const at = dot(entry, axis);
			return at >= 0 && at <= dot(block, axis);
		};
		const undercut = facing < 0.45 || !onFace(side.u) || !onFace(side.v);
		const stop = ROUNDS[round].join + 1.2;
		const common = {
			round,
			set: 0,
			kind: (round === 0 ? "high point" : random.next() < 0.1 ? "added" : "net") as PlanPoint["kind"],
			side: (model[0] > 3 ? "left" : model[0] < -3 ? "right" : "middle") as PlanPoint["side"],
			model_mm: triple(model),
			normal: triple(normal),
			thickness_mm: 120,
			error_mm: 0.6,
			byEye: random.next() < 0.04,
			undercut,
		};
		if (undercut)
			return {
				...common,
				...NO_LINE,
				reason:
					"the wing stands in the way of every line from the left and from the front; a lie on the back would open it",
				blockedAt_mm: triple(model),
			};
		const floor = add(target, scale(line, stop));
		return {
			...common,
			lie: side.face === "back" ? 1 : 0,
			line: triple(line),
			tilt_deg: 3,
			lean_deg: lean,
			entry_mm: triple(entry),
			face: side.face,
			u_mm: dot(entry, side.u),
			v_mm: dot(entry, side.v),
			stop_mm: stop,
			depth_mm: way - stop,
			clearance_mm: ROUNDS[round].join,
			aimSafe_deg: 1 + 3 * random.next(),
			stone_mm: way,
			callipers_mm:
				transfer === "callipers"
					? {
							model: datums.map((d) => distance(d.model_mm, model)) as [number, number, number],
							stone: datums.map((d) => distance(d.stone_mm, floor)) as [number, number, number],
						}
					: null,
			calliperSide: "front",
			calliperUnreliable: false,
			straightedge_mm: transfer === "straightedge" ? { model: triple(model), stone: triple(floor) } : null,
			toGo_mm: way - stop,
			reason: common.byEye ? "the spacing is at its least, 10 mm" : "",
			blockedAt_mm: null,
		};
	});
	const numbered = made
		.map((p, i) => ({ p, i }))
		.sort(
			(a, b) =>
				(a.p.lie ?? 9) - (b.p.lie ?? 9) || a.p.round - b.p.round || b.p.model_mm[2] - a.p.model_mm[2] || a.i - b.i,
		)
		.map(({ p }, i) => ({ number: i + 1, ...p }));
	const plan = planSchema.parse({
		format: "puntello-plan",
		version: 1,
		name: figure.name,
		code: `E${seed.toString(36).toUpperCase().padStart(5, "0")}`,
		model: {
			scan: "egg.stl",
			sha256: "0".repeat(64),
			unit: "mm",
			unitReason: "chosen",
			scale: 1,
			benchScale: 1,
			mirrored,
			triangles: mesh.triangles.length / 3,
			area_mm2: 200000,
			volume_mm3: 8.1e6,
			size_mm: [224, 196, 370],
			toModel: [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1],
		},
		stone: {
			kind: "marble",
			density_kgm3: [2600, 2800],
			block_mm: block,
			planes: null,
			extent_mm: block,
			faces: planFaces(stoneOf({ kind: "box", size: block as Vec3 })),
			blockAssumed: false,
			placement: { rotation: [1, 0, 0, 0, 1, 0, 0, 0, 1], translation },
			fits: true,
			clearance_mm: 14.2,
			spare_mm: 14.2,
			clearanceBound_mm: 14.25,
			certified: true,
			perFace: ["bed", "top", "front", "back", "left", "right"].map((face, i) => ({
				face,
				gap_mm: 14.2 + i,
				margin_mm: 0,
				touching_mm: [0, 0, 0],
			})),
			stone_kg: [68.1, 73.4],
			stoneWet_kg: [68.1, 73.6],
			figure_kg: [21, 22.7],
			figureWet_kg: [21, 22.8],
			holdingFoot_mm: 0,
			outOfTrue_mm: 0,
			bed_deg: null,
			bed_normal: null,
			keepSound_mm: [],
			flaws: [],
		},
		transfer,
		aim: { mark_mm: 1, lean_deg: 1, wander: 0.01 },
		seatError_mm: 0.5,
		datumSets: [
			{
				name: "front",
				datums,
				sides_mm: [0, 1, 2].map((i) => distance(datums[i].stone_mm, datums[(i + 1) % 3].stone_mm)),
				worstError_mm: 0.74,
				link: null,
				measured: false,
				seatOff_mm: null,
			},
		],
		proofMarks: [],
		lies: [
			{ name: "upright", up: [0, 0, 1], openFaces: ["front", "left", "right", "top"], reachedShare: 0.8, points: 0 },
			{ name: "on its face", up: [0, 1, 0], openFaces: ["back"], reachedShare: 0.95, points: 0 },
		],
		rounds: ROUNDS.map((r, i) => ({
			name: r.name,
			kind: r.kind,
			allowance_mm: 2,
			join_mm: r.join,
			eyeFactor: i === 3 ? 2 : 1,
			leastCover_mm: i === 0 ? null : 0.6,
			greatestCover_mm: i === 0 ? null : r.join,
			plannedCover_mm: i === 0 ? null : 0.5,
			leastCoverAt_mm: i === 0 ? null : [0, 0, 100],
			claimedShare: i === 0 ? null : 0.93,
			points: numbered.filter((p) => p.round === i).length,
			foreseen: 20,
			earlier: 0,
			added: 0,
			unclaimed: [{ reason: "by eye", share: 0.02 }],
			tool: {
				tip: "flat",
				radius_mm: r.drill / 2 + 0.25,
				drill_mm: r.drill,
				pointAngle_deg: 118,
				reach_mm: 300,
				setZero_mm: 0,
			},
		})),
		points: numbered,
		travel: { order_mm: 1200, nearest_mm: 1000, random_mm: 4000 },
		crossings: [],
		saw: null,
		stopCuts: [],
		cuts: [],
		afterCuts: null,
		bridges: [],
		finish: null,
		sheet: {
			paper,
			units,
			date: "2024-03-11",
			revision: "A",
			supersedes: "",
			changes: "",
			contour_mm: null,
			views: [],
		},
		cautions: [],
	});
	return { plan, mesh, normals };
}
