/** Numbers for people: rounded to what the bench can use, always with their unit. Lengths stand in `length.ts`. */

import { fixed } from "./length.ts";

export * from "./length.ts";

const THIN_SPACE = " ";

/** To the nearest half, for u, v and leans. */
export const roundHalf = (value: number): number => Math.round(value * 2) / 2;

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
