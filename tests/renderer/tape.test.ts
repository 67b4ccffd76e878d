import { describe, expect, it } from "vitest";
import { letThrough, pointSentence, safeText } from "../../renderer/state/points.ts";
import { drawnOut, layTape, reachWith, slid, tapeIndexAt, tapeIndexNear } from "../../renderer/tape/tapeLayout.ts";
import { handPlan } from "../support/handPlan.ts";

const { plan } = handPlan({ points: 120 });
const ALL = { text: "", round: null, kind: "all" } as const;

describe("tape", () => {
	const laid = layTape(plan.points, 900, 60);
	it("gives every point a stroke of its own, in order", () => {
		expect(laid.strokes).toHaveLength(plan.points.length);
		laid.strokes.forEach((stroke, i) => {
			expect(tapeIndexAt(laid, stroke.x)).toBe(i);
			if (i > 0) expect(stroke.x).toBeGreaterThan(laid.strokes[i - 1].x);
		});
	});
	it("draws depth to one scale, and no stroke for an undercut", () => {
		expect(laid.fullDepth).toBeGreaterThanOrEqual(Math.max(...plan.points.map((point) => point.depth_mm ?? 0)));
		plan.points.forEach((point, i) => {
			if (point.depth_mm === null) expect(laid.strokes[i].height).toBe(0);
			else expect(laid.strokes[i].height).toBeCloseTo(Math.max(3, (60 * point.depth_mm) / laid.fullDepth), 9);
		});
	});
	it("covers the whole order with runs of one round in one lie", () => {
		expect(laid.runs[0].from).toBe(0);
		for (const [k, part] of laid.runs.entries()) {
			const until = laid.runs[k + 1]?.from ?? plan.points.length;
			for (let i = part.from; i < until; i++) expect(plan.points[i].round).toBe(part.round);
		}
	});
	it("brushes over its ends", () => {
		expect(tapeIndexAt(laid, -5)).toBeNull();
		expect(tapeIndexNear(laid, -5)).toBe(0);
		expect(tapeIndexNear(laid, 5000)).toBe(plan.points.length - 1);
		expect(layTape([], 900, 60).strokes).toEqual([]);
	});
});

describe("filter", () => {
	const numbers = (filter: Parameters<typeof letThrough>[1]): number[] =>
		plan.points.filter((point) => letThrough(point, filter, plan)).map((point) => point.number);
	it("lets everything through when it asks for nothing", () => {
		expect(numbers(ALL)).toHaveLength(plan.points.length);
	});
	it("takes a number by its beginning and a run by its ends", () => {
		expect(numbers({ ...ALL, text: "12" })).toEqual([12, 120]);
		expect(numbers({ ...ALL, text: "30–33" })).toEqual([30, 31, 32, 33]);
	});
	it("takes words, rounds and kinds", () => {
		const undercut = plan.points.filter((point) => point.undercut).map((point) => point.number);
		expect(undercut.length).toBeGreaterThan(0);
		expect(numbers({ ...ALL, kind: "undercut" })).toEqual(undercut);
		for (const point of plan.points.filter((one) => letThrough(one, { ...ALL, text: "front" }, plan)))
			expect(`${point.face} ${point.reason}`).toContain("front");
		expect(numbers({ ...ALL, round: 2 })).toEqual(
			plan.points.filter((point) => point.round === 2).map((point) => point.number),
		);
	});
});

describe("words of a point", () => {
	it("name its place and its depth, or why there is none", () => {
		for (const point of plan.points) {
			const said = pointSentence(point, plan, "mm");
			expect(said).toContain(`Point ${point.number}`);
			if (point.undercut) expect(said).toContain(point.reason);
			else expect(said).toMatch(/depth \d+\.[05] mm$/);
		}
	});
	it("never promise more than the depth forgives", () => {
		for (const point of plan.points)
			if (point.aimSafe_deg !== null)
				expect(Number(safeText(point).replace(/[±°]/g, ""))).toBeLessThanOrEqual(point.aimSafe_deg);
	});
});

describe("a tape drawn out", () => {
	it("keeps the place that it is drawn out about where it is", () => {
		expect(drawnOut([0, 99], 100, 2, 0)).toEqual([0, 49]);
		expect(drawnOut([0, 99], 100, 2, 99)).toEqual([50, 99]);
		const [from, until] = drawnOut([0, 100], 101, 4, 50);
		expect((from + until) / 2).toBeCloseTo(50, 0);
	});
	it("never leaves the points there are, nor shows fewer than can be read", () => {
		let reach: readonly [number, number] = [0, 399];
		for (let i = 0; i < 20; i++) reach = drawnOut(reach, 400, 2, 390);
		expect(reach[1] - reach[0] + 1).toBe(12);
		expect(reach[1]).toBeLessThanOrEqual(399);
		for (let i = 0; i < 20; i++) reach = drawnOut(reach, 400, 0.5, 200);
		expect(reach).toEqual([0, 399]);
		expect(drawnOut([0, 4], 5, 10, 2)).toEqual([0, 4]);
		expect(slid([50, 99], 400, 1000)).toEqual([350, 399]);
		expect(slid([50, 99], 400, -1000)).toEqual([0, 49]);
	});
	it("comes to what is pointed at, and stays when that is in sight", () => {
		const reach = [50, 99] as const;
		expect(reachWith(reach, 400, 70)).toBe(reach);
		expect(reachWith(reach, 400, 300)).toEqual([275, 324]);
	});
});
