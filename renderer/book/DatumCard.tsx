/** Datums A, B and C: where they touch the model, where their seats lie in the stone, and what a seat's error does. */

import { useSignal } from "@preact/signals";
import type { Commission } from "../../core/plan/commission.ts";
import { sizeText } from "../../core/text/format.ts";
import { LengthField } from "../fields/LengthField.tsx";
import { useSession } from "../state/context.ts";
import { MOST_SETS, pickFurtherSet } from "../state/datumSets.ts";
import { isSuggested, suggestDatums } from "../state/datums.ts";
import { usePlanInTurn } from "../state/inTurn.ts";
import { colouring, type Picking, picking } from "../state/ui.ts";
import { Card } from "./Card.tsx";
import { DatumSetEntry } from "./DatumSetEntry.tsx";

/** Whether drilling asks for datums at all, as far as the carver has said how the copy is carried over. */
const NEEDLESS: Readonly<Record<"faces" | "straightedge", string>> = {
	faces: "Not needed: every hole is measured from the block's own faces.",
	straightedge: "Not needed: every depth is measured below the straightedge on the margins.",
};

/** At the head of the page where anything is read from datums, else folded at its end. */
export function DatumCard({ at }: { at: "head" | "end" }) {
	const { transfer } = useSession().commission.value as Commission;
	const needless = transfer === "faces" || transfer === "straightedge" ? NEEDLESS[transfer] : null;
	const open = useSignal(false);
	if ((needless !== null) !== (at === "end")) return null;
	return (
		<Card title="Datums" shows={["datumSets"]} place="datums">
			{needless === null ? (
				<Datums />
			) : (
				<>
					<p class="reason">{needless} The sheets leave A, B and C out.</p>
					<details
						class="more"
						onToggle={(event) => {
							open.value = event.currentTarget.open;
						}}
					>
						<summary>datums and their errors all the same</summary>
						{open.value && <Datums />}
					</details>
				</>
			)}
		</Card>
	);
}

function Datums() {
	const session = useSession();
	const commission = session.commission.value as Commission;
	const plan = usePlanInTurn();
	const unit = session.units.value;
	const suggested = isSuggested(commission);
	const pick = picking.value;
	const start = (next: Picking): void => {
		picking.value = next;
	};
	const sets = plan?.datumSets ?? [];
	const readsFromDatums = commission.transfer === "machine" || commission.transfer === "callipers";
	return (
		<>
			<p class="reason">
				{suggested
					? "Suggested: the triangle that makes the worst target best. Pick your own, or drag a letter on the model."
					: "Picked by you. Drag a letter on the model, or move it with the arrow keys."}
			</p>
			{(sets.length === 0 ? [null] : sets).map((set, s) => (
				<DatumSetEntry key={set?.name ?? "none"} set={set} at={s} of={sets.length} />
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
				{readsFromDatums && sets.length > 0 && sets.length < MOST_SETS && (
					<button type="button" class="act" disabled={!session.mesh.value} onClick={() => pickFurtherSet(session)}>
						Pick a further set
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
					session.change(`seat error ${sizeText(mm, unit, 2)}`, (c) => ({ ...c, seatError_mm: mm }), {
						key: "seatError",
					})
				}
			/>
			<LengthField
				label="stud under a datum"
				mm={commission.stud_mm}
				standard={session.standard.value?.stud_mm}
				most={200}
				onSet={(mm) => session.change(`studs ${sizeText(mm, unit)}`, (c) => ({ ...c, stud_mm: mm }), { key: "stud" })}
			/>
			{commission.transfer === "machine" && (
				<LengthField
					label="the cross spans at most"
					mm={commission.span_mm}
					standard={session.standard.value?.span_mm}
					least={10}
					onSet={(mm) => session.change(`span ${sizeText(mm, unit)}`, (c) => ({ ...c, span_mm: mm }), { key: "span" })}
				/>
			)}
			{commission.transfer === "machine" && (
				<LengthField
					label="its arm reaches"
					mm={commission.arm_mm}
					standard={session.standard.value?.arm_mm}
					least={10}
					onSet={(mm) => session.change(`arm ${sizeText(mm, unit)}`, (c) => ({ ...c, arm_mm: mm }), { key: "arm" })}
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
		</>
	);
}
