import { describe, expect, test } from "vitest";
import { FIELD_WIDTH } from "../../../core/curvature/principalCurvatures.ts";
import { finish } from "../../../core/job.ts";
import { plannedCover, spendOf, spendOverHollow } from "../../../core/pointing/cover.ts";
import type { RoundRequest } from "../../../core/pointing/ground.ts";
import { prepareGround } from "../../../core/pointing/prepare.ts";
import { mostSpacing, sizingField } from "../../../core/pointing/spacing.ts";
import { Refusal } from "../../../core/refusal.ts";
import type { TriangleMesh } from "../../../core/scan/mesh.ts";
import { cylinder, flat, roof, sphere } from "../../support/shapes.ts";
import { groundOf, net } from "./grounds.ts";

const sized = (mesh: TriangleMesh, request: RoundRequest, brushed?: Float32Array) => {
	const prepared = finish(prepareGround({ ...groundOf(mesh), brushed }));
	const { coarse, scales, ground } = prepared;
	return { ...finish(sizingField(coarse, scales, ground.height, prepared.brushed, request)), coarse };
};

describe("what a join may lose (handbook 6, by hand)", () => {
	test("j 6: reserve 1.5, so 4.5 is spent and 1.5 covered", () => {
		expect(spendOf(net(6))).toBe(4.5);
		expect(plannedCover(net(6))).toBe(1.5);
		expect(spendOverHollow(net(6))).toBe(12);
	});
	test("j 1: the reserve is never under 0.5", () => {
		expect(spendOf(net(1))).toBe(0.5);
	});
	test("j 2 at an eye factor of 2 may cut in by 1", () => {
		expect(spendOf(net(2, { eyeFactor: 2 }))).toBe(3);
		expect(plannedCover(net(2, { eyeFactor: 2 }))).toBe(-1);
	});
	test("a join of no more than the reserve is refused", () => {
		expect(() => spendOf(net(0.5, { round: 2 }))).toThrow(Refusal);
		try {
			spendOf(net(0.5, { round: 2 }));
		} catch (error) {
			expect((error as Refusal).issue).toEqual({
				code: "pointing.joinTooSmall",
				facts: { round: 3, join: 0.5, least: 0.5 },
			});
		}
	});
});

describe("the rule on spheres: h = √(6 f (j − reserve) / (k (1 + j k)))", () => {
	test.each([
		[20, 6, 1],
		[50, 3.5, 1],
		[50, 2, 2],
		[100, 6, 1],
	])("R %s, j %s, f %s", (radius, j, f) => {
		const { spacing, clamped, foreseen } = sized(
			sphere(radius, { edge: Math.max(1, radius / 40) }).mesh,
			net(j, { eyeFactor: f }),
		);
		const rule = Math.sqrt((6 * f * (j - Math.max(0.5, j / 4))) / ((1 / radius) * (1 + j / radius)));
		for (const h of spacing) expect(Math.abs(h / rule - 1)).toBeLessThan(0.03);
		expect(clamped.every((c) => c === 0)).toBe(true);
		// ∫ 2 / (√3 h²) dA over the sphere.
		expect(foreseen / ((2 / Math.sqrt(3) / rule ** 2) * 4 * Math.PI * radius ** 2)).toBeCloseTo(1, 1);
	});

	test("seen from inside, hollow: h = √(6 · 2j / |k2|), without the factor", () => {
		const { mesh } = sphere(40, { edge: 1.5 });
		const inside = { positions: mesh.positions, triangles: mesh.triangles.slice().reverse() };
		for (const f of [1, 2]) {
			const { spacing } = sized(inside, net(2, { eyeFactor: f }));
			for (const h of spacing) expect(Math.abs(h / Math.sqrt(6 * 4 * 40) - 1)).toBeLessThan(0.03);
		}
	});
});

describe("clamps", () => {
	test("flat ground: 60 mm up to half a metre of height, 120 above (common practice, no source)", () => {
		expect([mostSpacing(400), mostSpacing(500), mostSpacing(501)]).toEqual([60, 60, 120]);
		const { spacing, clamped } = sized(flat(150, { edge: 3 }).mesh, net(6));
		for (const h of spacing) expect(h).toBe(60);
		expect(clamped.includes(1)).toBe(false);
	});
	test("a sharp edge: 10 mm, two drill diameters when that is more, and marked", () => {
		const { mesh } = roof(60, 80, { edge: 1.5, shake: 0 });
		for (const [drill, least] of [
			[4, 10],
			[8, 16],
		]) {
			const { spacing, clamped, gap } = sized(mesh, net(2, { drill }));
			expect(Math.min(...spacing)).toBe(least);
			// As close as the clamp allows where it has won, half of that where it has not.
			expect(Math.min(...gap)).toBe(clamped.includes(0) ? least / 2 : least);
			for (const [c, won] of clamped.entries()) if (won) expect(gap[c]).toBe(least);
			expect(clamped.includes(1)).toBe(true);
		}
	});
	test("5 mm where it is brushed for detail; wider where it is brushed wider, and marked by eye", () => {
		const { mesh } = roof(60, 80, { edge: 1.5, shake: 0 });
		const n = mesh.positions.length / 3;
		const fine = sized(mesh, net(2, { drill: 2 }), new Float32Array(n).fill(0.5));
		expect(Math.min(...fine.spacing)).toBe(5);
		const plain = sized(cylinder(30, 60, { edge: 1.5 }).mesh, net(6));
		const wide = sized(
			cylinder(30, 60, { edge: 1.5 }).mesh,
			net(6),
			new Float32Array(plain.coarse.patch.length).fill(1.5),
		);
		for (const [c, h] of wide.spacing.entries()) expect(h / plain.spacing[c]).toBeCloseTo(1.5, 4);
		expect(wide.clamped.every((c) => c === 1)).toBe(true);
	});
});

test("neighbouring spacings differ by no more than 30 % of their distance", () => {
	const { spacing, coarse } = sized(roof(60, 160, { edge: 2, shake: 0 }).mesh, net(3.5));
	const { neighbourStart, neighbourList } = coarse.surface.adjacency;
	const p = coarse.surface.mesh.positions;
	let steepest = 0;
	for (let c = 0; c < spacing.length; c++) {
		for (let i = neighbourStart[c]; i < neighbourStart[c + 1]; i++) {
			const d = Math.hypot(...[0, 1, 2].map((k) => p[3 * neighbourList[i] + k] - p[3 * c + k]));
			const rise = spacing[neighbourList[i]] - spacing[c];
			expect(rise).toBeLessThanOrEqual(0.3 * d + 1e-3);
			steepest = Math.max(steepest, rise / d);
		}
	}
	// The limit is reached, so it is the grading that holds the field down.
	expect(steepest).toBeGreaterThan(0.25);
	expect(Math.max(...spacing)).toBeGreaterThan(25);
});

test("a ripple too short for any facet asks for no points; one as long as the facets does", () => {
	const rippled = (wavelength: number, height: number): TriangleMesh => {
		const { mesh } = flat(120, { edge: 1.2 });
		const positions = mesh.positions.slice();
		for (let v = 0; v < positions.length; v += 3)
			positions[v + 2] = (height / 2) * Math.sin((2 * Math.PI * positions[v]) / wavelength);
		return { positions, triangles: mesh.triangles };
	};
	// Greatest curvature of both: height / 2 · (2π / wavelength)² = 0.05 / mm.
	const short = sized(rippled(9, 0.2), net(3.5));
	const long = sized(rippled(60, 0.1 * (60 / (2 * Math.PI)) ** 2), net(3.5));
	const middle = (list: Float32Array): number => [...list].sort((a, b) => a - b)[list.length >> 1];
	expect(middle(short.spacing)).toBeGreaterThan(40);
	expect(middle(long.spacing)).toBeLessThan(24);
});

test("the field's own width is what both averagings come to", () => {
	expect(FIELD_WIDTH).toBeCloseTo(Math.SQRT2 / 3, 12);
});
