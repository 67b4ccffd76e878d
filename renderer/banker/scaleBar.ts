/** A scale bar of a round length that is as long as it can be in the room given. */

import { type LengthUnit, MM_PER, unitWord } from "../../core/text/format.ts";

export interface ScaleBar {
	readonly pixels: number;
	readonly words: string;
}

/** `mmPerPixel` of the view, `room` in pixels. */
export function scaleBar(mmPerPixel: number, room: number, unit: LengthUnit): ScaleBar {
	const most = (mmPerPixel * room) / MM_PER[unit];
	const ten = 10 ** Math.floor(Math.log10(most));
	const size = [5, 2, 1].map((m) => m * ten).find((s) => s <= most * (1 + 1e-9)) ?? ten;
	const digits = Math.max(0, -Math.floor(Math.log10(size)));
	return { pixels: (size * MM_PER[unit]) / mmPerPixel, words: `${size.toFixed(digits)} ${unitWord(unit)}` };
}
