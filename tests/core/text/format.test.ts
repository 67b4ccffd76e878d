import { describe, expect, it } from "vitest";
import { cosDegrees, sinCosDegrees, tanDegrees } from "../../../core/exactAngle.ts";
import { seededRandom } from "../../../core/random.ts";
import { degreesFromCosine, degreesFromTangent } from "../../../core/text/angle.ts";
import {
	depthNumber,
	lengthText,
	massRangeText,
	massText,
	parseLength,
	roundHalf,
	roundShort,
} from "../../../core/text/format.ts";

describe("lengths for people", () => {
	it("says the unit always", () => {
		expect(lengthText(76.2)).toBe("76.2 mm");
		expect(lengthText(76.2, "in")).toBe("3.00 in");
		expect(lengthText(-0.01)).toBe("0.0 mm");
	});

	it("rounds a depth short, never long, seed 2", () => {
		expect(depthNumber(47.99)).toBe("47.5");
		expect(depthNumber(48)).toBe("48.0");
		const random = seededRandom(2);
		for (let i = 0; i < 1000; i++) {
			const depth = random.next() * 500;
			expect(roundShort(depth)).toBeLessThanOrEqual(depth + 1e-9);
			expect(depth - roundShort(depth)).toBeLessThan(0.5);
			expect(Number(depthNumber(depth, "in")) * 25.4).toBeLessThanOrEqual(depth + 1e-6);
			expect(Math.abs(roundHalf(depth) - depth)).toBeLessThanOrEqual(0.25);
		}
	});

	it.each([
		["76.2", 76.2],
		["76,2", 76.2],
		["3 in", 76.2],
		["3 1/2 in", 88.9],
		['3/8"', 9.525],
		["4.5 cm", 45],
		["1,2 m", 1200],
		["2 ft", 609.6],
		[" .5 ", 0.5],
		["-4", -4],
	])("reads %j", (text, mm) => {
		expect(parseLength(text)).toBeCloseTo(mm, 9);
	});

	it.each(["", "-", "abc", "3 1/0 in", "1.2.3", "3 stone", "1e3"])("refuses %j", (text) => {
		expect(parseLength(text)).toBeNull();
	});

	it("takes a bare number in the carver's unit", () => {
		expect(parseLength("3", "in")).toBeCloseTo(76.2, 9);
	});

	it("gives masses to what a scale reads", () => {
		expect(massText(42.26)).toBe("42.5 kg");
		expect(massText(4.26)).toBe("4.3 kg");
		expect(massRangeText(40, 44)).toBe("40.0 to 44.0 kg");
		expect(massRangeText(40, 40.1)).toBe("40.0 kg");
	});
});

describe("angles", () => {
	it("the exact series agree with the built-in functions to 4e-15", () => {
		for (let degrees = -720; degrees <= 720; degrees += 0.73) {
			const { sin, cos } = sinCosDegrees(degrees);
			expect(Math.abs(sin - Math.sin((degrees * Math.PI) / 180))).toBeLessThan(4e-15);
			expect(Math.abs(cos - Math.cos((degrees * Math.PI) / 180))).toBeLessThan(4e-15);
		}
		expect(tanDegrees(45)).toBeCloseTo(1, 14);
		expect(cosDegrees(60)).toBeCloseTo(0.5, 14);
	});

	it("are stored to 1e-4°, without a minus zero", () => {
		expect(degreesFromTangent(1)).toBe(45);
		expect(degreesFromTangent(-1e-12)).toBe(0);
		expect(Object.is(degreesFromTangent(-1e-12), 0)).toBe(true);
		expect(degreesFromCosine(1 + 1e-12)).toBe(0);
		expect(degreesFromCosine(0.5)).toBe(60);
	});
});
