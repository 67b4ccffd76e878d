/** Why a page waits, with its lengths in the carver's unit. */

import type { Issue } from "../../core/refusal.ts";
import { doesNotFitText } from "../../core/text/fitWords.ts";
import { type LengthUnit, sentenceIn } from "../../core/text/format.ts";
import { refusalText } from "../../core/text/refusals.ts";

/** What lacks is rounded up in the carver's own unit, as page 2 has it; a figure already rounded in mm would be rounded twice. */
export const waitText = (issue: Issue, unit: LengthUnit): string =>
	issue.code === "plan.doesNotFit" ? doesNotFitText(issue.facts, unit) : sentenceIn(unit, refusalText(issue));
