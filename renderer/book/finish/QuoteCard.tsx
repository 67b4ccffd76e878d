/** The quote: hours, money, every figure that they rest on, and the two papers. */

import { daysOfLog, supportOf } from "../../../core/finish/daysOfLog.ts";
import { RATE_KEYS, RATES } from "../../../core/finish/rates.ts";
import { refitRates } from "../../../core/finish/refitRates.ts";
import type { Commission } from "../../../core/plan/commission.ts";
import { Choices } from "../../fields/Choice.tsx";
import { NumberField } from "../../fields/NumberField.tsx";
import { TextField } from "../../fields/TextField.tsx";
import { useSession } from "../../state/context.ts";
import { changePart, changeRate } from "../../state/finish.ts";
import { setTrouble } from "../../state/ui.ts";
import { manyText } from "../../words/health.ts";
import { quoteAnswer, quoteRows } from "../../words/quote.ts";
import { Card, Figures } from "../Card.tsx";
import { fileName } from "../fileName.ts";
import { PaperAct, printedPaper, savedPaper } from "../papers.tsx";
import { News, useTold } from "../told.tsx";
import { CurrencyChanged } from "./CurrencyChanged.tsx";
import { FromField } from "./FromField.tsx";

export function QuoteCard() {
	const session = useSession();
	const commission = session.commission.value as Commission;
	const { quote } = commission;
	const standard = session.standard.value?.quote ?? quote;
	const found = session.answers.value?.finish?.quote;
	const guesses = RATE_KEYS.filter((key) => quote.rates[key] === RATES[key].guess && !quote.restsOn[key]).length;
	return (
		<Card title="Quote" shows={["finish"]} place="quote">
			{found ? (
				<>
					<p class="answer">{quoteAnswer(found, quote.currency)}</p>
					<p class="reason">
						{guesses} of the {RATE_KEYS.length} figures below are still guesses without a source. Low takes all of them
						low at once, high all of them high.
					</p>
					<Figures rows={quoteRows(found, quote.currency)} />
				</>
			) : (
				<p class="reason">Counted from the plan: it waits for model, stone and points.</p>
			)}
			<TextField
				label="offer for"
				value={quote.client}
				mayBeEmpty
				most={120}
				onSet={(client) => changePart(session, "name of the client", "quote", { client })}
			/>
			<TextField
				label="remarks on the offer"
				value={quote.remarks}
				mayBeEmpty
				most={1000}
				onSet={(remarks) => changePart(session, "remarks on the offer", "quote", { remarks })}
			/>
			<TextField
				label="currency"
				value={quote.currency}
				standard={standard.currency}
				mayBeEmpty
				most={6}
				onSet={(currency) => changePart(session, `currency ${currency}`, "quote", { currency })}
			/>
			<CurrencyChanged currency={quote.currency} standard={standard.currency} />
			<NumberField
				label="offer stands for"
				unit="days"
				value={quote.validDays}
				standard={standard.validDays}
				least={1}
				most={730}
				whole
				onSet={(validDays) => changePart(session, "days that the offer stands", "quote", { validDays })}
			/>
			<Choices
				inRow
				label="stone is bought"
				value={quote.stoneBy}
				standard={standard.stoneBy}
				options={[
					{ value: "volume", words: "by volume" },
					{ value: "weight", words: "by weight" },
				]}
				onSet={(stoneBy) => changePart(session, `stone by ${stoneBy}`, "quote", { stoneBy })}
			/>
			<Learn />
			<FromField
				carver={quote.carver}
				onSet={(carver) => changePart(session, "name of the carver", "quote", { carver })}
			/>
			<Papers guesses={guesses} ready={found !== null && found !== undefined && !session.stale.value} />
			<details class="more">
				<summary>Every figure that it rests on</summary>
				{RATE_KEYS.map((key) => (
					<div key={key}>
						<NumberField
							label={RATES[key].words}
							unit={RATES[key].unit
								.replace("money", quote.currency)
								.replace("m³ or t", quote.stoneBy === "weight" ? "t" : "m³")}
							value={quote.rates[key]}
							standard={standard.rates[key]}
							least={RATES[key].least}
							most={RATES[key].most}
							step={RATES[key].guess >= 10 ? 1 : 0.05}
							onSet={(value) => changeRate(session, key, RATES[key].words, value)}
						/>
						{quote.restsOn[key] !== undefined && <p class="reason">From the log, {quote.restsOn[key]} days.</p>}
					</div>
				))}
			</details>
		</Card>
	);
}

/** What the log shows of the carver's own pace, to be taken over. */
function Learn() {
	const session = useSession();
	const { log, quote } = session.commission.value as Commission;
	const plan = session.plan.value;
	if (!plan || log.length === 0) return null;
	const worked = daysOfLog(log, plan);
	const support = supportOf(worked);
	if (worked.length > 0 && !support.enough)
		return (
			<p class="reason">
				Rates of the points are learnt from the log once it holds {support.leastDays} days and {support.leastPoints}{" "}
				points with the time they took; so far {manyText(support.days, "day")} and {manyText(support.points, "point")}.
			</p>
		);
	const learnt = refitRates(worked, quote.rates).filter(
		({ rate, value, days }) => quote.rates[rate] !== round(value) || quote.restsOn[rate] !== days,
	);
	if (learnt.length === 0) return null;
	const take = (): void => {
		const rates = Object.fromEntries(learnt.map(({ rate, value }) => [rate, round(value)]));
		const restsOn = Object.fromEntries(learnt.map(({ rate, days }) => [rate, days]));
		setTrouble(
			"quote",
			changePart(session, "take the rates of the log", "quote", {
				rates: { ...quote.rates, ...rates },
				restsOn: { ...quote.restsOn, ...restsOn },
			}),
		);
	};
	return (
		<>
			<p class="reason">
				The log shows{" "}
				{learnt
					.map(({ rate, value, days, together }) => {
						const how = together ? ", not told apart from its neighbour" : "";
						return `${RATES[rate].words} ${round(value)} ${RATES[rate].unit} (${days} ${days === 1 ? "day" : "days"}${how})`;
					})
					.join("; ")}
				.
			</p>
			<div class="acts">
				<button type="button" class="act" onClick={take}>
					Take the log's rates
				</button>
			</div>
		</>
	);
}

const round = (rate: number): number => Math.round(rate * 1e4) / 1e4;

function Papers({ ready, guesses }: { ready: boolean; guesses: number }) {
	const session = useSession();
	const { told, tell } = useTold("quote");
	const commission = session.commission.value as Commission;
	const save = (which: "offer" | "worksheet") => () =>
		void tell(async () => {
			const papers = await session.drawQuote(commission, null);
			return papers ? savedPaper(fileName(commission.name, `-${which}.pdf`), papers[which]) : "";
		});
	const print = (which: "offer" | "worksheet") => () =>
		void tell(async () => {
			const papers = await session.drawQuote(commission, null);
			return papers ? printedPaper(papers[which]) : "";
		});
	const act = (words: string, then: () => void, main = false) => (
		<PaperAct words={words} ready={ready} main={main} then={then} />
	);
	return (
		<>
			{guesses > 0 && (
				<p class="reason">
					{manyText(guesses, "figure")} behind it {guesses === 1 ? "is a guess" : "are guesses"}: the client's paper is
					headed “Estimate” and gives the span; the worksheet lists them.
				</p>
			)}
			<div class="acts">
				{act("Save the offer", save("offer"), true)}
				{act("Save the worksheet", save("worksheet"))}
			</div>
			<div class="acts">
				{act("Print the offer", print("offer"))}
				{act("Print the worksheet", print("worksheet"))}
			</div>
			<News words={told.value} />
		</>
	);
}
