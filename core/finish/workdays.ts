/** The tools of a working day and their vibration: the carver's own day, or one day of each stage as it is planned. */

import type { Commission } from "../plan/commission.ts";
import type { Quote, StageName } from "./quote.ts";
import { type DayOfVibration, STONE_TOOLS, type ToolUse, vibrationOf } from "./vibration.ts";

export interface Workday extends DayOfVibration {
	readonly name: string;
	readonly uses: readonly ToolUse[];
}

/** What is mostly on the trigger at a stage (common practice, no source). */
function toolOf(stage: StageName, hammered: boolean): string | null {
	switch (stage) {
		case "roughing out":
			return "angle grinder, cutting stone";
		case "points":
			return hammered ? "stone hammer, pistol grip" : "rotary drill";
		case "between points":
			return "stone hammer, pistol grip";
		case "finish":
			return "hand tools";
		default:
			return null;
	}
}

export function proposedDays({ workday, rounds }: Commission, quote: Quote | null): Workday[] {
	if (workday.tools.length > 0) return [{ name: "your day", uses: workday.tools, ...vibrationOf(workday.tools) }];
	if (!quote) return [];
	const hammered = rounds.some(({ tool }) => tool.action === "hammer");
	const hours = (quote.hoursInAll[1] / quote.days[1]) * workday.triggerShare;
	return quote.stages.flatMap(({ stage }): Workday[] => {
		const tool = toolOf(stage, hammered);
		const known = STONE_TOOLS.find(({ name }) => name === tool);
		if (tool === null || !known) return [];
		const uses = [{ tool, ms2: known.ms2, hours }];
		return [{ name: `a day of ${stage}`, uses, ...vibrationOf(uses) }];
	});
}
