/** The cut that is looked at: its marks, how it is propped and lifted, and how the carver changes it. */

import { liftWords, PROP_WORDS, STAND_WORDS, sidesWords } from "../../core/text/cutWords.ts";
import { lengthNumber, lengthText } from "../../core/text/format.ts";
import { LengthField } from "../fields/LengthField.tsx";
import { NumberField } from "../fields/NumberField.tsx";
import { useSession } from "../state/context.ts";
import { anglesOf, cutShown, dropOwn, moveCut, normalAt, skipCut } from "../state/cuts.ts";

export function CutLooked() {
	const session = useSession();
	const number = cutShown.value;
	const answer = session.answers.value?.cuts;
	const cut = number === null ? undefined : answer?.cuts[number];
	if (number === null || !answer || !cut) return null;
	const unit = session.units.value;
	const { turn, rise } = anglesOf(cut.plane.normal);
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
						<th scope="col">{unit}</th>
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
			<NumberField
				label="looks round to (front 0, right 90)"
				value={turn}
				unit="°"
				least={-180}
				most={180}
				step={1}
				onSet={(degrees) => moveCut(session, number, normalAt(degrees, rise), Math.max(0, cut.spare))}
			/>
			<NumberField
				label="looks up by"
				value={rise}
				unit="°"
				least={-89}
				most={89}
				step={1}
				onSet={(degrees) => moveCut(session, number, normalAt(turn, degrees), Math.max(0, cut.spare))}
			/>
			<LengthField
				label="more than must stay"
				mm={Math.max(0, cut.spare)}
				least={0}
				most={2000}
				onSet={(mm) => moveCut(session, number, cut.plane.normal, mm)}
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
