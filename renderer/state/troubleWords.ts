/** What went wrong, in a sentence. */

import { Refusal } from "../../core/refusal.ts";
import { refusalText } from "../../core/text/refusals.ts";
import { JobFailed } from "../jobs/jobClient.ts";

export const troubleWords = (trouble: unknown): string => {
	if (trouble instanceof JobFailed)
		return trouble.issue
			? refusalText(trouble.issue)
			: `The planner met a defect of its own (${trouble.message}). What you entered is kept; undo the last change to go on.`;
	if (trouble instanceof Refusal) return refusalText(trouble.issue);
	return trouble instanceof Error ? trouble.message : String(trouble);
};
