/** Proof marks read one after the other, at the start or end of a day or after the stone has been turned. */

import { useSignal } from "@preact/signals";
import type { BenchSheet } from "../../core/bench/benchRows.ts";
import { MARK_MOMENTS } from "../../core/bench/moments.ts";
import { type LengthUnit, unitWord } from "../../core/text/format.ts";
import type { NewEntry } from "./benchWork.ts";
import { Keypad } from "./Keypad.tsx";
import { keyedLength } from "./keyed.ts";

interface MarksProps {
	readonly marks: BenchSheet["marks"];
	readonly units: LengthUnit;
	/** Answers whether the entry was kept. */
	onTake(entry: NewEntry): boolean;
	onLeave(): void;
}

export function MarksPad({ marks, units, onTake, onLeave }: MarksProps) {
	const moment = useSignal<(typeof MARK_MOMENTS)[number]>("start of the day");
	const at = useSignal(0);
	const text = useSignal("");
	const mark = marks[at.value];
	const read = keyedLength(text.value, units);
	return (
		<Keypad
			label={`Proof mark ${mark.name}, ${at.value + 1} of ${marks.length}${mark.where === "" ? "" : `: ${mark.where}`}`}
			unit={unitWord(units)}
			fractions={units === "in16"}
			text={text.value}
			mayBeNegative
			takeWords={at.value + 1 < marks.length ? "take it, next" : "take it"}
			ready={read !== null}
			onText={(next) => {
				text.value = next;
			}}
			onLeave={onLeave}
			onTake={() => {
				if (read === null) return;
				const read_mm = Math.round(read * 1000) / 1000;
				if (!onTake({ kind: "mark", mark: mark.name, moment: moment.value, read_mm })) return;
				text.value = "";
				if (at.value + 1 < marks.length) at.value++;
				else onLeave();
			}}
		>
			<div class="bench-choice">
				{MARK_MOMENTS.map((words) => (
					<button
						type="button"
						key={words}
						aria-pressed={moment.value === words}
						onClick={() => {
							moment.value = words;
						}}
					>
						{words}
					</button>
				))}
			</div>
			<p class="bench-said">
				How far the needle stands out of the stone when it touches, on its own scale; always from the same end.
			</p>
		</Keypad>
	);
}
