/** One datum set: its seats, what must be checked, what hangs on what, and where the seats were found. */

import type { Commission } from "../../core/plan/commission.ts";
import type { Plan } from "../../core/plan/planFile.ts";
import { angleText, finely, lengthNumber, lengthText } from "../../core/text/format.ts";
import { TextField } from "../fields/TextField.tsx";
import { useSession } from "../state/context.ts";
import { nameSet, removeSet } from "../state/datumSets.ts";
import { LETTERS } from "../state/datums.ts";
import { placeText } from "../state/points.ts";
import { held, picking } from "../state/ui.ts";
import { Figures } from "./Card.tsx";
import { SeatsMeasured } from "./SeatsMeasured.tsx";
import { SetLinkEntry } from "./SetLinkEntry.tsx";

export type SetShown = Plan["datumSets"][number];

export function DatumSetEntry({ set, at, of }: { set: SetShown | null; at: number; of: number }) {
	const session = useSession();
	const unit = session.units.value;
	const own = (session.commission.value as Commission).datumSets[at];
	return (
		<div>
			{of > 1 && <h4>Set {set?.name}</h4>}
			<SeatTable set={set} at={at} />
			{set && (
				<Figures
					rows={[
						[
							"AB · BC · CA",
							set.sides_mm.map((side) => lengthNumber(side, finely(unit))).join(" · "),
							undefined,
							`check to ${lengthText(0.2, unit, 2)}`,
						],
						["worst target error", lengthText(set.worstError_mm, unit, 2)],
					]}
				/>
			)}
			{set && <SetLinkEntry set={set} at={at} />}
			{set && <SeatsMeasured set={set} at={at} />}
			{own && of > 1 && (
				<>
					<TextField label="name of the set" value={own.name} most={40} onSet={(name) => nameSet(session, at, name)} />
					<div class="acts">
						<button type="button" class="word" onClick={() => void removeSet(session, at)}>
							leave out set {own.name}
						</button>
					</div>
				</>
			)}
		</div>
	);
}

function SeatTable({ set, at }: { set: SetShown | null; at: number }) {
	const session = useSession();
	const unit = session.units.value;
	const pick = picking.value;
	return (
		<table class="list">
			<caption class="unseen">Seats in the stone{set ? `, set ${set.name}` : ""}</caption>
			<thead>
				<tr>
					<th class="words" scope="col">
						datum
					</th>
					<th class="words" scope="col">
						seat
					</th>
					<th scope="col">u</th>
					<th scope="col">v</th>
					<th scope="col" title="from the skin to the seat">
						deep
					</th>
					<th scope="col">
						<span class="unseen">pick</span>
					</th>
				</tr>
			</thead>
			<tbody>
				{LETTERS.map((letter, i) => {
					const datum = set?.datums[i];
					const index = i as 0 | 1 | 2;
					const isHeld = held.value?.kind === "datum" && held.value.set === at && held.value.index === i;
					return (
						<tr key={letter} class={isHeld ? "pointed" : ""}>
							<td class="words">
								<button
									type="button"
									class="word"
									aria-pressed={isHeld}
									aria-label={`hold datum ${letter}, to move it with the arrow keys on the banker`}
									disabled={!datum}
									onClick={() => {
										held.value = isHeld ? null : { kind: "datum", set: at, index };
									}}
								>
									{letter}
								</button>
							</td>
							<td class="words" title={datum && `leans ${datum.lean_deg.map((d) => angleText(d)).join(", ")}`}>
								{datum?.face ?? ""}
							</td>
							<td>{datum ? placeText(datum.u_mm, finely(unit)) : ""}</td>
							<td>{datum ? placeText(datum.v_mm, finely(unit)) : ""}</td>
							<td>{datum ? lengthNumber(datum.depth_mm, finely(unit)) : ""}</td>
							<td>
								<button
									type="button"
									class="word"
									aria-pressed={pick?.kind === "datum" && pick.set === at && pick.index === i}
									aria-label={`pick datum ${letter} on the model`}
									disabled={!session.mesh.value}
									onClick={() => {
										picking.value = { kind: "datum", set: at, index, onward: false };
									}}
								>
									pick
								</button>
							</td>
						</tr>
					);
				})}
			</tbody>
		</table>
	);
}
