/** Where the seats were found after setting: the figure follows them, and everything is worked out again. */

import { useId } from "preact/hooks";
import type { Commission } from "../../core/plan/commission.ts";
import { lengthNumber } from "../../core/text/format.ts";
import { LengthInput } from "../fields/LengthField.tsx";
import { useSession } from "../state/context.ts";
import { clearMeasured, setMeasured } from "../state/datumSets.ts";
import { LETTERS } from "../state/datums.ts";
import type { SetShown } from "./DatumSetEntry.tsx";

const AXES = ["left", "front", "bed"] as const;

export function SeatsMeasured({ set, at }: { set: SetShown; at: number }) {
	const session = useSession();
	const id = useId();
	const unit = session.units.value;
	const { transfer } = session.commission.value as Commission;
	if (transfer === "faces" || transfer === null) return null;
	const off = set.seatOff_mm;
	return (
		<details class="more" open={set.measured}>
			<summary>seats as measured</summary>
			<p class="reason">
				Once the seats are set, measure them square from the left, front and bed faces and enter what differs; the
				figure is put where they say.
			</p>
			<table class="list lengths">
				<caption class="unseen">Seats of set {set.name} as measured from the block's faces</caption>
				<thead>
					<tr>
						<th class="words" scope="col">
							seat
						</th>
						{AXES.map((axis, k) => (
							<th scope="col" key={axis} id={`${id}-axis-${k}`}>
								{axis}
							</th>
						))}
						{off && (
							<th scope="col" title="from where the figure, put on all seats, wants it">
								off
							</th>
						)}
					</tr>
				</thead>
				<tbody>
					{LETTERS.map((letter, i) => (
						<tr key={letter}>
							<th scope="row" class="words" id={`${id}-seat-${i}`}>
								{letter}
							</th>
							{AXES.map((axis, k) => (
								<td key={axis}>
									<label class="unseen" for={`${id}-${i}-${k}`}>
										seat {letter} of set {set.name} from the {axis}
									</label>
									<LengthInput
										id={`${id}-${i}-${k}`}
										label={`seat ${letter} from the ${axis}`}
										mm={set.datums[i].stone_mm[k]}
										least={-50}
										onSet={(mm) => setMeasured(session, at, i as 0 | 1 | 2, k as 0 | 1 | 2, mm)}
									/>
								</td>
							))}
							{off && <td>{lengthNumber(off[i], unit, 2)}</td>}
						</tr>
					))}
				</tbody>
			</table>
			{set.measured && (
				<div class="acts">
					<button type="button" class="word" onClick={() => void clearMeasured(session, at)}>
						put the seats back where they were planned
					</button>
				</div>
			)}
		</details>
	);
}
