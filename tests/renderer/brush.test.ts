import { describe, expect, test } from "vitest";
import { commissionSchema, newCommission } from "../../core/plan/commission.ts";
import { seededRandom } from "../../core/random.ts";
import { strokes } from "../../renderer/banker/bendView.ts";
import { createDabGrid } from "../../renderer/banker/dabGrid.ts";
import { brushedShown } from "../../renderer/state/brush.ts";
import { withDrilled } from "../../renderer/state/drilled.ts";
import { handPlan } from "../support/handPlan.ts";
import { cylinder } from "../support/shapes.ts";

test("what was brushed is shown on its own side of a thin part, the later stroke over the earlier", () => {
	const positions = [0, 0, 1, 0, 0, 0, 9, 0, 1];
	const normals = [0, 0, 1, 0, 0, -1, 0, 0, 1];
	const dab = { position_mm: [0, 0, 1] as [number, number, number], normal: [0, 0, 1] as [number, number, number] };
	const shown = brushedShown(positions, normals, [
		{ factor: 0.6, dabs: [{ ...dab, radius_mm: 10 }] },
		{ factor: 0, dabs: [{ ...dab, radius_mm: 2 }] },
	]);
	expect([0, 1, 2].map((v) => Math.round(100 * shown(v)))).toEqual([0, 100, 60]);
});

test("of dabs of every size none that reaches a place is missed", () => {
	const random = seededRandom(12);
	const somewhere = (): [number, number, number] => [0, 1, 2].map(() => 400 * random.next() - 200) as never;
	const dabs = Array.from({ length: 300 }, () => ({ at: somewhere(), radius: 1 + 60 * random.next() ** 3 }));
	const near = createDabGrid(dabs);
	let most = 0;
	for (let i = 0; i < 500; i++) {
		const [x, y, z] = somewhere();
		const found = near(x, y, z);
		const reaching = dabs.flatMap(({ at, radius }, dab) =>
			Math.hypot(x - at[0], y - at[1], z - at[2]) <= radius ? [dab] : [],
		);
		expect(found).toEqual(expect.arrayContaining(reaching));
		expect([...found].sort((a, b) => a - b)).toEqual(found);
		most = Math.max(most, found.length);
	}
	expect(most).toBeLessThan(dabs.length / 5);
});

test("on a tube the long strokes go round it, the short ones along it", () => {
	const { mesh, normals, k1, k2, direction1 } = cylinder(20, 40, { edge: 2 });
	const half = 3;
	const { more, less } = strokes({
		positions: mesh.positions,
		normals,
		k1: Float32Array.from(k1),
		k2: Float32Array.from(k2),
		direction1: Int8Array.from(direction1, (x) => Math.round(127 * x)),
		half,
	});
	expect(more.length).toBe(6 * k1.length);
	for (let i = 0; i < more.length; i += 6) {
		expect(Math.hypot(...[0, 1, 2].map((k) => more[i + 3 + k] - more[i + k]))).toBeCloseTo(2 * half, 1);
		expect(Math.abs(more[i + 5] - more[i + 2])).toBeLessThan(0.1);
		expect(Math.abs(less[i + 5] - less[i + 2])).toBeCloseTo(2 * 0.6 * half, 1);
	}
});

describe("holes in the stone before a change", () => {
	const { plan } = handPlan({ points: 30 });
	const done = plan.points.filter((p) => !p.undercut).slice(0, 3);
	const plain = newCommission("egg.stl");
	const before = commissionSchema.parse({
		...plain,
		log: done.map(({ number }, i) => ({
			kind: "done",
			id: `abcdefgh${i}`,
			at: "2024-03-11T08:00:00",
			point: number,
		})),
	});
	const finer = { ...before, rounds: before.rounds.map((round) => ({ ...round, join_mm: round.join_mm + 1 })) };

	test("a change of the rounds puts them down with number, round and place, once", () => {
		const next = withDrilled(before, finer, plan);
		expect(next.drilled.map(({ number, round, position_mm }) => [number, round, position_mm])).toEqual(
			done.map(({ number, round, model_mm }) => [number, round, model_mm]),
		);
		for (const [i, { hole }] of next.drilled.entries()) {
			const { line, entry_mm, depth_mm } = done[i];
			expect(hole?.line).toEqual(line);
			const floor = hole?.floor_mm.map((x, k) => x + (depth_mm as number) * (line?.[k] as number));
			floor?.forEach((x, k) => {
				expect(x).toBeCloseTo((entry_mm as number[])[k], 9);
			});
		}
		expect(commissionSchema.parse(JSON.parse(JSON.stringify(next)))).toEqual(next);
		expect(withDrilled(next, { ...next, holes: "by rounds" }, plan).drilled).toEqual(next.drilled);
	});
	test("so does another place for a datum, whose boss may stand in the way of a line", () => {
		expect(withDrilled(before, { ...before, stud_mm: 30 }, plan).drilled).toHaveLength(3);
		expect(withDrilled(before, { ...before, span_mm: 400 }, plan).drilled).toHaveLength(3);
	});
	test("what moves no point leaves the commission alone", () => {
		expect(withDrilled(before, { ...before, name: "other" }, plan).drilled).toEqual([]);
		expect(withDrilled(before, { ...before, quote: { ...before.quote, currency: "EUR" } }, plan).drilled).toEqual([]);
		expect(withDrilled(before, finer, null).drilled).toEqual([]);
	});
});
