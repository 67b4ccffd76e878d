/** The cut that is looked at: its marks, how it is propped and lifted, and how the carver changes it. */

import { liftWords, PROP_WORDS, STAND_WORDS, sidesWords } from "../../core/text/cutWords.ts";
import { lengthNumber, lengthText, unitWord } from "../../core/text/format.ts";
import { useSession } from "../state/context.ts";
import { cutShown, dropOwn, moveCut, skipCut } from "../state/cuts.ts";
import { CutFields } from "./CutFields.tsx";

export function CutLooked() {
	const session = useSession();
	const number = cutShown.value;
	const answer = session.answers.value?.cuts;
	const cut = number === null ? undefined : answer?.cuts[number];
	if (number === null || !answer || !cut) return null;
	const unit = session.units.value;
	return (
		<fieldset class="looked">
			<legend>{cut.name}</legend>
			<table class="list">
				<caption class="unseen">Where the line of {cut.name} meets the edges</caption>
				<thead>
					<tr>
						<th class="words" scope="col">
							edge
						</th>
						<th class="words" scope="col">
							from
						</th>
						<th scope="col">{unitWord(unit)}</th>
					</tr>
				</thead>
				<tbody>
					{cut.marks.map(({ faces, from, distance }) => (
						<tr key={`${faces.join()} ${from}`}>
							<td class="words">{faces.join(" / ")}</td>
							<td class="words">{from}</td>
							<td title={`${distance} mm`}>{lengthNumber(distance, unit)}</td>
						</tr>
					))}
				</tbody>
			</table>
			<p class="reason">
				Nearest under it: {cut.nearest}
				{cut.spare > 0.05 ? `, with ${lengthText(cut.spare, unit)} more than must stay` : ", at what must stay"}.{" "}
				{sidesWords(cut.sides, lengthText(Number.isFinite(answer.saw.reach) ? answer.saw.reach : 0, unit, 0))}
			</p>
			<p class="reason">{PROP_WORDS[cut.loose]}</p>
			<p class="reason">{liftWords(cut.mass[1])}</p>
			{!cut.stands && <p class="trouble">{STAND_WORDS.loose}</p>}
			<CutFields
				normal={cut.plane.normal}
				spare={Math.max(0, cut.spare)}
				onMove={(normal, spare) => moveCut(session, number, normal, spare)}
			/>
			<div class="acts">
				<button type="button" class="word" onClick={() => void skipCut(session, number)}>
					skip this cut
				</button>
				{cut.own >= 0 && (
					<button
						type="button"
						class="word"
						onClick={() => {
							cutShown.value = null;
							void dropOwn(session, cut.own, `take ${cut.name} out`);
						}}
					>
						take it out
					</button>
				)}
			</div>
		</fieldset>
	);
}
