/** The one line under a closed page: the answer to its question with a number, or what is missing. */

import { goneUnder } from "../../core/bench/left.ts";
import { paceOf, progressOf } from "../../core/bench/progress.ts";
import { strayHoles } from "../../core/bench/strayHoles.ts";
import type { AnswerName } from "../../core/plan/answersByStages.ts";
import type { Commission } from "../../core/plan/commission.ts";
import { lacksOf } from "../../core/stone/lacks.ts";
import { daysText } from "../../core/text/benchWords.ts";
import { lackWords, noMarginWords } from "../../core/text/fitWords.ts";
import { type LengthUnit, lengthText, massRangeText, orderNumber, sizeText, unitWord } from "../../core/text/format.ts";
import { moneyText } from "../../core/text/money.ts";
import { spareText } from "../../core/text/spare.ts";
import type { AnswersShown, PageName, ScanShown } from "../jobs/shown.ts";
import { asScanned } from "../state/stance.ts";
import { waitText } from "./waitWords.ts";

export interface PageAnswer {
	readonly words: string;
	/** The carver has something to give or to mend. */
	readonly wants: boolean;
}

export const PAGE_TITLES: Readonly<Record<PageName, string>> = {
	model: "Model",
	stone: "Stone",
	points: "Points",
	bench: "Bench",
	finish: "Finish",
};

/** What each page answers, for a window in which nothing is open. */
export const PAGE_QUESTIONS: Readonly<Record<PageName, string>> = {
	model: "What is copied, how large, which way up?",
	stone: "Does it fit the block, and with how much to spare?",
	points: "Where to drill, from which face, how deep?",
	bench: "What goes to the bench, what is done, what is left?",
	finish: "How it is finished and fixed, what it costs, what to mind.",
};

/** What each page will do, for the first look. */
export const PAGE_PURPOSES: Readonly<Record<PageName, string>> = {
	model: "Unit, size, stance and soundness of the scan; what stands on the bench beside it.",
	stone: "The placement with the most stone to spare, with a proof; the smallest block to order; the weights.",
	points: "Points in rounds, each with its line, its depth, and how far a hand may err before stone is lost.",
	bench: "Numbered maps and tables on paper and as files; a view to work from; the log, and how many days are left.",
	finish: "Grades, gilded areas, weight and pin, the quote with its two papers, and the cautions of the work.",
};

/** One thing to know about each page, shown until it has been read. */
export const PAGE_HINTS: Readonly<Record<PageName, string>> = {
	model: "Everything has a usual value already. What you change is marked in the margin and can be put back.",
	stone: "Type lengths as you read them: 76.2, 3 in or 4 3/4 in are all understood.",
	points: "Point at a mark on the banker, a row of the list or a stroke of the tape: all three light the same point.",
	bench: "Nothing here waits for a save: the commission is kept at every change.",
	finish: "Every rate is a guess until it is your own: change it, and the quote follows.",
};

const says = (words: string): PageAnswer => ({ words, wants: false });
const wants = (words: string): PageAnswer => ({ words, wants: true });

/** Which of the planner's answers the line is read from. */
const PAGE_ANSWERS = { model: "model", stone: "stone", points: "plan", bench: "plan", finish: "finish" } as const;

/** `isOld`: from before the last change, and being worked out again. */
export function pageAnswer(
	page: PageName,
	scan: ScanShown | null,
	commission: Commission | null,
	answers: AnswersShown | null,
	unit: LengthUnit,
	awaited: Readonly<Record<AnswerName, boolean>>,
): PageAnswer & { readonly isOld: boolean } {
	if (!commission || !scan) return { ...says(PAGE_QUESTIONS[page]), isOld: false };
	const name = PAGE_ANSWERS[page];
	const isKnown = answers?.[name] || answers?.waits.some((wait) => wait.page === page);
	if (!answers || (awaited[name] && !isKnown)) return { ...says("being worked out"), isOld: false };
	return { ...knownAnswer(page, commission, answers, unit), isOld: awaited[name] };
}

function knownAnswer(page: PageName, commission: Commission, answers: AnswersShown, unit: LengthUnit): PageAnswer {
	const { model, stone, plan, waits } = answers;
	const waiting = waits.find((wait) => wait.page === page);
	switch (page) {
		case "model":
			if (waiting) return wants(waitText(waiting.issue, unit));
			if (!model) return says("being worked out");
			return modelAnswer(commission, lengthText(model.size[2], unit, 0));
		case "stone": {
			if (waiting) return wants(waitText(waiting.issue, unit));
			if (!stone) return says("waits for the model");
			if (!stone.fit.fits)
				return wants(`does not fit: ${lackWords(lacksOf(stone.fit), unit)}${stone.fit.certified ? ", proved" : ""}`);
			const bare = noMarginWords(stone.fit.gaps, commission.stone.outOfTrue_mm / 2);
			const proof = stone.fit.certified ? "proved" : `at most ${lengthText(stone.fit.bound, unit)}`;
			return says(
				stone.assumed
					? `smallest sawn block: ${stone.block.map((side) => orderNumber(side, unit)).join(" × ")} ${unitWord(unit)}`
					: `${spareText(stone.fit.spare, unit)} to spare, ${proof}${bare === null ? "" : `; ${bare}`}`,
			);
		}
		case "points": {
			if (waiting?.issue.code === "plan.doesNotFit") return wants("waits until the figure fits");
			if (waiting) return wants(waitText(waiting.issue, unit));
			if (!plan) return says(stone && !stone.fit.fits ? "waits until the figure fits" : "waits for model and stone");
			const undercut = plan.points.filter((point) => point.undercut).length;
			const rounds = `in ${plan.rounds.length} ${plan.rounds.length === 1 ? "round" : "rounds"}`;
			return says(
				undercut === 0
					? `${plan.points.length} ${rounds}`
					: `${plan.points.length}: ${plan.points.length - undercut} to drill ${rounds}, ${undercut} undercut`,
			);
		}
		case "bench": {
			if (!plan) return says("no plan to print yet");
			if (commission.log.length === 0) return says(`sheets on ${plan.sheet.paper}, revision ${plan.sheet.revision}`);
			const { done, points, left } = progressOf(plan, commission.log, strayHoles(plan, commission.drilled));
			const under = goneUnder(commission.log).length;
			if (under > 0) return wants(`${under} gone under; ${done} of ${points} done`);
			return says(`${done} of ${points}, days left: ${daysText(paceOf(commission.log, left.length).daysLeft)}`);
		}
		case "finish":
			return finishAnswer(commission, answers);
	}
}

/** The height, and whether it is one that the carver has looked at. */
function modelAnswer(commission: Commission, height: string): PageAnswer {
	const { stanceSaid } = commission.model;
	const stands = stanceSaid ? "" : asScanned(commission) ? " as scanned" : ", if it stands so";
	const words = `${height} high${stands}${commission.scan.mirrored ? ", mirrored" : ""}`;
	return commission.transfer ? says(words) : wants(`${words}; say what stands on the bench`);
}

/** Weight, pin and price; a figure that does not stand comes first. */
function finishAnswer(commission: Commission, { model, finish }: AnswersShown): PageAnswer {
	if (!finish) return says("waits for the stone");
	const fixed = finish.fixing.answer;
	const price = finish.quote ? moneyText(finish.quote.total[1], commission.quote.currency) : null;
	if (!fixed)
		return says(price ?? (model && !model.closed ? "an open shell has no weight of its own" : "no weight yet"));
	const mass = massRangeText(...fixed.mass);
	const costs = price === null ? "" : `; ${price}`;
	if (!fixed.stands) return wants(`${mass}, ${fixed.pin ? "the pin does not hold" : "does not stand"}${costs}`);
	const pin = fixed.pin ? `, pin of ${sizeText(fixed.pin.setting.bar_mm, commission.sheet.units, 0)}` : "";
	return says(`${mass}${pin}${costs}`);
}
