/** Has anything moved? From proof marks and points read again, in words, with the depths that hold until it is set right. */

import { toRead } from "../../core/bench/toRead.ts";
import type { Plan } from "../../core/plan/planFile.ts";
import { depthNumber, lengthNumber, unitWord } from "../../core/text/format.ts";
import { movedText, toReadText } from "../../core/text/movedWords.ts";
import { benchTime } from "../bench/benchWork.ts";
import { useSession } from "../state/context.ts";
import { fartherOf, movedOf } from "../state/moved.ts";
import { benchReadsMarks, benchShown, pointed } from "../state/ui.ts";
import { Card } from "./Card.tsx";

/** Points of which the corrected depth is shown here; the bench view has them all. */
const SHOWN = 8;

export function MovedCard() {
	const session = useSession();
	const plan = session.plan.value;
	const unit = session.units.value;
	const moved = movedOf(session).value;
	if (!plan) return null;
	return (
		<Card title="Has anything moved?">
			{moved === null ? (
				<p class="reason">
					From proof marks and done points read again, morning and evening and after turning the stone, this says
					whether a seat, the cross or the needle has moved, and by how much.
				</p>
			) : (
				<>
					<p class="reason">From what was read on {moved.day}:</p>
					{movedText(moved.verdict, moved.names, unit).map((words) => (
						<p key={words} class={moved.verdict.answer === "moved" ? "trouble" : undefined}>
							{words}
						</p>
					))}
					<Corrected plan={plan} farther={fartherOf(moved)} />
				</>
			)}
			<Wanted plan={plan} />
		</Card>
	);
}

/** What to read today, and the way there. */
function Wanted({ plan }: { plan: Plan }) {
	const log = useSession().commission.value?.log ?? [];
	const wanted = toRead(plan, log, benchTime(new Date()).slice(0, 10));
	const toBench = (readsMarks: boolean): void => {
		benchReadsMarks.value = readsMarks;
		benchShown.value = true;
	};
	const next = wanted.points.at(0);
	const hasMarks = wanted.first.length + wanted.marks.length > 0;
	return (
		<>
			{toReadText(wanted, plan.transfer).map((words) => (
				<p key={words}>{words}</p>
			))}
			<div class="acts">
				{hasMarks && (
					<button type="button" class="act" onClick={() => toBench(true)}>
						Read the proof marks
					</button>
				)}
				{next !== undefined && (
					<button
						type="button"
						class="act"
						onClick={() => {
							pointed.value = next;
							toBench(false);
						}}
					>
						Read point {next} again
					</button>
				)}
			</div>
		</>
	);
}

function Corrected({ plan, farther }: { plan: Plan; farther: ReadonlyMap<number, number> }) {
	const unit = useSession().units.value;
	const rows = plan.points.filter((point) => farther.has(point.number) && point.depth_mm !== null);
	if (rows.length === 0) return null;
	return (
		<>
			<table class="list">
				<thead>
					<tr>
						<th scope="col">no.</th>
						<th scope="col">depth</th>
						<th scope="col">corrected</th>
						<th scope="col">less by</th>
					</tr>
				</thead>
				<tbody>
					{rows.slice(0, SHOWN).map((point) => {
						const by = farther.get(point.number) as number;
						const depth = point.depth_mm as number;
						return (
							<tr
								key={point.number}
								class="pick"
								onPointerEnter={() => {
									pointed.value = point.number;
								}}
							>
								<td>{point.number}</td>
								<td>{depthNumber(depth, unit)}</td>
								<td>{depthNumber(depth - by, unit)}</td>
								<td>{lengthNumber(by, unit)}</td>
							</tr>
						);
					})}
				</tbody>
			</table>
			<p class="reason">
				{rows.length > SHOWN ? `${rows.length - SHOWN} more in the bench view. ` : ""}Depths in {unitWord(unit)}; they
				hold until what moved has been set right and the marks read as they did.
			</p>
		</>
	);
}
