/** What the sheets are drawn from, out of the planner's answers; the same for window and command line. */

import type { Answers } from "../plan/answers.ts";
import type { SheetInput } from "./drawSheets.ts";
import { markedGround } from "./markedGround.ts";
import type { FontFiles } from "./sheetPdf.ts";

/** null where there is no plan yet. */
export function sheetInputOf({ plan, model, field, rounds, sizes }: Answers, fonts: FontFiles): SheetInput | null {
	if (plan === null || model === null || field === null) return null;
	return {
		plan,
		mesh: model.mesh,
		normals: field.normals,
		curvature: field,
		grounds: markedGround(rounds),
		least: sizes?.smallest ?? null,
		fonts,
	};
}
