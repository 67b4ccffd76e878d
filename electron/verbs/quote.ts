/** `quote`: the offer and the worksheet, from a scan as it is planned, or a first one from height, stone and detail. */

import { DETAILS } from "../../core/finish/quickQuote.ts";
import { fullFacts, type QuoteFacts, quickFacts } from "../../core/finish/quoteFacts.ts";
import { newCommission } from "../../core/plan/commission.ts";
import { Refusal } from "../../core/refusal.ts";
import { drawQuote } from "../../core/sheet/quotePdf.ts";
import { hoursText, moneyRange, moneyText } from "../../core/text/money.ts";
import { nodeFiles } from "../files/fileLayer.ts";
import {
	choiceOption,
	lengthOption,
	plainOption,
	readOptions,
	SCAN_OPTIONS,
	takingOf,
	type Values,
} from "./options.ts";
import { commissionFrom } from "./plan.ts";
import { COMMISSION_OPTIONS, commissionFor, planWhole, sheetFonts } from "./planWhole.ts";
import { takeIn } from "./takeIn.ts";
import type { Row, Shop, Verb } from "./verb.ts";
import { writeSet } from "./writeSet.ts";

const OPTIONS = {
	...SCAN_OPTIONS,
	...COMMISSION_OPTIONS,
	commission: "text",
	out: "text",
	height: "text",
	stone: "text",
	detail: "text",
} as const;

export const quote: Verb = async (argv, shop) => {
	const { values, plain } = readOptions("quote", argv, OPTIONS);
	const facts = plain.length > 0 ? await ofScan(plain[0], values, shop) : await ofHeight(values);
	const out = plainOption(values, "out");
	if (out !== undefined) {
		const { offer, worksheet } = await shop.run(drawQuote(facts, sheetFonts()));
		const files = new Map([
			["offer.pdf", offer],
			["worksheet.pdf", worksheet],
		]);
		await writeSet(nodeFiles, out, files, () => false, shop.stop);
	}
	const { quote: found, quantities, settings, kind, assumptions } = facts;
	const json = {
		kind,
		currency: settings.currency,
		hours: found.hoursInAll,
		days: found.days,
		total: found.total,
		stages: found.stages,
		lines: found.lines,
		contingency: found.contingency,
		tax: found.tax,
		quantities,
		assumptions,
		...(out === undefined ? {} : { out, files: ["offer.pdf", "worksheet.pdf"] }),
	};
	const guesses = assumptions.filter(({ from }) => from === "a guess").length;
	const rows: Row[] = [
		...found.stages.map(({ stage, hours }): Row => [stage, hoursText(hours)]),
		[
			"hours in all",
			`${hoursText(found.hoursInAll[1])}, from ${hoursText(found.hoursInAll[0])} to ${hoursText(found.hoursInAll[2])}`,
		],
		...found.lines.map(({ words, money }): Row => [words, moneyText(money[1], settings.currency)]),
		[
			"in all",
			`${moneyText(found.total[1], settings.currency)}, from ${moneyRange(found.total[0], found.total[2], settings.currency)}`,
		],
		["rests on", `${assumptions.length} named figures, ${guesses} of them guesses`],
		...(out === undefined ? [] : [["written", `${out}: offer.pdf, worksheet.pdf`] as const]),
	];
	return { json, rows };
};

async function ofScan(path: string, values: Values, shop: Shop): Promise<QuoteFacts> {
	const from = await commissionFrom(plainOption(values, "commission"));
	const scan = await takeIn(path, shop);
	const commission = commissionFor(scan, from, takingOf(values), values);
	const { answers } = await planWhole(scan, commission, shop);
	return fullFacts(commission, answers);
}

async function ofHeight(values: Values): Promise<QuoteFacts> {
	const height = lengthOption(values, "height");
	if (height === undefined) throw new Refusal("command.missing", { verb: "quote", what: "a scan, or --height" });
	const from = (await commissionFrom(plainOption(values, "commission"))) ?? newCommission("-");
	const wishes = {
		height,
		stone: plainOption(values, "stone") ?? from.stone.kind,
		detail: choiceOption(values, "detail", DETAILS) ?? ("usual" as const),
	};
	const name = from.name === "commission" ? "Quick quote" : from.name;
	return quickFacts(name, wishes, from.quote, from.sheet);
}
