/** What is drilled holds the figure in its stone: whatever is changed, holes keep point, number, line and floor, or nothing changes. */

import { describe, expect, test } from "vitest";
import { progressOf } from "../../core/bench/progress.ts";
import { strayHoles } from "../../core/bench/strayHoles.ts";
import { finish } from "../../core/job.ts";
import { type Commission, commissionSchema, type LogEntry, newCommission } from "../../core/plan/commission.ts";
import type { Plan, PlanPoint } from "../../core/plan/planFile.ts";
import { createPlanner, openScan } from "../../core/plan/planner.ts";
import { memorySource } from "../../core/scan/source.ts";
import { writeBinaryStl } from "../../core/scan/writeScan.ts";
import { along, distance, type Vec3 } from "../../core/vector.ts";
import { changedHeld } from "../../renderer/state/holdFast.ts";
import { mirroredOver, twinOf } from "../../renderer/state/mirror.ts";
import { resized } from "../../renderer/state/size.ts";
import { sphere } from "../support/shapes.ts";

/** An egg 120 mm across and 180 high; lumpy, so that no turn of it is like another. */
function egg() {
	const { mesh } = sphere(60, { edge: 5 });
	const positions = mesh.positions.slice();
	for (let v = 0; v < positions.length; v += 3) {
		const [x, y, z] = [positions[v], positions[v + 1], positions[v + 2]];
		const lump = 9 * Math.exp(-((x - 40) * (x - 40) + (y + 30) * (y + 30) + z * z) / 900);
		positions.set([x * (1 + lump / 60), y * (1 + lump / 60), 90 + 1.5 * z], v);
	}
	return { positions, triangles: mesh.triangles };
}

const scan = finish(openScan(memorySource(writeBinaryStl(egg())), "egg.stl"));
const planner = createPlanner();
function planned(commission: Commission): Plan {
	const { plan, waits } = finish(planner.work(scan, commissionSchema.parse(JSON.parse(JSON.stringify(commission)))));
	if (!plan) throw new Error(JSON.stringify(waits));
	return plan;
}

const done = (point: number, i: number): LogEntry => ({
	kind: "done",
	id: `abcdefgh${i}`,
	at: "2024-03-11T08:00:00",
	hand: "",
	point,
	seconds: null,
});
const plain = newCommission("egg.stl");
const begun: Commission = {
	...plain,
	scan: { ...plain.scan, unit: "mm" },
	stone: { ...plain.stone, block_mm: [200, 190, 240] },
	rounds: plain.rounds.slice(0, 2),
};
const first = planned(begun);
const drilled = first.points
	.filter((p) => !p.undercut)
	.filter((_, i) => i % 4 === 1)
	.slice(0, 5);
const logged: Commission = { ...begun, log: drilled.map(({ number }, i) => done(number, i)) };

const floorOf = ({ entry_mm, line, depth_mm }: PlanPoint): Vec3 =>
	along(entry_mm as Vec3, line as Vec3, -(depth_mm as number));

function expectHeld(plan: Plan): void {
	for (const [k, x] of plan.stone.placement.rotation.entries())
		expect(x).toBeCloseTo(first.stone.placement.rotation[k], 12);
	for (const [k, x] of plan.stone.placement.translation.entries())
		expect(x).toBeCloseTo(first.stone.placement.translation[k], 9);
	for (const was of drilled) {
		const now = plan.points.find(({ number }) => number === was.number) as PlanPoint;
		expect(now.model_mm).toEqual(was.model_mm);
		for (const k of [0, 1, 2]) {
			expect(floorOf(now)[k]).toBeCloseTo(floorOf(was)[k], 3);
			expect(now.line?.[k]).toBeCloseTo(was.line?.[k] as number, 6);
		}
		// From the same skin it is as deep; a face that was worked back is another skin.
		if (distance(now.entry_mm as Vec3, was.entry_mm as Vec3) < 1e-3)
			expect(now.depth_mm).toBeCloseTo(was.depth_mm as number, 3);
	}
	expect(progressOf(plan, logged.log).done).toBe(5);
}

const withStone = (part: Partial<Commission["stone"]>) => (c: Commission) => ({ ...c, stone: { ...c.stone, ...part } });
const margins = { bed: 2, top: 9, front: 1, back: 3, left: 12, right: 0 };

/** Kinds of change that leave the holes where they are. */
const CARRIED: Readonly<Record<string, (c: Commission) => Commission>> = {
	"a shorter block": withStone({ block_mm: [180, 190, 240] }),
	"a longer block": withStone({ block_mm: [260, 190, 240] }),
	"the stone from stock": withStone({ block_mm: [210, 230, 250], breaks: [], byHand: null }),
	margins: withStone({ margins_mm: margins }),
	"out of true": withStone({ outOfTrue_mm: 6 }),
	freedom: withStone({ turning: "tipped", tip_deg: 20 }),
	"as it stood": withStone({ turning: "as stood" }),
	"a holding foot": withStone({ holdingFoot_mm: 12 }),
	"a flaw": withStone({
		flaws: [
			{
				name: "vein",
				through_mm: [
					[0, 0, 120],
					[100, 0, 120],
					[0, 100, 120],
				],
				thickness_mm: 3,
			},
		],
		keepSound: [{ position_mm: [0, -60, 90], normal: [0, -1, 0] }],
		soundWithin_mm: 30,
	}),
	"a broken corner": withStone({ breaks: [{ kind: "off", faces: ["top", "front", "left"], reach_mm: [20, 20, 20] }] }),
	"an offcut": withStone({
		given: "planes",
		planes: [
			[1, 0, 0, 205],
			[-1, 0, 0, 0],
			[0, 1, 0, 190],
			[0, -1, 0, 0],
			[0, 0, 1, 240],
			[0, 0, -1, 0],
		],
		byHand: null,
	}),
	rounds: (c) => ({ ...c, rounds: c.rounds.map((round) => ({ ...round, join_mm: round.join_mm + 1 })) }),
	"the smallest form": (c) => ({ ...c, model: { ...c.model, smallestForm_mm: 5 } }),
	"steeper lines": (c) => ({ ...c, lines: { ...c.lines, lean_deg: 12 } }),
};

/** Kinds that would make another figure or another stone of it. */
const REFUSED: Readonly<Record<string, (c: Commission) => Commission>> = {
	size: (c) => resized(c, 1.5),
	unit: (c) => ({ ...c, scan: { ...c.scan, unit: "in" } }),
	mirror: (c) => mirroredOver(c, true),
	stance: (c) => ({ ...c, model: { ...c.model, stance: [1, 0, 0, 1] } }),
	mending: (c) => ({ ...c, scan: { ...c.scan, mend: { ...c.scan.mend, weldWithin_mm: 1 } } }),
	back: (c) => ({ ...c, scan: { ...c.scan, back: { towards: "rim", distance_mm: 20 } } }),
	"another scan": (c) => ({ ...c, scan: { ...c.scan, file: "other.stl" } }),
	"another stone's scan": withStone({
		given: "scan",
		scan: { file: "rock.stl", sha256: "", unit: "mm" },
		byHand: null,
	}),
	"an offcut from another corner": withStone({
		given: "planes",
		planes: [
			[1, 0, 0, 200],
			[-1, 0, 0, 5],
			[0, 1, 0, 190],
			[0, -1, 0, 0],
			[0, 0, 1, 240],
			[0, 0, -1, 0],
		],
	}),
	"no stone": withStone({ block_mm: null }),
};

describe("with five points drilled", () => {
	for (const [kind, change] of Object.entries(CARRIED))
		test(`${kind}: the figure, the holes and their numbers stay`, () => {
			const next = changedHeld(logged, change, { plan: first });
			if (typeof next === "string") throw new Error(next);
			expect(commissionSchema.parse(JSON.parse(JSON.stringify(next)))).toEqual(next);
			expectHeld(planned(next));
		});
	for (const [kind, change] of Object.entries(REFUSED))
		test(`${kind}: refused, with the points, the reason and what to do`, () => {
			const before = JSON.stringify(logged);
			const said = changedHeld(logged, change, { plan: first });
			expect(said).toMatch(/^Points [\d, ]+ are drilled, and the holes belong to the figure/);
			expect(said).toContain("save as");
			expect(JSON.stringify(logged)).toBe(before);
			// Before the first hole nothing stands in its way.
			expect(changedHeld(begun, change, { plan: first })).toEqual(change(begun));
		});
	test("one change after another, the second before the plan of the first stands", () => {
		const once = changedHeld(logged, CARRIED.margins, { plan: first }) as Commission;
		const twice = changedHeld(once, CARRIED["a longer block"], { plan: null }) as Commission;
		expectHeld(planned(twice));
	});
	test("where nobody knows yet where the holes lie, nothing is changed", () => {
		expect(changedHeld(logged, CARRIED.margins, { plan: null })).toContain("Wait until the plan stands");
		expect(changedHeld(logged, (c) => ({ ...c, name: "egg two" }), { plan: null })).toMatchObject({ name: "egg two" });
	});
	test("a reading alone says that there is a hole", () => {
		const read: LogEntry = {
			kind: "reading",
			id: "hgfedcba1",
			at: "2024-03-11T08:00:00",
			hand: "",
			point: drilled[2].number,
			over_mm: 2,
		};
		const next = changedHeld({ ...begun, log: [read] }, CARRIED.margins, { plan: first }) as Commission;
		expect(next.drilled.map(({ number }) => number)).toEqual([drilled[2].number]);
	});
	test("an assumed block is one that is there", () => {
		const assumed = { ...logged, stone: { ...logged.stone, block_mm: null } };
		const next = changedHeld(assumed, CARRIED.margins, { plan: first }) as Commission;
		expect(next.stone.block_mm).toEqual([200, 190, 240]);
	});
	test("the carver may place it himself", () => {
		const byHand = { quaternion: [0, 0, 0, 1], translation_mm: [90, 95, 30] } as NonNullable<
			Commission["stone"]["byHand"]
		>;
		const next = changedHeld(logged, withStone({ byHand }), { plan: first, places: true }) as Commission;
		expect(next.stone.byHand).toEqual(byHand);
		expect(next.drilled).toHaveLength(5);
	});
	test("moved by him, no hole counts for a point that it is not the hole of", () => {
		const held = changedHeld(logged, CARRIED.margins, { plan: first }) as Commission;
		expect(strayHoles(planned(held), held.drilled)).toEqual([]);
		const from = held.stone.byHand as NonNullable<Commission["stone"]["byHand"]>;
		const [x, y, z] = from.translation_mm;
		const byHand = { ...from, translation_mm: [x + 6, y, z + 4] as [number, number, number] };
		const moved = changedHeld(held, withStone({ byHand }), { plan: null, places: true }) as Commission;
		const plan = planned(moved);
		const stray = strayHoles(plan, moved.drilled);
		expect(stray).toEqual(drilled.map(({ number }) => number).sort((a, b) => a - b));
		expect(progressOf(plan, moved.log, stray).done).toBe(0);
	});
	test("what moves no point leaves the commission alone", () => {
		const next = changedHeld(logged, (c) => ({ ...c, quote: { ...c.quote, currency: "EUR" } }), { plan: first });
		expect(next).toEqual({ ...logged, quote: { ...logged.quote, currency: "EUR" } });
	});
	test("the other one of a pair has no holes", () => {
		const next = changedHeld(logged, CARRIED.margins, { plan: first }) as Commission;
		expect(twinOf(next)).toMatchObject({ log: [], drilled: [] });
	});
});

describe("a done taken back after a change", () => {
	const changed = changedHeld(logged, CARRIED.rounds, { plan: first }) as Commission;
	const numbers = (c: Commission | string): number[] =>
		typeof c === "string" ? [] : c.drilled.map(({ number }) => number);
	const [gone, ...rest] = drilled.map(({ number }) => number);
	test("frees the point, by an entry that takes it back or by one taken out", () => {
		const entry: LogEntry = {
			kind: "taken back",
			id: "takenback1",
			at: "2024-03-11T09:00:00",
			hand: "",
			of: "abcdefgh0",
		};
		expect(numbers(changedHeld(changed, (c) => ({ ...c, log: [...c.log, entry] }), { plan: null }))).toEqual(rest);
		expect(numbers(changedHeld(changed, (c) => ({ ...c, log: c.log.slice(1) }), { plan: null }))).toEqual(rest);
		expect(numbers(changed)).toEqual([gone, ...rest]);
	});
	test("not as long as another entry says that it is drilled", () => {
		const twice = changedHeld(changed, (c) => ({ ...c, log: [...c.log, done(gone, 7)] }), { plan: null }) as Commission;
		expect(numbers(changedHeld(twice, (c) => ({ ...c, log: c.log.slice(1) }), { plan: null }))).toEqual([
			gone,
			...rest,
		]);
	});
	test("with the last of them the figure may be another one again", () => {
		const none = changedHeld(changed, (c) => ({ ...c, log: [] }), { plan: null }) as Commission;
		expect(changedHeld(none, REFUSED.size, { plan: null })).toMatchObject({ model: { scale: 1.5 } });
	});
});
