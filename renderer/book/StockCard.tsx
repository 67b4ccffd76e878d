/** Sizes that the yard keeps, and the smallest of them that takes the figure. */

import { useSignal } from "@preact/signals";
import type { Commission } from "../../core/plan/commission.ts";
import { lengthNumber, parseSides, unitWord } from "../../core/text/format.ts";
import { TextField } from "../fields/TextField.tsx";
import { useSession } from "../state/context.ts";
import { SIZE_WRITTEN } from "../words/sizeWritten.ts";
import { Card } from "./Card.tsx";
import { withStone } from "./withStone.ts";

type Sides = [number, number, number];

export function StockCard() {
	const session = useSession();
	const unit = session.units.value;
	const written = useSignal("");
	const { stock_mm } = (session.commission.value as Commission).stone;
	const sizes = session.answers.value?.sizes;
	const say = (sides: readonly number[]): string =>
		`${sides.map((side) => lengthNumber(side, unit, 0)).join(" × ")} ${unitWord(unit)}`;
	const put = (words: string, next: readonly Sides[]): string | null =>
		session.change(words, (c) => withStone(c, { stock_mm: [...next] }));
	const add = (text: string): string | null => {
		const sides = parseSides(text, unit);
		if (!sides) return `Write length, width and height, as ${SIZE_WRITTEN[unit]}.`;
		written.value = "";
		return put(`stock: ${say([...sides])}`, [...stock_mm, [...sides]]);
	};
	const best = sizes?.stock;
	return (
		<Card title="Sizes in stock" shows={["sizes"]}>
			{stock_mm.map((sides, i) => (
				<p class={best?.index === i ? "answer" : "reason"} key={i}>
					{say(sides)}{" "}
					<button
						type="button"
						class="word"
						onClick={() =>
							put(
								`no ${say(sides)} in stock`,
								stock_mm.filter((_, k) => k !== i),
							)
						}
					>
						take out
					</button>
				</p>
			))}
			<TextField label="add a size" most={60} mayBeEmpty value={written.value} onSet={add} />
			{stock_mm.length > 0 && sizes && (
				<p class={best ? "answer" : "trouble"} data-answer="stock">
					{best
						? `Smallest that takes it: ${say(best.sides)}, ${best.allProved ? "proved" : "as far as it was searched"}.`
						: "None of them takes it."}
				</p>
			)}
			{best && (
				<div class="acts">
					<button
						type="button"
						class="word"
						onClick={() =>
							session.change("take the stone from stock", (c) =>
								withStone(c, { given: "sides", block_mm: [...best.sides], breaks: [], byHand: null }),
							)
						}
					>
						take that one
					</button>
				</div>
			)}
		</Card>
	);
}
