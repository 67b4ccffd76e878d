/** Cast check: calliper lengths on the cast beside the same lengths on the scan, and whether the cast has drifted in size. */

import type { Commission } from "../../core/plan/commission.ts";
import { lengthNumber } from "../../core/text/format.ts";
import { refusalText } from "../../core/text/refusals.ts";
import { distance } from "../../core/vector.ts";
import { LengthField } from "../fields/LengthField.tsx";
import { addPair, hasBenchModel, pickPair, placesPicked, removePair, takeOverCast } from "../state/cast.ts";
import { useSession } from "../state/context.ts";
import { castDraft, picking } from "../state/ui.ts";
import { castAnswer, misreadText } from "../words/cast.ts";
import { Card } from "./Card.tsx";

export function CastCard() {
	const session = useSession();
	const { castPairs } = (session.commission.value as Commission).model;
	if (!hasBenchModel(session)) return null;
	const active = picking.value?.kind === "cast";
	const whole = placesPicked(session).length === 2;
	const cast = castPairs.length > 0 ? session.answers.value?.cast : null;
	return (
		<Card title="Cast check" shows={["cast"]} place="cast">
			<p class="reason">
				Plaster swells as it sets, and a cast of a cast again. Read some long distances on the cast with callipers.
			</p>
			{castPairs.length > 0 && <PairTable />}
			{cast?.issue && <p class="reason">{refusalText(cast.issue)}</p>}
			{cast?.check && <Verdict check={cast.check} />}
			{whole && (
				<LengthField
					label="length read on the cast"
					mm={null}
					empty="read"
					least={1}
					onSet={(mm) => addPair(session, mm)}
				/>
			)}
			<div class="acts">
				<button
					type="button"
					class="act"
					aria-pressed={active}
					disabled={!session.mesh.value}
					onClick={() => {
						if (active) picking.value = null;
						else pickPair();
					}}
				>
					{active ? "Leave off" : whole ? "Pick the pair again" : "Pick two places"}
				</button>
				{whole && (
					<button
						type="button"
						class="word"
						onClick={() => {
							castDraft.value = null;
						}}
					>
						drop this pair
					</button>
				)}
			</div>
		</Card>
	);
}

type Check = Parameters<typeof castAnswer>[0];

function Verdict({ check }: { check: Check }) {
	const session = useSession();
	const unit = session.units.value;
	const misread = misreadText(check, unit);
	return (
		<>
			<p class={check.drift === "none" ? "answer" : "answer bad"}>{castAnswer(check, unit)}</p>
			{misread !== null && <p class="trouble">{misread}</p>}
			{check.drift !== "none" && (
				<>
					<p class="reason">Taken over, model and stone get the cast's size; picked places move with them.</p>
					<div class="acts">
						<button
							type="button"
							class="act"
							disabled={session.stale.value}
							onClick={() => void takeOverCast(session, check.scale)}
						>
							Take it over
						</button>
					</div>
				</>
			)}
		</>
	);
}

function PairTable() {
	const session = useSession();
	const unit = session.units.value;
	const { castPairs, benchScale } = (session.commission.value as Commission).model;
	const check = session.stale.value ? null : session.answers.value?.cast?.check;
	return (
		<table class="list">
			<caption class="unseen">Calliper pairs</caption>
			<thead>
				<tr>
					<th class="words" scope="col">
						pair
					</th>
					<th scope="col">scan</th>
					<th scope="col">cast</th>
					<th scope="col" title="what is left of the reading when the best size is taken away">
						off
					</th>
					<th scope="col">
						<span class="unseen">remove</span>
					</th>
				</tr>
			</thead>
			<tbody>
				{castPairs.map((pair, i) => (
					<tr key={`${i} ${pair.a_mm.join()}`}>
						<td class="words">{i + 1}</td>
						<td>{lengthNumber(distance(pair.a_mm, pair.b_mm) / benchScale, unit)}</td>
						<td>{lengthNumber(pair.read_mm, unit)}</td>
						<td class={check?.misread === i ? "bad" : ""}>
							{check?.pairs[i] ? lengthNumber(check.pairs[i].residual, unit, 2) : ""}
						</td>
						<td>
							<button
								type="button"
								class="word"
								aria-label={`remove calliper pair ${i + 1}`}
								onClick={() => void removePair(session, i)}
							>
								remove
							</button>
						</td>
					</tr>
				))}
			</tbody>
		</table>
	);
}
