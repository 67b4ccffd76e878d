/** What the carver says about points, from the commission to the plan: brushed ground, sides, drilled points, what is to go. */

import { describe, expect, test } from "vitest";
import { finish } from "../../../core/job.ts";
import { type Commission, commissionSchema, newCommission } from "../../../core/plan/commission.ts";
import type { Plan, PlanPoint } from "../../../core/plan/planFile.ts";
import { createPlanner, openScan } from "../../../core/plan/planner.ts";
import { memorySource } from "../../../core/scan/source.ts";
import { writeBinaryStl } from "../../../core/scan/writeScan.ts";
import { along, distance, dot, type Vec3 } from "../../../core/vector.ts";
import { sphere } from "../../support/shapes.ts";
import { bruteCover } from "../pointing/bruteJoin.ts";

/** An egg 120 mm across and 180 mm high, with a dent in its front so that joins are not all alike. */
function egg() {
	const { mesh } = sphere(60, { edge: 2.4 });
	const positions = mesh.positions.slice();
	for (let v = 0; v < positions.length; v += 3) {
		const [x, y, z] = [positions[v], positions[v + 1], positions[v + 2]];
		const dent = y < 0 ? 8 * Math.exp(-(x * x + z * z) / 500) : 0;
		positions.set([x, y + dent, 90 + 1.5 * z], v);
	}
	return { positions, triangles: mesh.triangles };
}

const scan = finish(openScan(memorySource(writeBinaryStl(egg())), "egg.stl"));
const plain: Commission = { ...newCommission("egg.stl"), scan: { ...newCommission("egg.stl").scan, unit: "mm" } };
const rounds = plain.rounds.slice(0, 3);
const planner = createPlanner();
function planned(more: Partial<Commission> = {}) {
	const commission = commissionSchema.parse(JSON.parse(JSON.stringify({ ...plain, rounds, ...more })));
	const { plan, model, waits } = finish(planner.work(scan, commission));
	if (!plan || !model) throw new Error(JSON.stringify(waits));
	return { plan, mesh: model.mesh };
}

const first = planned();
const front: Vec3 = [0, -60, 90];
const nearFront = (plan: Plan, within: number): number =>
	plan.points.filter((p) => distance(p.model_mm, front) < within).length;

describe("brushed ground", () => {
	const dab = { position_mm: [0, -52, 90], normal: [0, -1, 0], radius_mm: 35 } as const;
	const area = (factor: number): Partial<Commission> => ({
		areas: [{ name: "front", factor, dabs: [{ ...dab, position_mm: [...dab.position_mm], normal: [...dab.normal] }] }],
	});
	test("no points wanted: none there, the ground is not claimed and is listed with its reason", () => {
		const { plan } = planned(area(0));
		expect(nearFront(plan, 30)).toBe(0);
		expect(nearFront(first.plan, 30)).toBeGreaterThan(2);
		for (const round of plan.rounds.slice(1)) {
			const rough = round.unclaimed.find(({ reason }) => reason === "left rough");
			expect(rough?.share).toBeGreaterThan(0.03);
			const listed = round.unclaimed.reduce((sum, { share }) => sum + share, 0);
			expect((round.claimedShare as number) + listed).toBeCloseTo(1, 4);
		}
	});
	test("closer: more points there", () =>
		expect(nearFront(planned(area(0.5)).plan, 30)).toBeGreaterThan(1.5 * nearFront(first.plan, 30)));
});

describe("sides", () => {
	test("one side first: within a lie and a round, all of it before the other", () => {
		const { plan } = planned({ sides: "right first" });
		for (const round of [1, 2])
			for (const lie of plan.lies.keys()) {
				const sides = plan.points
					.filter((p) => p.round === round && p.lie === lie && p.kind !== "picked")
					.map((p) => p.side);
				const left = sides.indexOf("left");
				if (left >= 0) expect(sides.slice(left)).not.toContain("right");
			}
	});
	test("by the carver's own middle plane: seen from the side, front is left", () => {
		const { plan } = planned({ middle: { normal: [0, -3, 0], offset_mm: 0 } });
		for (const p of plan.points)
			if (Math.abs(p.model_mm[1]) > 3.1) expect(p.side).toBe(p.model_mm[1] < 0 ? "left" : "right");
	});
	test("the way of the arm is told beside two others, and is that of the list", () => {
		const { plan } = first;
		const drilled = plan.points.filter((p) => !p.undercut);
		let way = 0;
		for (let i = 1; i < drilled.length; i++) way += distance(drilled[i - 1].model_mm, drilled[i].model_mm);
		expect(plan.travel.order_mm).toBeCloseTo(way, 3);
		expect(plan.travel.order_mm).toBeLessThan(0.6 * plan.travel.random_mm);
		expect(plan.travel.nearest_mm).toBeLessThan(plan.travel.random_mm);
	});
});

describe("points already drilled", () => {
	const done = first.plan.points.filter((p) => !p.undercut).slice(3, 15);
	const drilled = done.map(({ number, round, kind, model_mm, normal }) => ({
		number,
		round,
		kind,
		position_mm: model_mm,
		normal,
		hole: null,
	}));
	const { plan } = planned({ drilled, rounds: rounds.map((r, i) => (i === 2 ? { ...r, join_mm: 2.5 } : r)) });
	test("keep number and place when a round is changed; the others count on from the highest", () => {
		for (const old of done) {
			const now = plan.points.find((p) => p.number === old.number) as Plan["points"][number];
			expect(distance(now.model_mm, old.model_mm)).toBeLessThan(1e-5);
			expect(now.round).toBe(old.round);
		}
		const kept = new Set(done.map((p) => p.number));
		const fresh = plan.points.filter((p) => !kept.has(p.number)).map((p) => p.number);
		expect(Math.min(...fresh)).toBe(Math.max(...kept) + 1);
		expect(new Set(plan.points.map((p) => p.number)).size).toBe(plan.points.length);
	});

	describe("with what is known of their holes", () => {
		const sunk = drilled.map((point, i) => {
			const { line, entry_mm, depth_mm } = done[i];
			const floor = along(entry_mm as Vec3, line as Vec3, -(depth_mm as number));
			return { ...point, hole: { line: line as Vec3 & number[], floor_mm: [...floor] } };
		}) as Commission["drilled"];
		const told = ({ lie, face, entry_mm, line, lean_deg, depth_mm, stop_mm, clearance_mm }: PlanPoint) =>
			[lie, face, entry_mm, line, lean_deg, depth_mm, stop_mm, clearance_mm].flat();
		/** Everything but the placing is asked for anew: steeper lines, another stop, bosses of another datum set in the way. */
		const changes: Partial<Commission> = {
			rounds: rounds.map((round) => ({ ...round, stop_mm: 5 })),
			lines: { ...plain.lines, lean_deg: 10 },
			transfer: "machine",
			stud_mm: 60,
		};
		const linesOf = (points: Commission["drilled"]) => {
			const { plan: next } = planned({ ...changes, drilled: points });
			return done.map(({ number }) => told(next.points.find((p) => p.number === number) as PlanPoint));
		};
		test("line and depth stay as drilled, whatever lines are looked for now", () => {
			for (const [i, now] of linesOf(sunk).entries())
				for (const [k, was] of told(done[i]).entries())
					if (typeof was === "number") expect(now[k]).toBeCloseTo(was, 5);
					else expect(now[k]).toBe(was);
		});
		test("without it they are looked for anew", () => expect(linesOf(drilled)).not.toEqual(done.map(told)));
		test("a hole that leads to its target no more is not taken for its line", () => {
			const beside = sunk.map((point) => {
				const hole = point.hole as NonNullable<typeof point.hole>;
				const [x, y, z] = hole.floor_mm;
				return { ...point, hole: { ...hole, floor_mm: [x + 3, y + 3, z] as [number, number, number] } };
			});
			expect(linesOf(beside)).toEqual(linesOf(drilled));
		});
	});
});

test("expected to go: the brute-force join of the net before, along the line, less the stop", () => {
	const { plan, mesh } = first;
	const before = plan.points.filter((p) => p.round <= 1 && !p.undercut);
	const vertexAt = (at: readonly number[]): number => {
		let best = 0;
		for (let v = 0; v < mesh.positions.length / 3; v++) {
			const d = (w: number): number => Math.hypot(...[0, 1, 2].map((k) => mesh.positions[3 * w + k] - at[k]));
			if (d(v) < d(best)) best = v;
		}
		return best;
	};
	const points = before.map((p) => ({ vertex: vertexAt(p.model_mm), position: p.model_mm, normal: p.normal }));
	const brute = bruteCover(mesh, points, plan.rounds[1].join_mm);
	const rotation = plan.stone.placement.rotation;
	let checked = 0;
	let off = 0;
	for (const p of plan.points) {
		if (p.undercut || p.line === null) continue;
		if (p.round < 2) {
			// The skin still stands: all of the hole is to go.
			expect(p.toGo_mm).toBeCloseTo(p.depth_mm as number, 5);
			continue;
		}
		const cover = brute.nearest[vertexAt(p.model_mm)];
		if (Number.isNaN(cover) || p.toGo_mm === null) continue;
		const n = [0, 3, 6].map((r) => dot([rotation[r], rotation[r + 1], rotation[r + 2]], p.normal)) as unknown as Vec3;
		const along = cover / dot(p.line, n);
		const wanted = Math.min(p.depth_mm as number, Math.max(0, along - (p.stop_mm as number)));
		checked++;
		// Where four points lie nearly on a circle the two joins may take the other diagonal.
		if (Math.abs(wanted - p.toGo_mm) > 0.1) off++;
	}
	expect(checked).toBeGreaterThan(20);
	expect(off / checked).toBeLessThan(0.1);
});
