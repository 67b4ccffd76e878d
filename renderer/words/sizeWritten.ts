/** How a size is written, in the carver's unit, where one is asked for. */

import type { LengthUnit } from "../../core/text/length.ts";

export const SIZE_WRITTEN: Readonly<Record<LengthUnit, string>> = {
	mm: "400 x 300 x 250",
	in: "16 x 12 x 9.5",
	in16: "16 x 12 x 9 1/2",
};
