/** The offer, one page for the client, and the worksheet for the carver, as PDF. */

import { STAGE_WORK, STAGES } from "../finish/quote.ts";
import { guessesAmong, paperName, type QuoteFacts } from "../finish/quoteFacts.ts";
import { RATES } from "../finish/rates.ts";
import type { Job } from "../job.ts";
import { amountText, hoursText, moneyRange, moneyText } from "../text/money.ts";
import { line, text } from "./drawing.ts";
import { type Flow, lineHeight, newFlow, type SheetPage } from "./flow.ts";
import { type Fonts, textWidth, wrapText } from "./fontMetrics.ts";
import { MARGIN, PAPER_SIZES } from "./paper.ts";
import { openPdf } from "./pdfWriter.ts";
import { type FontFiles, readFonts } from "./sheetPdf.ts";
import { BODY, body, bodyBold, quiet, raddlePen, rule, title } from "./style.ts";
import { startTable } from "./table.ts";

export interface QuotePapers {
	readonly offer: Uint8Array;
	readonly worksheet: Uint8Array;
}

/** Draws both. The same facts give the same bytes everywhere. */
export function* drawQuote(facts: QuoteFacts, files: FontFiles): Job<QuotePapers> {
	const fonts = readFonts(files);
	yield { stage: "writing the quote", share: 0.1 };
	const offer = write(fonts, files, facts, paperName(facts), writeOffer);
	yield { stage: "writing the quote", share: 0.5 };
	return { offer, worksheet: write(fonts, files, facts, "Worksheet of the quote", writeWorksheet) };
}

function write(
	fonts: Fonts,
	files: FontFiles,
	facts: QuoteFacts,
	what: string,
	fill: (flow: Flow, facts: QuoteFacts) => void,
): Uint8Array {
	const paper = PAPER_SIZES[facts.paper];
	// One column as wide as the narrow side of the paper, upright on every paper.
	const flow = newFlow(fonts, paper, what, 1);
	fill(flow, facts);
	furnish(fonts, facts, flow.pages);
	const pdf = openPdf(
		fonts,
		files,
		{
			title: `${facts.name}, ${what.toLowerCase()}`,
			subject: what,
			keywords: facts.code,
			identity: JSON.stringify([what, facts]),
			date: facts.date,
		},
		flow.pages[0].drawing,
	);
	for (const page of flow.pages) pdf.add(page);
	return pdf.finish();
}

/** Head and foot: what paper it is, of which commission, and which page. */
function furnish(fonts: Fonts, facts: QuoteFacts, pages: readonly SheetPage[]): void {
	pages.forEach(({ drawing: on }, i) => {
		const right = on.width - MARGIN;
		const y = MARGIN + BODY;
		const told = [facts.kind === "quick" ? "before any scan" : `plan ${facts.code}`, facts.date].filter(
			(w) => w !== "",
		);
		text(on, right, y, told.join(" · "), { ...quiet, anchor: "end" });
		const room = right - MARGIN - textWidth(fonts, told.join(" · "), BODY) - 6;
		const [name] = wrapText(fonts, facts.name, room, BODY, true);
		text(on, MARGIN, y, name === facts.name ? name : `${name} …`, bodyBold);
		line(on, rule, MARGIN, MARGIN + 5.6, right, MARGIN + 5.6);
		const foot = on.height - MARGIN;
		line(on, rule, MARGIN, foot - 5.2, right, foot - 5.2);
		text(on, MARGIN, foot, on.title, quiet);
		text(on, right, foot, `page ${i + 1} of ${pages.length}`, { ...quiet, anchor: "end" });
	});
}

const LABEL = 40;

function stated(flow: Flow, name: string, words: string): void {
	const lines = wrapText(flow.fonts, words, flow.columnWidth - LABEL, BODY);
	const s = flow.take(lines.length * lineHeight + 0.9);
	text(s.on, s.x, s.y + BODY, name, quiet);
	lines.forEach((l, i) => {
		text(s.on, s.x + LABEL, s.y + BODY + i * lineHeight, l, body);
	});
}

function head(flow: Flow, words: string): void {
	const s = flow.take(14);
	text(s.on, s.x, s.y + title.size, words, title);
	line(s.on, raddlePen, s.x, s.y + 11, s.x + s.width, s.y + 11);
}

/** What the client sees of the money: one line for each kind, the carver's own margins folded in. */
function offered(facts: QuoteFacts): (readonly [string, number])[] {
	const { quote } = facts;
	const of = (...words: string[]): number =>
		quote.lines.filter((l) => words.includes(l.words)).reduce((sum, l) => sum + l.money[1], 0);
	const rows: (readonly [string, number])[] = [
		["design, carving and finishing", of("work") + quote.contingency[1]],
		["stone", of("stone")],
		["blades, bits and abrasives", of("blades", "drill bits", "abrasives")],
		["gilding: leaf, sealer and size", of("gold leaf", "sealer and size")],
		["base, pin and resin", of("base", "pin", "resin")],
		["transport", of("transport", "transport by weight")],
		["tax", quote.tax[1]],
	];
	return rows.filter(([, sum]) => sum > 0);
}

function writeOffer(flow: Flow, facts: QuoteFacts): void {
	const { settings, quote } = facts;
	const paper = paperName(facts);
	const estimated = paper !== "Offer";
	head(flow, paper);
	if (settings.carver !== "") stated(flow, "from", settings.carver);
	if (settings.client !== "") stated(flow, "for", settings.client);
	stated(flow, "commission", facts.name);
	flow.heading("What is made");
	for (const [name, words] of facts.made) stated(flow, name, words);
	flow.heading("Price");
	const table = startTable(flow, {
		columns: [
			{ head: [""], width: 0, align: "left" },
			{ head: [settings.currency], width: 40, align: "right" },
		],
	});
	for (const [words, sum] of offered(facts)) table.row([words, moneyText(sum, "")]);
	table.end();
	const s = flow.take(9);
	text(s.on, s.x + 1.3, s.y + 4.6, estimated ? "in all, estimated" : "in all", {
		...bodyBold,
		size: 4.6,
	});
	text(s.on, s.x + s.width - 1.3, s.y + 4.6, moneyText(quote.total[1], settings.currency), {
		...bodyBold,
		size: 4.6,
		anchor: "end",
	});
	flow.gap(2);
	if (estimated) {
		flow.paragraph(`This is an estimate: ${moneyRange(quote.total[0], quote.total[2], settings.currency)}.`, bodyBold);
		flow.gap(1);
	}
	flow.paragraph(
		`As far as can be foreseen it will lie between ${moneyText(quote.total[0], settings.currency)} and ${moneyText(quote.total[2], settings.currency)}. The work takes about ${Math.ceil(quote.days[1])} working days, between ${Math.ceil(quote.days[0])} and ${Math.ceil(quote.days[2])}, once the stone has come.`,
	);
	if (facts.kind === "quick") {
		flow.gap(1.5);
		flow.paragraph(
			"This is a first estimate from height, stone and detail alone. The offer follows when the model has been measured.",
			bodyBold,
		);
	}
	flow.heading("To note");
	flow.paragraph(
		"Stone is a grown thing: veins, colour and flaws that show only when it is opened may change the work, and are spoken of before it goes on. Foundations, permits, lifting gear on site and an engineer's statement, where one is needed, are not part of this price.",
	);
	if (settings.remarks !== "") {
		flow.gap(1.5);
		flow.paragraph(settings.remarks);
	}
	flow.gap(1.5);
	flow.paragraph(
		`This ${estimated ? "estimate" : "offer"} stands for ${settings.validDays} days${facts.date === "" ? "" : ` from ${facts.date}`}.`,
	);
	if (facts.kind === "full") {
		flow.gap(16);
		const sign = flow.take(8);
		const half = (sign.width - 12) / 2;
		for (const [x, words] of [
			[sign.x, "place, date, carver"],
			[sign.x + half + 12, "place, date, client"],
		] as const) {
			line(sign.on, rule, x, sign.y, x + half, sign.y);
			text(sign.on, x, sign.y + BODY + 1, words, quiet);
		}
	}
}

function writeWorksheet(flow: Flow, facts: QuoteFacts): void {
	const { settings } = facts;
	head(flow, facts.kind === "quick" ? "Worksheet of a first estimate" : "Worksheet");
	for (const [name, words] of [...facts.made, ...facts.needed]) stated(flow, name, words);
	hoursTable(flow, facts);
	moneyTable(flow, facts);
	flow.heading("What it rests on", 30);
	const guesses = guessesAmong(facts);
	flow.paragraph(
		`${guesses} of these ${facts.assumptions.length} figures are still guesses without any source. Put your own in their place; days in the log refit the rates of the work.`,
	);
	flow.gap(1.5);
	const table = startTable(flow, {
		columns: [
			{ head: ["assumption"], width: 0, align: "left" },
			{ head: [""], width: 22, align: "right" },
			{ head: ["unit"], width: 46, align: "left" },
			{ head: ["from"], width: 32, align: "left" },
		],
		rowHeight: 5,
	});
	for (const { words, value, unit, from } of facts.assumptions)
		table.row([words, String(Math.round(value * 1e4) / 1e4), unit, from]);
	table.end();
	flow.paragraph(
		"Low takes every hour and price at its low end at once, high every one at its high end: the ends are wide on purpose.",
		quiet,
	);
	if (settings.remarks !== "") flow.paragraph(settings.remarks, quiet);
}

function hoursTable(flow: Flow, { quote, quantities }: QuoteFacts): void {
	flow.heading("Hours", 30);
	const table = startTable(flow, {
		columns: [
			{ head: ["stage"], width: 30, align: "left", bold: true },
			{ head: ["of what"], width: 0, align: "left" },
			{ head: ["amount"], width: 20, align: "right" },
			{ head: ["rate"], width: 18, align: "right" },
			{ head: ["unit"], width: 18, align: "left" },
			{ head: ["hours"], width: 20, align: "right" },
		],
	});
	let last = "";
	for (const stage of STAGES)
		for (const { rate, amount } of STAGE_WORK[stage]) {
			const done = quote.hours.find((one) => one.stage === stage && one.rate === rate);
			const much = amount(quantities);
			if (!done || much === 0) continue;
			table.row([
				stage === last ? "" : stage,
				RATES[rate].words,
				amountText(much),
				amountText(done.hours / much),
				RATES[rate].unit,
				hoursText(done.hours),
			]);
			last = stage;
		}
	table.end();
	const [low, likely, high] = quote.hoursInAll;
	flow.paragraph(
		`In all ${hoursText(likely)}, from ${hoursText(low)} to ${hoursText(high)}: ${quote.days[1].toFixed(1)} days, from ${quote.days[0].toFixed(1)} to ${quote.days[2].toFixed(1)}.`,
		bodyBold,
	);
}

function moneyTable(flow: Flow, { quote, settings }: QuoteFacts): void {
	flow.heading(settings.currency === "" ? "Money" : `Money, ${settings.currency}`, 30);
	const table = startTable(flow, {
		columns: [
			{ head: [""], width: 0, align: "left" },
			{ head: ["amount"], width: 26, align: "right" },
			{ head: ["low"], width: 26, align: "right" },
			{ head: ["likely"], width: 26, align: "right", bold: true },
			{ head: ["high"], width: 26, align: "right" },
		],
	});
	for (const one of quote.lines)
		table.row([
			one.words,
			one.unit === "" ? "" : one.unit === "h" ? hoursText(one.amount) : `${amountText(one.amount)} ${one.unit}`,
			...one.money.map((sum) => moneyText(sum, "")),
		]);
	for (const [words, sums] of [
		["not foreseen", quote.contingency],
		["tax", quote.tax],
		["in all", quote.total],
	] as const)
		if (sums[2] > 0) table.row([words, "", ...sums.map((sum) => moneyText(sum, ""))]);
	table.end();
}
