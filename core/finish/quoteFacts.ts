/** Everything that the offer and the worksheet tell, whether from a plan or from a first guess. */

import type { Answers } from "../plan/answers.ts";
import type { Commission } from "../plan/commission.ts";
import { Refusal } from "../refusal.ts";
import { lengthNumber, lengthText, massRangeText, massText, unitWord } from "../text/format.ts";
import { leavesText } from "./gilding.ts";
import { gradeName, grainText } from "./gradeWords.ts";
import { type QuickWishes, quickQuantities } from "./quickQuote.ts";
import type { Quantities, Quote } from "./quote.ts";
import { quoteOf } from "./quote.ts";
import { type Assumption, QUICK, QUICK_KEYS, RATE_KEYS, RATES } from "./rates.ts";

/** A figure that the quote rests on, and what it rests on itself. */
export interface StatedAssumption {
	readonly words: string;
	readonly value: number;
	readonly unit: string;
	readonly from: string;
}

/** A row of words: what it is, and what is said of it. */
export type Stated = readonly [string, string];

export interface QuoteFacts {
	readonly name: string;
	readonly kind: "full" | "quick";
	readonly settings: Commission["quote"];
	readonly paper: Commission["sheet"]["paper"];
	/** ISO 8601, or empty. */
	readonly date: string;
	/** What is made, for the client. */
	readonly made: readonly Stated[];
	/** What is to be bought and done, for the carver. */
	readonly needed: readonly Stated[];
	readonly quantities: Quantities;
	readonly quote: Quote;
	readonly assumptions: readonly StatedAssumption[];
	/** Ties the papers to their plan; empty for a quick quote. */
	readonly code: string;
}

/** How many of the figures are nobody's own yet. */
export const guessesAmong = (facts: Pick<QuoteFacts, "assumptions">): number =>
	facts.assumptions.filter(({ from }) => from === "a guess").length;

/** What the client's paper is: an offer only where nothing is guessed. */
export function paperName(facts: Pick<QuoteFacts, "assumptions" | "kind">): "First estimate" | "Estimate" | "Offer" {
	if (facts.kind === "quick") return "First estimate";
	return guessesAmong(facts) > 0 ? "Estimate" : "Offer";
}

/** Refuses "quote.noPlan" while there is nothing to count. */
export function fullFacts(commission: Commission, answers: Answers | null): QuoteFacts {
	const { model, stone, plan, finish } = answers ?? {};
	if (!model || !stone || !plan || !finish?.quote || !finish.quantities) throw new Refusal("quote.noPlan");
	const units = commission.sheet.units;
	const sides = (mm: readonly number[]): string =>
		`${mm.map((side) => lengthNumber(side, units, 0)).join(" × ")} ${unitWord(units)}`;
	const fixed = finish.fixing.answer;
	// An area that was begun and never brushed is nothing that the client asked for.
	const gilded = finish.gilded.flatMap(({ answer }) => (answer && answer.region.area > 0 ? [answer] : []));
	const { base } = commission.fixing;
	return {
		name: commission.name,
		kind: "full",
		settings: commission.quote,
		paper: commission.sheet.paper,
		date: commission.sheet.date,
		code: plan.code,
		made: [
			[
				"figure",
				`${sides(model.size)}, carved in ${commission.stone.kind}${fixed ? `, ${massRangeText(...fixed.mass)}` : ""}`,
			],
			["surface", commission.finish.polish],
			...gilded.map(({ name, region }): Stated => ["gilded", `${name}, ${(region.area / 100).toFixed(0)} cm²`]),
			...(base
				? [
						[
							"base",
							`${sides(base.size_mm)}, ${base.stone ?? commission.stone.kind}${fixed?.pin?.holds ? ", the figure pinned to it" : ""}`,
						] as const,
					]
				: []),
		],
		needed: [
			[
				"block",
				`${sides(stone.block)}, ${massRangeText(...stone.stoneMass)}${stone.assumed ? " (assumed: the smallest sawn block)" : ""}`,
			],
			...(finish.grades.answer?.steps ?? []).map(
				({ abrasive, grain, takes }): Stated => [
					gradeName(abrasive),
					`grain ${grainText(grain)}, takes off ${takes.toFixed(2)} mm`,
				],
			),
			...gilded.map(
				({ name, region, leaf }): Stated => [
					`gold, ${name}`,
					`${(region.area / 100).toFixed(0)} cm²: ${leavesText(leaf)}`,
				],
			),
			...(fixed?.pin?.holds && fixed.barLength !== null && fixed.resin !== null
				? [
						[
							"pin",
							`bar ${fixed.pin.setting.bar_mm} mm, ${Math.ceil(fixed.barLength)} mm long; holes ${fixed.pin.setting.hole_mm} mm; resin ${Math.ceil(fixed.resin / 1000)} ml with waste`,
						] as const,
					]
				: []),
			...(fixed?.whole ? [["to be carried", massRangeText(...fixed.whole.mass)] as const] : []),
		],
		quantities: finish.quantities,
		quote: finish.quote,
		assumptions: ratesStated(commission.quote),
	};
}

/** A first price from height, stone and detail. Refuses as `quickQuantities` does. */
export function quickFacts(
	name: string,
	wishes: QuickWishes,
	settings: Commission["quote"],
	sheet: Pick<Commission["sheet"], "paper" | "date" | "units">,
): QuoteFacts {
	const quantities = quickQuantities(wishes, settings.quick);
	const block = quantities.block_kg;
	return {
		name,
		kind: "quick",
		settings,
		paper: sheet.paper,
		date: sheet.date,
		code: "",
		made: [
			[
				"figure",
				`${lengthText(wishes.height, sheet.units, 0)} high, carved in ${wishes.stone}, ${wishes.detail} detail`,
			],
		],
		needed: [["block", `some ${quantities.block_dm3.toFixed(0)} dm³, up to ${massText(block[1])}`]],
		quantities,
		quote: quoteOf(quantities, settings.rates, settings.stoneBy),
		assumptions: [
			...ratesStated(settings),
			...QUICK_KEYS.map((key): StatedAssumption => stated(QUICK[key], settings.quick[key], undefined)),
		],
	};
}

const ratesStated = (settings: Commission["quote"]): StatedAssumption[] =>
	RATE_KEYS.map((key) =>
		stated(RATES[key], settings.rates[key], settings.restsOn[key], settings.currency, settings.stoneBy),
	);

function stated(
	one: Assumption,
	value: number,
	days: number | undefined,
	currency = "",
	stoneBy = "",
): StatedAssumption {
	const unit = one.unit.replace("money", currency || "money").replace("m³ or t", stoneBy === "weight" ? "t" : "m³");
	const from =
		days !== undefined ? `the log, ${days} ${days === 1 ? "day" : "days"}` : value === one.guess ? "a guess" : "yours";
	return { words: one.words, value, unit, from };
}
