/** Datums A, B and C: where they touch the model, where their seats lie in the stone, and what a seat's error does. */

import type { Commission } from "../../core/plan/commission.ts";
import { angleText, lengthNumber, lengthText } from "../../core/text/format.ts";
import { LengthField } from "../fields/LengthField.tsx";
import { useSession } from "../state/context.ts";
import { isSuggested, LETTERS, suggestDatums } from "../state/datums.ts";
import { placeText } from "../state/points.ts";
import { colouring, held, type Picking, picking } from "../state/ui.ts";
import { Card, Figures } from "./Card.tsx";

export function DatumCard() {
	const session = useSession();
	const commission = session.commission.value as Commission;
	const plan = session.plan.value;
	const unit = session.units.value;
	const suggested = isSuggested(commission);
	const pick = picking.value;
	const isPicking = (set: number, index: number): boolean =>
		pick?.kind === "datum" && pick.set === set && pick.index === index;
	const start = (next: Picking): void => {
		picking.value = next;
	};
	const sets = plan?.datumSets ?? [];
	return (
		<Card title="Datums" place="datums">
			<p class="reason">
				{suggested
					? "Suggested: the triangle that makes the worst target best. Pick your own, or drag a letter on the model."
					: "Picked by you. Drag a letter on the model, or move it with the arrow keys."}
			</p>
			{(sets.length === 0 ? [null] : sets).map((set, s) => (
				<div key={set?.name ?? "none"}>
					{sets.length > 1 && <h4>{set?.name}</h4>}
					<table class="list">
						<caption class="unseen">Seats in the stone</caption>
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
								const isHeld = held.value?.kind === "datum" && held.value.set === s && held.value.index === i;
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
													held.value = isHeld ? null : { kind: "datum", set: s, index };
												}}
											>
												{letter}
											</button>
										</td>
										<td class="words" title={datum && `leans ${datum.lean_deg.map((d) => angleText(d)).join(", ")}`}>
											{datum?.face ?? ""}
										</td>
										<td>{datum ? placeText(datum.u_mm, unit) : ""}</td>
										<td>{datum ? placeText(datum.v_mm, unit) : ""}</td>
										<td>{datum ? lengthNumber(datum.depth_mm, unit) : ""}</td>
										<td>
											<button
												type="button"
												class="word"
												aria-pressed={isPicking(s, i)}
												aria-label={`pick datum ${letter} on the model`}
												disabled={!session.mesh.value}
												onClick={() => start({ kind: "datum", set: s, index, onward: false })}
											>
												pick
											</button>
										</td>
									</tr>
								);
							})}
						</tbody>
					</table>
					{set && (
						<Figures
							rows={[
								[
									"AB · BC · CA",
									set.sides_mm.map((side) => lengthNumber(side, unit)).join(" · "),
									undefined,
									"check to 0.2 mm",
								],
								["worst target error", lengthText(set.worstError_mm, unit, 2)],
							]}
						/>
					)}
				</div>
			))}
			<div class="acts">
				<button
					type="button"
					class="act"
					aria-pressed={pick?.kind === "datum" && pick.onward}
					disabled={!session.mesh.value}
					onClick={() => start({ kind: "datum", set: 0, index: 0, onward: true })}
				>
					Pick A, B and C
				</button>
				{pick?.kind === "datum" && (
					<button
						type="button"
						class="act"
						onClick={() => {
							picking.value = null;
						}}
					>
						Leave off
					</button>
				)}
				{!suggested && (
					<button type="button" class="word" onClick={() => void suggestDatums(session)}>
						put back the suggestion
					</button>
				)}
			</div>
			<LengthField
				label="a seat is off by (r.m.s.)"
				mm={commission.seatError_mm}
				standard={session.standard.value?.seatError_mm}
				least={0.01}
				most={20}
				digits={2}
				onSet={(mm) =>
					session.change(`seat error ${lengthText(mm, unit, 2)}`, (c) => ({ ...c, seatError_mm: mm }), {
						key: "seatError",
					})
				}
			/>
			<LengthField
				label="stud under a datum"
				mm={commission.stud_mm}
				standard={session.standard.value?.stud_mm}
				most={200}
				onSet={(mm) => session.change(`studs ${lengthText(mm, unit)}`, (c) => ({ ...c, stud_mm: mm }), { key: "stud" })}
			/>
			{commission.transfer === "machine" && (
				<LengthField
					label="the cross spans at most"
					mm={commission.span_mm}
					standard={session.standard.value?.span_mm}
					least={10}
					onSet={(mm) =>
						session.change(`span ${lengthText(mm, unit)}`, (c) => ({ ...c, span_mm: mm }), { key: "span" })
					}
				/>
			)}
			{session.maps.value?.seatError && (
				<div class="acts">
					<button
						type="button"
						class="word"
						onClick={() => {
							colouring.value = { kind: "seat error" };
						}}
					>
						show the error on the model
					</button>
				</div>
			)}
		</Card>
	);
}
