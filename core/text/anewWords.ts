/** What placing the figure anew comes to, in a carver's words. */

import { isUnder, underText } from "../bench/left.ts";
import type { Breach, PlacedAnew } from "../bench/placeAnew.ts";
import type { LeftPlane } from "../bench/remains.ts";
import { finely, type LengthUnit, lengthText, shareText } from "./format.ts";

/** The answer in a sentence. */
export function anewText({ answer, carried, spare, scale, breaches }: PlacedAnew, unit: LengthUnit): string {
	switch (answer) {
		case "stays":
			return `It may stay where it is: ${lengthText(spare, finely(unit))} more than the allowances are left.`;
		case "moves":
			return `It finds room: carried by ${lengthText(carried, finely(unit))} at most, every target keeps its allowance.`;
		case "moves and is reduced":
			return `It finds room at ${shareText(scale, 1)} of its size, carried by ${lengthText(carried, finely(unit))} at most.`;
		case "breach":
			return `It finds no room: at best ${lengthText(-spare, finely(unit))} of stone is lacking, in ${breaches.length} ${breaches.length === 1 ? "place" : "places"}.`;
	}
}

/**
 * A hole that is too deep, as it was read along its line, and what that leaves lacking square to the face under the allowance:
 * two lengths, so both are named. `read`: the reading to the finished face where the figure lay, or null.
 */
export function tooDeepText(number: number, by: number, read: number | null, unit: LengthUnit): string {
	const lacking = `${lengthText(by, finely(unit))} of its allowance lacking, square to the face`;
	const told = read !== null && isUnder(read) ? ` (it reads ${underText(read, unit)} under the finished face)` : "";
	return `point ${number}: ${lacking}${told}`;
}

/** Where stone is lacking. */
export function breachText(
	{ kind, index, plane, by }: Breach,
	numbers: readonly number[],
	planes: readonly LeftPlane[],
	unit: LengthUnit,
): string {
	const lacking = lengthText(by, finely(unit));
	if (kind === "body") return `The figure stands ${lacking} out of ${planes[plane].name}.`;
	return kind === "cover"
		? `Point ${numbers[index]}: ${lacking} lacking under its hole or the worked ground.`
		: `Point ${numbers[index]}: ${lacking} lacking under ${planes[plane].name}.`;
}
