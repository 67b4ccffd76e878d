/** Words for fixing: the rows of its card, and how a mass is lifted. */

import type { FixingAnswer } from "../../core/finish/fixing.ts";
import type { LiftWay } from "../../core/finish/lifting.ts";
import { angleText, type LengthUnit, lengthText, massRangeText, sizeText } from "../../core/text/format.ts";

export const LIFT_WORDS: Readonly<Record<LiftWay, string>> = {
	"one person":
		"Under the filters of 16 and 25 kg (women, men; HSE guideline) for an easy lift close to the body. A filter is no limit.",
	"some people":
		"Between the filters of 16 and 25 kg (women, men; HSE guideline): not for everybody, and only close to the body.",
	"more than one": "Over the filter of 25 kg (HSE guideline): two who have agreed how, a barrow, or tackle.",
	tackle: "Over 50 kg: tackle that is rated for it, never hands (common practice).",
};

type Row = readonly [string, string, ("bad" | undefined)?];

export function fixingRows(f: FixingAnswer, unit: LengthUnit): Row[] {
	const rows: Row[] = [
		["weight acts over the foot at", lengthText(f.centre[2], unit)],
		["right of its middle", lengthText(f.centre[0], unit)],
		["behind its middle", lengthText(f.centre[1], unit)],
	];
	if (f.wet) rows.push(["wet, up to", massRangeText(f.wet[1], f.wet[1])]);
	if (f.figure) rows.push(["tips by itself at", angleText(f.figure.angle)]);
	if (f.whole) {
		rows.push(["with its base", massRangeText(...f.whole.mass)], ["tips with its base at", angleText(f.whole.angle)]);
	}
	if (f.topPush !== null) rows.push(["a push at the very top that tips it", `${Math.round(f.topPush)} N`]);
	if (f.figure) rows.push(["to lift one edge", massRangeText(f.mass[0] / 2, f.mass[1] / 2)]);
	rows.push([
		"one person lifting it so, at most",
		massRangeText(f.recommended, f.recommended),
		f.mass[1] > f.recommended ? "bad" : undefined,
	]);
	const { pin } = f;
	if (!pin) return rows;
	rows.push(
		["bar", sizeText(pin.setting.bar_mm, unit)],
		["hole", `${sizeText(pin.setting.hole_mm, unit)}, ${lengthText(pin.setting.depth, unit)} deep`],
		[
			"stone round it, at least",
			pin.cover === null ? "none" : lengthText(pin.cover, unit),
			pin.holds ? undefined : "bad",
		],
	);
	if (f.baseDepth !== null) rows.push(["into the base", lengthText(f.baseDepth, unit)]);
	if (f.barLength !== null) rows.push(["bar in all", lengthText(f.barLength, unit)]);
	if (f.resin !== null) rows.push(["resin with waste", `${Math.ceil(f.resin / 1000)} ml`]);
	return rows;
}
