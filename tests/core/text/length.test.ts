import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../core/random.ts";
import { roundHalf } from "../../../core/text/format.ts";
import {
	depthNumber,
	depthShown,
	finely,
	LENGTH_UNITS,
	type LengthUnit,
	lengthNumber,
	lengthText,
	MM_PER,
	orderNumber,
	parseLength,
	parseSides,
	SIXTEENTH_MM,
	sentenceIn,
	sizeNumber,
} from "../../../core/text/length.ts";
import { stopReading } from "../../../core/text/stopWords.ts";

/** With ordinary spaces, as it is typed. */
const plain = (text: string): string => text.replace(/\u00a0/g, " ");
/** What stands there, mm; never null. */
const read = (text: string, unit: LengthUnit): number => parseLength(text, unit) ?? Number.NaN;

describe("lengths for people", () => {
	it("says the unit always", () => {
		expect(lengthText(76.2)).toBe("76.2 mm");
		expect(lengthText(76.2, "in")).toBe("3.00 in");
		expect(lengthText(76.2, "in16")).toBe("3 in");
		expect(lengthText(-0.01)).toBe("0.0 mm");
		expect(lengthText(-0.01, "in16")).toBe("0 in");
	});

	// Counted by hand from 25.4 mm to the inch, which is exact by the international yard of 1959 (from memory).
	it.each([
		[0, "0"],
		[SIXTEENTH_MM, "1/16"],
		[2 * SIXTEENTH_MM, "1/8"],
		[8 * SIXTEENTH_MM, "1/2"],
		[53 * SIXTEENTH_MM, "3 5/16"],
		[84.1, "3 5/16"],
		[-84.1, "-3 5/16"],
		[-SIXTEENTH_MM, "-1/16"],
		[25.39, "1"],
		[24.61, "1"],
		[24.6, "15/16"],
		[-24.61, "-1"],
		[304.8, "12"],
		[0.7, "0.03"],
		[-0.7, "-0.03"],
		[0.1, "0"],
		[0.8, "1/16"],
	])("%d mm in sixteenths is %j", (mm, words) => {
		expect(plain(lengthNumber(mm, "in16"))).toBe(words);
	});

	it("keeps whole and fraction on one line", () => {
		expect(lengthNumber(53 * SIXTEENTH_MM, "in16")).toBe("3\u00a05/16");
	});

	it("tells finer lengths than a sixteenth in decimals", () => {
		expect(lengthText(0.2, "in16", 2)).toBe("0.008 in");
		expect(lengthText(2, finely("in16"))).toBe("0.08 in");
		expect(finely("mm")).toBe("mm");
	});

	it("never calls a drill by another drill's size", () => {
		expect(sizeNumber(6, "in16")).toBe("0.24");
		expect(sizeNumber(4, "in16")).toBe("0.16");
		expect(sizeNumber(6.35, "in16")).toBe("1/4");
		expect(sizeNumber(0, "in16")).toBe("0");
	});

	it("orders no stone that is short, seed 5", () => {
		const random = seededRandom(5);
		for (let i = 0; i < 500; i++)
			for (const unit of LENGTH_UNITS) {
				const mm = 50 + 2000 * random.next();
				const ordered = read(orderNumber(mm, unit), unit);
				expect(ordered).toBeGreaterThanOrEqual(mm - 1e-4);
				expect(ordered - mm).toBeLessThan(2.55);
			}
	});

	it("turns the lengths of a sentence", () => {
		expect(sentenceIn("in", "50 to 80 mm is usual")).toBe("1.97 to 3.15 in is usual");
		expect(sentenceIn("in16", "a boss of 25.4 mm, 6 mm off")).toBe("a boss of 1 in, 0.24 in off");
		expect(sentenceIn("in16", "at points 12 and 14, 5 mm apart")).toBe("at points 12 and 14, 0.20 in apart");
		expect(sentenceIn("mm", "5 mm")).toBe("5 mm");
	});
});

describe("depths", () => {
	it("are rounded short, never long, seed 2", () => {
		expect(depthNumber(47.99)).toBe("47.5");
		expect(depthNumber(48)).toBe("48.0");
		expect(plain(depthNumber(84.13, "in16"))).toBe("3 1/4");
		expect(plain(depthNumber(53 * SIXTEENTH_MM, "in16"))).toBe("3 5/16");
		expect(depthNumber(1.5, "in16")).toBe("0");
		const random = seededRandom(2);
		const most: Readonly<Record<LengthUnit, number>> = { mm: 0.5, in: 0.508, in16: SIXTEENTH_MM };
		for (let i = 0; i < 1000; i++) {
			const depth = random.next() * 500;
			expect(Math.abs(roundHalf(depth) - depth)).toBeLessThanOrEqual(0.25);
			for (const unit of LENGTH_UNITS) {
				const printed = read(depthNumber(depth, unit), unit);
				expect(printed).toBeCloseTo(depthShown(depth, unit), 9);
				expect(printed).toBeLessThanOrEqual(depth + 1e-6);
				expect(depth - printed).toBeLessThan(most[unit] + 1e-6);
			}
		}
	});

	it("by a drill's stop are no deeper in sixteenths than by its tip, seed 3", () => {
		const random = seededRandom(3);
		for (let i = 0; i < 500; i++) {
			const depth = 20 + 200 * random.next();
			const zero = -10 + 20 * random.next();
			expect(read(stopReading(depth, zero, "in16"), "in16") - zero).toBeLessThanOrEqual(depth + 1e-6);
		}
	});
});

describe("typed lengths", () => {
	it.each([
		["76.2", 76.2],
		["76,2", 76.2],
		["3 in", 76.2],
		["3 1/2 in", 88.9],
		["3-1/2 in", 88.9],
		["3 - 1/2 in", 88.9],
		["3½ in", 88.9],
		["3 ⅝ in", 92.075],
		["3 5⁄16 in", 84.1375],
		["3\u00a05/16 in", 84.1375],
		["3\u202f5/16″", 84.1375],
		['5/16"', 7.9375],
		["-3-5/16 in", -84.1375],
		["−4", -4],
		['3/8"', 9.525],
		["4.5 cm", 45],
		["1,2 m", 1200],
		["2 ft", 609.6],
		[" .5 ", 0.5],
		["-4", -4],
	])("reads %j", (text, mm) => {
		expect(parseLength(text)).toBeCloseTo(mm, 9);
	});

	it.each(["", "-", "abc", "3 1/0 in", "1.2.3", "3 stone", "1e3", "3.5 1/2 in", "3 5 in", "1/2/3", "3--1/2"])(
		"refuses %j",
		(text) => {
			expect(parseLength(text)).toBeNull();
		},
	);

	it.each([
		["3 5/16", 84.1375],
		["3-5/16 in", 84.1375],
		['5/16"', 7.9375],
		["3 5/16″", 84.1375],
		["7.5", 190.5],
		["7,5", 190.5],
		["7.5 mm", 7.5],
	])("takes %j, bare in the carver's inches", (text, mm) => {
		for (const unit of ["in", "in16"] as const) expect(parseLength(text, unit)).toBeCloseTo(mm, 9);
	});

	it("of three sides: a unit behind the last alone is meant for all", () => {
		expect(parseSides("240x220x460")).toEqual([240, 220, 460]);
		expect(parseSides("24 × 22,5 x 46 cm")).toEqual([240, 225, 460]);
		const inches = [419.1, 304.8, 254].map((mm) => expect.closeTo(mm, 9));
		expect(parseSides("16 1/2 x 12 x 10", "in16")).toEqual(inches);
		expect(parseSides('16-1/2 x 12 x 10"')).toEqual(inches);
		expect(parseSides("40 cm x 300 x 200 mm")).toEqual([400, 300, 200]);
		for (const text of ["", "1x2", "1x2x3x4", "1x2xstone", "1x0x3", "1x-2x3"]) expect(parseSides(text)).toBeNull();
	});

	it("come back as they were shown, within the rounding, and shown again they are the same, seed 4", () => {
		const random = seededRandom(4);
		const within: Readonly<Record<LengthUnit, number>> = { mm: 0.05, in: 0.127, in16: SIXTEENTH_MM / 2 };
		for (let i = 0; i < 2000; i++) {
			const mm = (random.next() - 0.2) * 10 ** (4 * random.next());
			for (const unit of LENGTH_UNITS) {
				for (const write of [lengthNumber, sizeNumber]) {
					const shown = write(mm, unit);
					const back = read(shown, unit);
					expect(Math.abs(back - mm)).toBeLessThanOrEqual(within[unit] + 1e-9);
					expect(write(back, unit)).toBe(shown);
				}
				if (mm < 0) continue;
				const depth = depthNumber(mm, unit);
				expect(read(depth, unit)).toBeLessThanOrEqual(mm + 1e-6);
				expect(depthNumber(read(depth, unit), unit)).toBe(depth);
			}
			expect(read(String(mm), "in16")).toBeCloseTo(mm * MM_PER.in16, 6);
		}
	});
});
