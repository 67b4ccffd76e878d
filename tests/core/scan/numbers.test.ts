import { describe, expect, it } from "vitest";
import { type Random, seededRandom } from "../../../core/random.ts";
import { NumberReader } from "../../../core/scan/numbers.ts";
import { share } from "../../support/prove.ts";
import { bytesOf } from "./scanWriters.ts";

const reader = new NumberReader();
const read = (text: string): number => {
	const bytes = bytesOf(`${text} 77`);
	const value = reader.read(bytes, 0, bytes.length);
	expect(reader.end, text).toBe(text.length);
	return value;
};

const digits = (random: Random, most: number): string =>
	Array.from({ length: 1 + random.below(most) }, () => random.below(10)).join("");

/** Texts that a program may write for a number, of every length and exponent, some on the border of what rounds exactly. */
function numberText(random: Random): string {
	const sign = ["", "-", "+"][random.below(3)];
	const exponent = (range: number): string =>
		`${"eE"[random.below(2)]}${["", "+", "-"][random.below(3)]}${random.below(3) === 0 ? "0" : ""}${random.below(range)}`;
	switch (random.below(8)) {
		case 0:
			return sign + digits(random, 17);
		case 1:
			return `${sign}${digits(random, 9)}.${digits(random, 12)}`;
		case 2:
			return `${sign}${digits(random, 1)}.${digits(random, 9)}${exponent(30)}`;
		case 3:
			return `${sign}.${digits(random, 20)}${random.below(2) === 0 ? exponent(20) : ""}`;
		case 4:
			return `${sign}${digits(random, 25)}.`;
		case 5:
			return `${sign}${digits(random, 5)}${exponent(400)}`;
		case 6: {
			// A double's own shortest text, and that of one beside a power of ten.
			const view = new DataView(new ArrayBuffer(8));
			view.setUint32(0, random.below(2 ** 32));
			view.setUint32(4, random.below(2 ** 32));
			const x = view.getFloat64(0);
			return Number.isFinite(x) ? String(x) : "1e22";
		}
		default:
			// Around 2^53, where the mantissa stops being exact.
			return `${sign}${9007199254740980 + random.below(30)}${["", "0", ".5", "e3", "e-22"][random.below(5)]}`;
	}
}

describe("NumberReader", () => {
	it("gives the double that Number gives, for hand-picked texts", () => {
		const texts = [
			"0",
			"-0",
			"1",
			"+1.",
			".5",
			"-.5e1",
			"123456789012345678901234567890",
			"1e22",
			"1e23",
			"9007199254740992",
		];
		texts.push(
			"9007199254740993",
			"0.1",
			"1e-22",
			"1e-23",
			"4.9e-324",
			"1.7976931348623157e308",
			"2.2250738585072011e-308",
			"00012",
		);
		for (const text of texts) expect(Object.is(read(text), Number(text)), text).toBe(true);
	});

	it(`gives the double that Number gives, for ${share(400_000)} seeded texts`, () => {
		const random = seededRandom(20);
		for (let i = 0; i < share(400_000); i++) {
			const text = numberText(random);
			const wanted = Number(text);
			const found = read(text);
			if (Number.isFinite(wanted) ? !Object.is(found, wanted) : Number.isFinite(found))
				expect.fail(`text ${i} ${text}: found ${found}, Number gives ${wanted}`);
		}
	});

	it("gives NaN for what is no decimal number", () => {
		for (const text of [
			"x",
			"1x",
			"--1",
			"1e",
			"1e+",
			"0x10",
			"nan",
			"-nan(ind)",
			"inf",
			"Infinity",
			".",
			"-",
			"1.2.3",
			"1,2,3",
			"1_000",
		])
			expect(read(text), text).toBeNaN();
	});

	it("reads a decimal comma and a Fortran exponent, and counts them", () => {
		const before = reader.commas;
		expect(read("-1,25")).toBe(-1.25);
		expect(read("1.5D+02")).toBe(150);
		expect(read("1.5E+02")).toBe(150);
		expect(reader.commas).toBe(before + 2);
	});

	it("stops at the limit, in the middle of digits if need be", () => {
		expect(reader.read(bytesOf("12345"), 1, 3)).toBe(23);
		expect(reader.read(bytesOf("1.5e3"), 0, 3)).toBe(1.5);
	});
});
