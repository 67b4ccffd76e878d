/** A first price before any scan: from height, stone and detail, with every figure that it assumes. */

import { useSignal } from "@preact/signals";
import { DETAILS, type Detail, type QuickWishes, quickQuote } from "../core/finish/quickQuote.ts";
import { QUICK, QUICK_KEYS, RATE_KEYS, RATES } from "../core/finish/rates.ts";
import { type Commission, newCommission } from "../core/plan/commission.ts";
import { STONE_KINDS } from "../core/stone/stoneKinds.ts";
import { lengthText } from "../core/text/format.ts";
import { Figures } from "./book/Card.tsx";
import { CurrencyChanged } from "./book/finish/CurrencyChanged.tsx";
import { FromField } from "./book/finish/FromField.tsx";
import { savedPaper } from "./book/papers.tsx";
import { News } from "./book/told.tsx";
import { Choices, Select } from "./fields/Choice.tsx";
import { LengthField } from "./fields/LengthField.tsx";
import { NumberField } from "./fields/NumberField.tsx";
import { TextField } from "./fields/TextField.tsx";
import { useSession } from "./state/context.ts";
import { troubleWords } from "./state/troubleWords.ts";
import { quoteAnswer, quoteRows } from "./words/quote.ts";

const DETAIL_WORDS: Readonly<Record<Detail, string>> = {
	plain: "plain: broad form",
	usual: "usual: a figure with dress and hair",
	fine: "fine: a face, feathers, lace",
};

const STANDARD = newCommission("-").quote;

export function QuickQuote() {
	const session = useSession();
	const open = useSignal(false);
	const wishes = useSignal<QuickWishes>({ height: 400, stone: "marble", detail: "usual" });
	const settings = useSignal<Commission["quote"]>(STANDARD);
	const told = useSignal("");
	if (!open.value)
		return (
			<div class="offer">
				<h3>A quick quote</h3>
				<p>Hours and price from height, stone and detail alone, before there is any scan.</p>
				<button
					type="button"
					class="act"
					onClick={() => {
						open.value = true;
					}}
				>
					Reckon
				</button>
			</div>
		);
	const { quick, rates, stoneBy, currency } = settings.value;
	const quote = quickQuote(wishes.value, quick, rates, stoneBy);
	const put = (change: Partial<Commission["quote"]>): null => {
		settings.value = { ...settings.value, ...change };
		return null;
	};
	const save = async (which: "offer" | "worksheet"): Promise<void> => {
		told.value = "";
		try {
			const name = `${lengthText(wishes.value.height, session.units.value, 0)} in ${wishes.value.stone}`;
			const asked = { ...newCommission("-"), name, quote: settings.value };
			const papers = await session.drawQuote(asked, wishes.value);
			if (papers) told.value = await savedPaper(`quick-quote-${which}.pdf`, papers[which]);
		} catch (trouble) {
			told.value = troubleWords(trouble);
		}
	};
	return (
		<section class="quick-quote" aria-label="quick quote">
			<h3>A quick quote</h3>
			<LengthField
				label="height of the figure"
				mm={wishes.value.height}
				least={1}
				digits={0}
				onSet={(height) => {
					wishes.value = { ...wishes.value, height };
					return null;
				}}
			/>
			<Select
				label="stone"
				value={wishes.value.stone}
				options={STONE_KINDS.map(({ name }) => ({ value: name, words: name }))}
				onSet={(stone) => {
					wishes.value = { ...wishes.value, stone };
				}}
			/>
			<Choices
				label="detail"
				value={wishes.value.detail}
				options={DETAILS.map((value) => ({ value, words: DETAIL_WORDS[value] }))}
				onSet={(detail) => {
					wishes.value = { ...wishes.value, detail };
				}}
			/>
			<p class="answer" role="status">
				{quoteAnswer(quote, currency)}
			</p>
			<p class="reason">
				{RATE_KEYS.length + QUICK_KEYS.length} assumptions stand behind this, and as they come all of them are guesses
				without a source: put your own in their place. A scan and its plan count the work instead.
			</p>
			<Figures rows={quoteRows(quote, currency)} />
			<FromField carver={settings.value.carver} onSet={(carver) => put({ carver })} />
			<div class="acts">
				<button type="button" class="act main" onClick={() => void save("offer")}>
					Save the estimate
				</button>
				<button type="button" class="act" onClick={() => void save("worksheet")}>
					Save the worksheet
				</button>
				<button
					type="button"
					class="word"
					onClick={() => {
						open.value = false;
					}}
				>
					put it away
				</button>
			</div>
			<News words={told.value} />
			<TextField
				label="estimate for"
				value={settings.value.client}
				mayBeEmpty
				most={120}
				onSet={(client) => put({ client })}
			/>
			<details class="more">
				<summary>What it assumes about the figure</summary>
				{QUICK_KEYS.map((key) => (
					<NumberField
						key={key}
						label={QUICK[key].words}
						unit={QUICK[key].unit}
						value={quick[key]}
						standard={QUICK[key].guess}
						least={QUICK[key].least}
						most={QUICK[key].most}
						step={QUICK[key].guess >= 10 ? 1 : 0.05}
						onSet={(value) => put({ quick: { ...quick, [key]: value } })}
					/>
				))}
			</details>
			<details class="more">
				<summary>Hours and prices</summary>
				<TextField label="currency" value={currency} mayBeEmpty most={6} onSet={(next) => put({ currency: next })} />
				<CurrencyChanged currency={currency} standard={STANDARD.currency} />
				<Choices
					inRow
					label="stone is bought"
					value={stoneBy}
					options={[
						{ value: "volume", words: "by volume" },
						{ value: "weight", words: "by weight" },
					]}
					onSet={(next) => put({ stoneBy: next })}
				/>
				{RATE_KEYS.map((key) => (
					<NumberField
						key={key}
						label={RATES[key].words}
						unit={RATES[key].unit.replace("money", currency).replace("m³ or t", stoneBy === "weight" ? "t" : "m³")}
						value={rates[key]}
						standard={RATES[key].guess}
						least={RATES[key].least}
						most={RATES[key].most}
						step={RATES[key].guess >= 10 ? 1 : 0.05}
						onSet={(value) => put({ rates: { ...rates, [key]: value } })}
					/>
				))}
			</details>
		</section>
	);
}
