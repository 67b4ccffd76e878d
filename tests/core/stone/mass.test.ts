import { describe, expect, test } from "vitest";
import { Refusal } from "../../../core/refusal.ts";
import { dryMass, weighingOf, wetMass } from "../../../core/stone/mass.ts";
import { STONE_KINDS, stoneKind } from "../../../core/stone/stoneKinds.ts";
import { hullOf, prism, regularPolygon } from "./shapes.ts";

describe("mass of a known volume", () => {
	test("a cubic metre of marble is 2600 to 2800 kg", () => {
		expect(dryMass(1e9, weighingOf("marble"))).toEqual([2600, 2800]);
	});

	test("a hexagonal prism in closed form, at the carver's own density", () => {
		const volume = ((3 * Math.sqrt(3)) / 2) * 100 ** 2 * 400;
		const [low, high] = dryMass(hullOf(prism(regularPolygon(6, 100), 400)).volume, weighingOf("marble", [2700, 2710]));
		expect(low).toBeCloseTo((volume * 2700) / 1e9, 9);
		expect(high).toBeCloseTo((volume * 2710) / 1e9, 9);
	});

	test("wet, the high end carries the greatest absorption and the low end none", () => {
		// ASTM C568 class III takes up 3 % at most.
		expect(wetMass(1e9, weighingOf("hard limestone"))).toEqual([2100, 2760 * 1.03]);
		expect(wetMass(1e9, weighingOf("soapstone"))).toBeNull();
		expect(wetMass(1e9, weighingOf("marble", [2700, 2700]))).toEqual([2700, 2700 * 1.002]);
	});

	test("Indiana limestone, 144 lb/ft³, lies within hard limestone", () => {
		// Masonry Magazine, June 1963; 16.01846 kg/m³ to the lb/ft³.
		const density = 144 * 16.01846;
		const [low, high] = stoneKind("hard limestone")!.density;
		expect(density).toBeGreaterThan(low);
		expect(density).toBeLessThan(high);
	});

	test("every kind is listed once, with a range that stone can have", () => {
		expect(new Set(STONE_KINDS.map((k) => k.name)).size).toBe(STONE_KINDS.length);
		for (const { density, absorption } of STONE_KINDS) {
			expect(density[0]).toBeGreaterThanOrEqual(1200);
			expect(density[1]).toBeGreaterThanOrEqual(density[0]);
			expect(density[1]).toBeLessThanOrEqual(3000);
			if (absorption !== null) expect(absorption).toBeLessThanOrEqual(0.12);
		}
	});
});

test("kinds without a density and densities that no stone has are refused", () => {
	expect(() => weighingOf("moonstone")).toThrow(Refusal);
	expect(weighingOf("moonstone", [3300, 3400]).absorption).toBeNull();
	for (const own of [
		[0, 2000],
		[2700, 2600],
		[2600, 26000],
		[Number.NaN, 2600],
	] as [number, number][]) {
		expect(() => weighingOf("marble", own)).toThrow(Refusal);
	}
});
