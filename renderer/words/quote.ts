/** The quote in a few rows. */

import type { Quote } from "../../core/finish/quote.ts";
import { hoursText, moneyText } from "../../core/text/money.ts";

export function quoteRows(quote: Quote, currency: string): (readonly [string, string])[] {
	return [
		...quote.stages.map(({ stage, hours }) => [stage, hoursText(hours)] as const),
		["hours in all", `${hoursText(quote.hoursInAll[0])} to ${hoursText(quote.hoursInAll[2])}`],
		["working days", `${Math.ceil(quote.days[0])} to ${Math.ceil(quote.days[2])}`],
		...quote.lines.map(({ words, money }) => [words, moneyText(money[1], currency)] as const),
		["not foreseen", moneyText(quote.contingency[1], currency)],
		...(quote.tax[1] > 0 ? [["tax", moneyText(quote.tax[1], currency)] as const] : []),
	];
}

export const quoteAnswer = ({ total }: Quote, currency: string): string =>
	`${moneyText(total[1], currency)}, from ${moneyText(total[0], "")} to ${moneyText(total[2], "")}`;
