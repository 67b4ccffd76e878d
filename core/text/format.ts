/** Numbers for people: rounded to what the bench can use, always with their unit. */

export type LengthUnit = "mm" | "in";
const MM_PER_INCH = 25.4;
const THIN_SPACE = " ";

const fixed = (value: number, digits: number): string => {
	const text = value.toFixed(digits);
	return Number(text) === 0 ? (0).toFixed(digits) : text;
};

/** A length in the carver's unit, without the unit: 0.1 mm or 0.01 in unless `digits` (of mm) says otherwise. */
export function lengthNumber(mm: number, unit: LengthUnit = "mm", digits = 1): string {
	return unit === "mm" ? fixed(mm, digits) : fixed(mm / MM_PER_INCH, digits + 1);
}

/** A length with its unit. */
export function lengthText(mm: number, unit: LengthUnit = "mm", digits = 1): string {
	return `${lengthNumber(mm, unit, digits)}${THIN_SPACE}${unit}`;
}

/** A sentence of the plan, whose lengths are in mm, with them in the carver's unit. */
export const sentenceIn = (unit: LengthUnit, words: string): string =>
	unit === "mm"
		? words
		: words.replace(/(\d+(?:\.\d+)?)[ \u2009\u202f]mm\b/g, (_, mm: string) => lengthText(Number(mm), unit));

/** Drill depth for the bench: to 0.5 mm, rounded short, so that rounding leaves stone. */
export const roundShort = (mm: number): number => Math.floor(mm * 2 + 1e-9) / 2;

/** To the nearest half, for u, v and leans. */
export const roundHalf = (value: number): number => Math.round(value * 2) / 2;

/** Drill depth with one digit, rounded short; in inches to 1/50 in (0.02), also short. */
export function depthNumber(mm: number, unit: LengthUnit = "mm"): string {
	return unit === "mm" ? fixed(roundShort(mm), 1) : fixed(Math.floor((mm / MM_PER_INCH) * 50 + 1e-9) / 50, 2);
}

export const angleText = (degrees: number, digits = 1): string => `${fixed(degrees, digits)}°`;

/** A mass to 0.5 kg (0.1 below 10 kg). */
export function massText(kg: number): string {
	return `${fixed(kg < 10 ? Math.round(kg * 10) / 10 : Math.round(kg * 2) / 2, 1)}${THIN_SPACE}kg`;
}

/** A mass range; one figure where both ends read the same. */
export function massRangeText(low: number, high: number): string {
	const [a, b] = [massText(low), massText(high)];
	return a === b ? a : `${a.slice(0, -THIN_SPACE.length - 2)} to ${b}`;
}

export const shareText = (share: number, digits = 0): string => `${fixed(share * 100, digits)}${THIN_SPACE}%`;

/**
 * A length typed by the carver, in mm, or null when it is none: "76.2", "76,2", "3 in", "3 1/2 in", "3/8\"", "4.5 cm", "1.2 m", "2 ft".
 * Without a unit it is in `unit`.
 */
export function parseLength(text: string, unit: LengthUnit = "mm"): number | null {
	const match = /^\s*(-?)(?:(\d+(?:[.,]\d+)?|[.,]\d+)?(?:\s*(\d+)\s*\/\s*(\d+))?)\s*(mm|cm|m|in|ft|"|″|'|′)?\s*$/i.exec(
		text,
	);
	if (!match || (match[2] === undefined && match[3] === undefined)) return null;
	const whole = match[2] === undefined ? 0 : Number(match[2].replace(",", "."));
	if (match[3] !== undefined && Number(match[4]) === 0) return null;
	const part = match[3] === undefined ? 0 : Number(match[3]) / Number(match[4]);
	const factor = {
		mm: 1,
		cm: 10,
		m: 1000,
		in: MM_PER_INCH,
		'"': MM_PER_INCH,
		"″": MM_PER_INCH,
		ft: 304.8,
		"'": 304.8,
		"′": 304.8,
	}[(match[5] ?? unit).toLowerCase()] as number;
	return (match[1] === "-" ? -1 : 1) * (whole + part) * factor;
}
