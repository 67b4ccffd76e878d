/** Cautions that follow from finishing and fixing as planned: the day's vibration, what does not stand, whom to ask. */

import { ACTION_POINTS, LIMIT_POINTS, minutesTo } from "../../finish/vibration.ts";
import type { Workday } from "../../finish/workdays.ts";
import { refusalText } from "../../text/refusals.ts";
import type { FinishAnswer } from "../answers.ts";

export function finishCautions({ fixing, days, gilded }: FinishAnswer): string[] {
	const cautions = days.flatMap(dayCautions);
	const fixed = fixing.answer;
	if (fixed) {
		const against = fixed.reasons.map(refusalText);
		if (!fixed.stands && against.length > 0) cautions.push(`Fixing does not hold as entered. ${against.join(" ")}`);
		cautions.push(...fixed.engineer.map(refusalText));
		if (fixed.pin)
			cautions.push(
				"Resin: read the maker's sheet before opening it; gloves, goggles, air; it grows hot in a deep hole. Try the bar dry first, and hold the figure in tackle until the resin has set.",
			);
	}
	if (gilded.some(({ answer }) => answer && answer.region.area > 0))
		cautions.push(
			"Sealers and oil size give off solvent: open windows, no flame. Oily rags can light by themselves: spread them out or keep them under water.",
		);
	return cautions;
}

const minutes = (points: number, ms2: number): string => `${Math.floor(minutesTo(points, ms2))} min`;

/** HSE ready reckoner (2009) for points; Directive 2002/44/EC for the two values. */
function dayCautions({ name, points, over, unknown, uses }: Workday): string[] {
	const said: string[] = [];
	const tools = uses.flatMap(({ tool, ms2, hours }) =>
		ms2 !== null && ms2 > 0
			? [
					`${tool} ${ms2} m/s², ${hours.toFixed(1)} h on the trigger (alone it reaches the action value in ${minutes(ACTION_POINTS, ms2)}, the limit in ${minutes(LIMIT_POINTS, ms2)})`,
				]
			: [],
	);
	if (over !== "nothing")
		said.push(
			`Vibration, ${name}: ${Math.round(points)} points, over the ${over === "limit" ? "LIMIT" : "action"} value (action ${ACTION_POINTS}, limit ${LIMIT_POINTS}; HSE ready reckoner), with ${tools.join("; ")}. Share the work over more days, or take a tool that shakes less.`,
		);
	if (unknown.length > 0)
		said.push(
			`Vibration, ${name}: no published figure was found for ${unknown.join(", ")}; ask its maker for the three-axis value and add it to the day.`,
		);
	return said;
}
