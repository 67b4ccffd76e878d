import { describe, expect, it } from "vitest";
import { handPlacement, leftStone } from "../../../core/bench/leftStone.ts";
import { placeAnew } from "../../../core/bench/placeAnew.ts";
import { finish } from "../../../core/job.ts";
import type { LogEntry } from "../../../core/plan/commission.ts";
import { stoneOf } from "../../../core/stone/block.ts";
import { add, distance, dot, place, rotationFromQuaternion, scale, turn, type Vec3 } from "../../../core/vector.ts";
import { handPlan } from "../../support/handPlan.ts";

const { plan, mesh } = handPlan({ points: 120, seed: 9 });
const stone = stoneOf({ kind: "box", size: plan.stone.block_mm as Vec3 });
const drillable = plan.points.filter((point) => !point.undercut);
const done = (point: number): LogEntry => ({
	kind: "done",
	id: `done${String(point).padStart(6, "0")}`,
	at: "2026-03-02T10:00:00",
	hand: "",
	point,
	seconds: null,
});
const reading = (point: number, over_mm: number): LogEntry => ({
	kind: "reading",
	id: `read${String(point).padStart(6, "0")}`,
	at: "2026-03-02T10:05:00",
	hand: "",
	point,
	over_mm,
});

describe("the stone that is left", () => {
	it("lies over a done point as it was read, else at its stop, and over the others where its faces are", () => {
		const [first, second] = drillable;
		const log = [done(first.number), done(second.number), reading(second.number, 0.7)];
		const { remains, numbers } = leftStone(plan, log, stone, new Float64Array(), []);
		const of = (number: number) => remains.targets[numbers.indexOf(number)];
		for (const [point, over] of [
			[first, first.stop_mm as number],
			[second, 0.7],
		] as const) {
			expect(of(point.number).drilled).toBe(true);
			expect(distance(of(point.number).over as Vec3, place(plan.stone.placement, point.model_mm))).toBeCloseTo(over, 9);
		}
		expect(remains.targets.filter((target) => target.over === null)).toHaveLength(drillable.length - 2);
		expect(remains.planes.map((plane) => plane.name)).toEqual(stone.faces.map((face) => face.name));
	});

	it("has been joined over a later round once every point of the rounds before is done", () => {
		const before = drillable.filter((point) => point.round === 0).map((point) => done(point.number));
		const { remains, numbers } = leftStone(plan, before, stone, new Float64Array(), []);
		for (const point of drillable.filter((p) => p.round === 1 && p.toGo_mm !== null)) {
			const { over } = remains.targets[numbers.indexOf(point.number)];
			const expected = (point.toGo_mm as number) + (point.stop_mm as number);
			expect(distance(over as Vec3, place(plan.stone.placement, point.model_mm))).toBeCloseTo(expected, 9);
		}
		expect(remains.targets[numbers.indexOf(drillable.find((p) => p.round === 2)?.number ?? 0)].over).toBeNull();
	});

	it("has no hole too deep that stands at its stop, or within the reading of it, and one that is past it", () => {
		const tooDeep = (log: LogEntry[], figure = plan): number[] => {
			const { remains, numbers } = leftStone(figure, log, stone, new Float64Array(), []);
			return finish(placeAnew(remains, { farthest: 0 })).tooDeep.before.map(({ target }) => numbers[target]);
		};
		// The stop of a leaning line on a bulging form: its floor keeps the allowance off the form, not off the tangent plane.
		const stops = (round: number): number[] =>
			drillable.filter((point) => point.round === round).map((point) => point.stop_mm as number);
		const bulging = {
			...plan,
			rounds: plan.rounds.map((round, i) => ({ ...round, allowance_mm: Math.min(...stops(i)) })),
		};
		for (const figure of [plan, bulging]) {
			const all = drillable.map((point) => done(point.number));
			expect(tooDeep(all, figure)).toEqual([]);
			const asRead = drillable.map((point) => reading(point.number, (point.stop_mm as number) - 0.2));
			expect(tooDeep([...all, ...asRead], figure)).toEqual([]);
			const { number } = drillable[4];
			expect(tooDeep([...all, reading(number, -2.54)], figure)).toEqual([number]);
		}
	});

	it("lets the figure out of the way of a break, and gives a placement that carries every corner as far as said", () => {
		const top = stone.faces.find((face) => face.name === "top");
		if (!top) throw new Error("a block has a top");
		const highest = Math.max(...drillable.map((point) => place(plan.stone.placement, point.model_mm)[2]));
		const lost = { name: "the break", normal: [0, 0, 1] as Vec3, offset: highest + 1 };
		const { remains } = leftStone(plan, [], stone, mesh.positions.slice(), [lost]);
		const answer = finish(placeAnew(remains, {}));
		expect(answer.answer).toBe("moves");
		const { quaternion, translation } = handPlacement(plan.stone.placement, answer);
		const now = { rotation: rotationFromQuaternion(quaternion), translation };
		for (const point of drillable) {
			const before = place(plan.stone.placement, point.model_mm);
			const after = place(now, scale(point.model_mm, answer.scale));
			const said = add(scale(turn(answer.motion.rotation, before), answer.scale), answer.motion.translation);
			expect(distance(after, said)).toBeLessThan(1e-6);
			const allowance = plan.rounds[point.round].allowance_mm;
			expect(lost.offset - allowance - dot(lost.normal, after)).toBeGreaterThan(-2e-3);
		}
	});
});
