import { describe, expect, it } from "vitest";
import { cosDegrees, sinCosDegrees, tanDegrees } from "../../../core/exactAngle.ts";
import { degreesFromCosine, degreesFromTangent } from "../../../core/text/angle.ts";
import { massRangeText, massText } from "../../../core/text/format.ts";

describe("masses for people", () => {
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
