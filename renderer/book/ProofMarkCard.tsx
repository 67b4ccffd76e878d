/** Proof marks: places that are only read, at the start and end of a day, to see that nothing moved. */

import type { Commission } from "../../core/plan/commission.ts";
import { lengthNumber } from "../../core/text/format.ts";
import { useSession } from "../state/context.ts";
import { usePlanInTurn } from "../state/inTurn.ts";
import { placeText } from "../state/points.ts";
import { marksAreSuggested, removeProofMark, suggestMarks } from "../state/proofMarks.ts";
import { Card } from "./Card.tsx";
import { PickButton } from "./PickButton.tsx";

export function ProofMarkCard() {
	const session = useSession();
	const unit = session.units.value;
	const { transfer } = session.commission.value as Commission;
	const marks = usePlanInTurn()?.proofMarks ?? [];
	if (transfer !== "machine" && transfer !== "callipers") return null;
	const suggested = marksAreSuggested(session);
	return (
		<Card title="Proof marks" shows={["plan"]} place="proof marks">
			<p class="reason">
				{suggested
					? "Suggested where the waste stands longest, far from every hole, and so spread that no move can hide. They are only read, at the start and end of a day."
					: "Picked by you. They are only read, at the start and end of a day."}
			</p>
			{marks.length > 0 && (
				<table class="list">
					<caption class="unseen">Proof marks on the stone's skin</caption>
					<thead>
						<tr>
							<th class="words" scope="col">
								mark
							</th>
							<th class="words" scope="col">
								face
							</th>
							<th scope="col">u</th>
							<th scope="col">v</th>
							<th scope="col" title="stone between the skin and the model's place, square to the face">
								stone
							</th>
							<th scope="col">
								<span class="unseen">leave out</span>
							</th>
						</tr>
					</thead>
					<tbody>
						{marks.map((mark, i) => (
							<tr key={mark.name}>
								<td class="words">{mark.name}</td>
								<td class="words">{mark.face ?? "no face sees it"}</td>
								<td>{mark.u_mm === null ? "" : placeText(mark.u_mm, unit)}</td>
								<td>{mark.v_mm === null ? "" : placeText(mark.v_mm, unit)}</td>
								<td>{mark.waste_mm === null ? "" : lengthNumber(mark.waste_mm, unit)}</td>
								<td>
									<button
										type="button"
										class="word"
										aria-label={`leave out proof mark ${mark.name}`}
										disabled={marks.length === 1}
										onClick={() => void removeProofMark(session, i)}
									>
										leave out
									</button>
								</td>
							</tr>
						))}
					</tbody>
				</table>
			)}
			<div class="acts">
				<PickButton pick={{ kind: "proof" }} words="Pick proof marks" />
				{!suggested && (
					<button type="button" class="word" onClick={() => void suggestMarks(session)}>
						put back the suggestion
					</button>
				)}
			</div>
		</Card>
	);
}
