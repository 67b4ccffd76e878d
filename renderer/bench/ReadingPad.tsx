/** A reading typed at the bench, as the hole's depth or as what is left over the finished face, with what it means. */

import { useSignal } from "@preact/signals";
import type { BenchRow } from "../../core/bench/benchRows.ts";
import { MISTYPED, readingWords } from "../../core/text/benchWords.ts";
import { type LengthUnit, unitWord } from "../../core/text/format.ts";
import { Keypad } from "./Keypad.tsx";
import { keyedLength } from "./keyed.ts";

interface ReadingProps {
	readonly row: BenchRow;
	readonly units: LengthUnit;
	/** From the tip to the finished face along the line, mm. */
	onTake(over: number): void;
	onLeave(): void;
}

export function ReadingPad({ row, units, onTake, onLeave }: ReadingProps) {
	const text = useSignal("");
	const depth = row.depth_mm;
	const fromSkin = useSignal(depth !== null);
	const read = keyedLength(text.value, units);
	const over = read === null ? null : fromSkin.value && depth !== null ? depth + row.stop_mm - read : read;
	return (
		<Keypad
			label={`Point ${row.number} reads`}
			unit={unitWord(units)}
			fractions={units === "in16"}
			text={text.value}
			mayBeNegative={!fromSkin.value}
			takeWords="take it"
			ready={over !== null && over >= -MISTYPED}
			onText={(next) => {
				text.value = next;
			}}
			onLeave={onLeave}
			onTake={() => {
				if (over !== null) onTake(Math.round(over * 1000) / 1000);
			}}
		>
			{depth !== null && (
				<div class="bench-choice">
					{[
						{ skin: true, words: "depth of the hole" },
						{ skin: false, words: "left over the figure" },
					].map(({ skin, words }) => (
						<button
							type="button"
							key={words}
							aria-pressed={fromSkin.value === skin}
							onClick={() => {
								fromSkin.value = skin;
								if (skin) text.value = text.value.replace("-", "");
							}}
						>
							{words}
						</button>
					))}
				</div>
			)}
			<p class="bench-said" role="status">
				{over === null ? "Type what rule or needle says." : readingWords(over, row.stop_mm, units)}
			</p>
		</Keypad>
	);
}
