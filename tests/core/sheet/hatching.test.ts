import { describe, expect, it } from "vitest";
import type { RoundReport } from "../../../core/pointing/rounds.ts";
import { hatchLines } from "../../../core/sheet/hatching.ts";
import { markedGround } from "../../../core/sheet/markedGround.ts";
import { buildScreenGrid } from "../../../core/sheet/screenGrid.ts";

describe("hatching", () => {
	// A square of 40 × 40 mm in the view plane, its left half marked; behind it a larger one, marked all over but hidden there.
	const square = (half: number, z: number): number[][] => [
		[-half, -half, z],
		[0, -half, z],
		[half, -half, z],
		[-half, half, z],
		[0, half, z],
		[half, half, z],
	];
	const at = [...square(20, 0), ...square(30, -10)];
	const pair = (o: number): number[] => [0, 1, 4, 0, 4, 3, 1, 2, 5, 1, 5, 4].map((i) => i + o);
	const triangles = Uint32Array.from([...pair(0), ...pair(6)]);
	const axis = (k: number): Float64Array => Float64Array.from(at.map((p) => p[k]));
	const grid = buildScreenGrid({ xs: axis(0), ys: axis(1), zs: axis(2) }, triangles);
	const lengthOf = (lines: Float64Array[]): number =>
		lines.reduce((sum, l) => sum + Math.hypot(l[2] - l[0], l[3] - l[1]), 0);
	const front = Uint8Array.from(at.map((p) => (p[2] === 0 && p[0] <= 0 ? 1 : 0)));
	const back = Uint8Array.from(at.map((p) => (p[2] < 0 ? 1 : 0)));

	it.each([1, -1] as const)("slope %i: covers its area at its spacing, and nothing beside it", (slope) => {
		// Triangles with two marked corners of three: the left half and the nearer of the two right of it.
		const lines = hatchLines(grid, triangles, front, slope, 2, [-30, -30, 30, 30]);
		for (const l of lines) {
			expect((l[3] - l[1]) / (l[2] - l[0])).toBeCloseTo(slope, 9);
			expect(Math.min(l[0], l[2])).toBeGreaterThan(-20.9);
		}
		// 20 × 40 mm and half of as much again, one line every 2 mm.
		expect(Math.abs(lengthOf(lines) - (800 + 400) / 2)).toBeLessThan(45);
	});

	it("leaves out what other parts hide", () => {
		const lines = hatchLines(grid, triangles, back, 1, 2, [-30, -30, 30, 30]);
		// The frame of 60 × 60 less 40 × 40 mm.
		expect(Math.abs(lengthOf(lines) - (3600 - 1600) / 2)).toBeLessThan(90);
		for (const l of lines) {
			const [x, y] = [(l[0] + l[2]) / 2, (l[1] + l[3]) / 2];
			expect(Math.max(Math.abs(x), Math.abs(y))).toBeGreaterThan(18);
		}
	});
});

describe("marked ground of a plan", () => {
	const round = (kind: "high points" | "net", by: number[], un: number[], cover: number[]): RoundReport =>
		({
			kind,
			byEye: Uint8Array.from(by),
			unreached: Uint8Array.from(un),
			cover: Float32Array.from(cover),
		}) as Partial<RoundReport> as RoundReport;

	it("is the last net's: by eye first, then out of reach, then where a flat join would cut in", () => {
		const rounds = [
			round("net", [1, 1, 1, 1], [1, 1, 1, 1], [-1, -1, -1, -1]),
			round("net", [1, 0, 0, 0], [1, 1, 0, 0], [-1, -1, -1, 0.5]),
			round("high points", [0, 0, 0, 0], [0, 0, 0, 0], [Number.NaN, 0, 0, 0]),
		];
		const marked = Object.fromEntries(markedGround(rounds).map((g) => [g.kind, [...g.at]]));
		expect(marked).toEqual({ "by eye": [1, 0, 0, 0], undercut: [0, 1, 0, 0], "flat join cuts in": [0, 0, 1, 0] });
	});
	it("is none where no net was laid", () => {
		expect(markedGround([])).toEqual([]);
	});
});
