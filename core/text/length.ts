/**
 * Lengths for people: mm, inches in decimals, or inches in sixteenths as a rule shows them; and lengths as they are typed.
 *
 * A sixteenth is 1.6 mm. Depths are rounded short to it, so that stone is left; lengths that must be set more finely than that
 * (seats, callipers, allowances, what a reading leaves) stay in decimals, by `finely`, and so does the size of a tool that is
 * no whole sixteenth, by `sizeNumber`.
 */

/** As the commission keeps it: "in16" are inches in sixteenths. */
export const LENGTH_UNITS = ["mm", "in", "in16"] as const;
export type LengthUnit = (typeof LENGTH_UNITS)[number];

const MM_PER_INCH = 25.4;
export const SIXTEENTH_MM = MM_PER_INCH / 16;
/** What a bare number in the unit stands for, mm. */
export const MM_PER: Readonly<Record<LengthUnit, number>> = { mm: 1, in: MM_PER_INCH, in16: MM_PER_INCH };

/** The unit's name behind a number. */
export const unitWord = (unit: LengthUnit): "mm" | "in" => (unit === "mm" ? "mm" : "in");

/** The unit in which a length is told that a sixteenth would spoil. */
export const finely = (unit: LengthUnit): LengthUnit => (unit === "in16" ? "in" : unit);

/** Whole and fraction are never parted by the end of a line. */
const NO_BREAK = "\u00a0";

/** With a fixed number of digits, without a minus before nothing. */
export const fixed = (value: number, digits: number): string => {
	const text = value.toFixed(digits);
	return Number(text) === 0 ? (0).toFixed(digits) : text;
};

const LOWEST = [16, 1, 2, 1, 4, 1, 2, 1, 8, 1, 2, 1, 4, 1, 2, 1];

/** A whole number of sixteenths: 0, "5/16", "3 1/2", "-1 1/16". */
function sixteenthsText(count: number): string {
	const left = Math.abs(count) % 16;
	const whole = (Math.abs(count) - left) / 16;
	const by = LOWEST[left];
	const part = left === 0 ? "" : `${left / by}/${16 / by}`;
	const words = part === "" ? String(whole) : whole === 0 ? part : `${whole}${NO_BREAK}${part}`;
	return count < 0 ? `-${words}` : words;
}

/** To the nearest sixteenth; what is less than half of one, and yet not nothing, in hundredths. */
function nearestSixteenth(mm: number): string {
	const count = Math.round(Math.abs(mm) / SIXTEENTH_MM) * (mm < 0 ? -1 : 1);
	if (count !== 0) return sixteenthsText(count);
	const small = fixed(mm / MM_PER_INCH, 2);
	return Number(small) === 0 ? "0" : small;
}

/**
 * A length in the carver's unit, without the unit: 0.1 mm, 0.01 in or the nearest sixteenth unless `digits` (of mm) says
 * otherwise; two digits are finer than a sixteenth and so in decimals.
 */
export function lengthNumber(mm: number, unit: LengthUnit = "mm", digits = 1): string {
	if (unit === "mm") return fixed(mm, digits);
	return unit === "in16" && digits < 2 ? nearestSixteenth(mm) : fixed(mm / MM_PER_INCH, digits + 1);
}

/** A length with its unit. */
export const lengthText = (mm: number, unit: LengthUnit = "mm", digits = 1): string =>
	`${lengthNumber(mm, unit, digits)} ${unitWord(unit)}`;

/**
 * A size that was given and not measured, as that of a drill: in sixteenths only where it is a whole number of them, as far as
 * two decimals of an inch tell.
 */
export function sizeNumber(mm: number, unit: LengthUnit, digits = 1): string {
	if (unit !== "in16") return lengthNumber(mm, unit, digits);
	const whole = Math.round(mm / SIXTEENTH_MM) * SIXTEENTH_MM;
	const fine = Math.max(digits, 1);
	if (lengthNumber(whole, "in", fine) !== lengthNumber(mm, "in", fine)) return lengthNumber(mm, "in", digits);
	return whole === 0 ? nearestSixteenth(mm) : lengthNumber(whole, unit, 1);
}

export const sizeText = (mm: number, unit: LengthUnit, digits = 1): string =>
	`${sizeNumber(mm, unit, digits)} ${unitWord(unit)}`;

/** A step of each unit at which stone is ordered. */
const ORDER_STEP: Readonly<Record<LengthUnit, number>> = { mm: 1, in: MM_PER_INCH / 10, in16: SIXTEENTH_MM };

/** A side of a block to be ordered, without the unit: rounded up, because a stone that is short is the wrong stone. */
export const orderNumber = (mm: number, unit: LengthUnit): string =>
	lengthNumber(Math.ceil(mm / ORDER_STEP[unit] - 1e-6) * ORDER_STEP[unit], unit, 0);

/** A sentence of the plan, whose lengths are in mm ("4 mm", "50 to 80 mm"), with them in the carver's unit. */
export const sentenceIn = (unit: LengthUnit, words: string): string =>
	unit === "mm"
		? words
		: words.replace(/((?:\d+(?:\.\d+)?(?: to | × ))*\d+(?:\.\d+)?)[ \u00a0\u2009\u202f]mm\b/g, (_, lengths: string) => {
				const told = lengths.replace(/\d+(?:\.\d+)?/g, (mm) => sizeNumber(Number(mm), unit));
				return `${told} ${unitWord(unit)}`;
			});

/** What a printed depth is a whole number of: 0.5 mm, 1/50 in, 1/16 in. */
const DEPTH_STEP: Readonly<Record<LengthUnit, number>> = { mm: 0.5, in: MM_PER_INCH / 50, in16: SIXTEENTH_MM };

/** Steps of that kind that a length holds in full. */
const stepsShort = (mm: number, unit: LengthUnit): number => Math.floor(mm / DEPTH_STEP[unit] + 1e-9);

/** A drill's depth as it is printed, mm: rounded short, so that rounding leaves stone. */
export const depthShown = (mm: number, unit: LengthUnit): number => stepsShort(mm, unit) * DEPTH_STEP[unit];

/** A length along a drill line, without the unit, rounded short as depths are: 0.5 mm, 0.02 in, 1/16 in. */
export const depthNumber = (mm: number, unit: LengthUnit = "mm"): string =>
	unit === "in16" ? sixteenthsText(stepsShort(mm, unit)) : lengthNumber(depthShown(mm, unit), unit);

/** What is left to drill after a reading: 0.1 mm or 0.01 in, rounded short. `unit` is never in sixteenths (`finely`). */
export function shortText(mm: number, unit: LengthUnit): string {
	const step = unit === "mm" ? 0.1 : MM_PER_INCH / 100;
	return lengthText(Math.floor(mm / step + 1e-9) * step, unit);
}

const VULGAR: Readonly<Record<string, string>> = {
	"½": "1/2",
	"¼": "1/4",
	"¾": "3/4",
	"⅛": "1/8",
	"⅜": "3/8",
	"⅝": "5/8",
	"⅞": "7/8",
};

const FACTORS: Readonly<Record<string, number>> = {
	mm: 1,
	cm: 10,
	m: 1000,
	in: MM_PER_INCH,
	'"': MM_PER_INCH,
	"″": MM_PER_INCH,
	"”": MM_PER_INCH,
	ft: 304.8,
	"'": 304.8,
	"′": 304.8,
	"’": 304.8,
};

const TYPED =
	/^\s*([-−]?)\s*(?:(\d+(?:[.,]\d*)?|[.,]\d+)|(?:(\d+)(?:\s+|\s*-\s*))?(\d+)\s*\/\s*(\d+))\s*(mm|cm|m|in|ft|["″”'′’])?\s*$/i;

/**
 * A length typed by the carver, in mm, or null when it is none: "76.2", "76,2", "3 in", "3 5/16", "3-5/16 in", "3⅜", "3/8\"",
 * "4.5 cm", "1.2 m", "2 ft". Without a unit it is in `unit`.
 */
export function parseLength(text: string, unit: LengthUnit = "mm"): number | null {
	const plain = text.replace(/[½¼¾⅛⅜⅝⅞]/g, (sign) => ` ${VULGAR[sign]}`).replace(/⁄/g, "/");
	const match = TYPED.exec(plain);
	if (!match) return null;
	const [, minus, number, whole, over, under, own] = match;
	if (under !== undefined && Number(under) === 0) return null;
	const amount =
		number === undefined ? Number(whole ?? 0) + Number(over) / Number(under) : Number(number.replace(",", "."));
	return (minus === "" ? 1 : -1) * amount * (own === undefined ? MM_PER[unit] : FACTORS[own.toLowerCase()]);
}

/**
 * Three sides with × or x between them, mm, or null where they are none or not over 0: "240x220x460", "16 1/2 x 12 x 10 in". A
 * unit behind the last side alone is meant for all three, as a yard writes it.
 */
export function parseSides(text: string, unit: LengthUnit = "mm"): readonly [number, number, number] | null {
	const written = text.split(/[x×]/i);
	const last = /(?:[a-z]+|["″”'′’])\s*$/i.exec(written[written.length - 1])?.[0] ?? "";
	const hasOwn = written.slice(0, -1).some((side) => /[a-z"″”'′’]/i.test(side));
	const sides = written.map((side, i) =>
		parseLength(hasOwn || i === written.length - 1 ? side : `${side}${last}`, unit),
	);
	const [x = null, y = null, z = null] = sides;
	if (sides.length !== 3 || x === null || y === null || z === null) return null;
	return x > 0 && y > 0 && z > 0 ? [x, y, z] : null;
}
