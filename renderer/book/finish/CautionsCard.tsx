/** Cautions: this plan's own first, then the standing ones with their published figures; the tools of a day with their sum. */

import { STONE_TOOLS, vibrationOf } from "../../../core/finish/vibration.ts";
import type { Commission } from "../../../core/plan/commission.ts";
import { sentenceIn } from "../../../core/text/format.ts";
import { CAUTION_LAST } from "../../../core/text/sheetWords.ts";
import { NumberField } from "../../fields/NumberField.tsx";
import { useSession } from "../../state/context.ts";
import { changePart } from "../../state/finish.ts";
import { Card } from "../Card.tsx";
import { standingCautions } from "../QuietCautions.tsx";

export function CautionsCard() {
	const session = useSession();
	const cautions = [
		...(session.plan.value?.cautions ?? []).map((words) => ({
			about: "This plan",
			words: sentenceIn(session.units.value, words),
		})),
		...standingCautions(session),
	];
	return (
		<Card title="Cautions" shows={["finish"]} place="cautions">
			<Day />
			{cautions.length === 0 ? (
				<p class="reason">They come with the stone.</p>
			) : (
				<>
					{cautions.map(({ about, words }) => (
						<div class="entry" key={words}>
							<p>
								<b>{about}.</b> {words}
							</p>
						</div>
					))}
					<p class="news">{CAUTION_LAST}</p>
				</>
			)}
		</Card>
	);
}

/** Vibration points of a day, of the tools that are planned for each stage or of the carver's own list. */
function Day() {
	const session = useSession();
	const { workday } = session.commission.value as Commission;
	const standard = session.standard.value?.workday ?? workday;
	const days = session.answers.value?.finish?.days ?? [];
	const put = (tools: Commission["workday"]["tools"], words: string): string | null =>
		changePart(session, words, "workday", { tools });
	return (
		<>
			{days.length > 0 && (
				<table class="list">
					<caption class="unseen">Hand and arm vibration of a day</caption>
					<thead>
						<tr>
							<th class="words" scope="col">
								vibration
							</th>
							<th scope="col">vibration points</th>
							<th scope="col">A(8)</th>
						</tr>
					</thead>
					<tbody>
						{days.map(({ name, points, a8, over, unknown }) => (
							<tr key={name}>
								<td class={over === "nothing" ? "words" : "words bad"}>
									{name}
									{over === "action" ? ": over the action value" : over === "limit" ? ": OVER THE LIMIT" : ""}
									{unknown.length > 0 ? `, without ${unknown.join(", ")}` : ""}
								</td>
								<td class={over === "nothing" ? "" : "bad"}>{Math.round(points)}</td>
								<td>{a8.toFixed(1)}</td>
							</tr>
						))}
					</tbody>
				</table>
			)}
			<p class="reason">
				2 a² points for each hour on the trigger; 100 is the action value, 400 the limit (HSE ready reckoner, 2009;
				Directive 2002/44/EC). Magnitudes: HSE, Stonemasonry, table 1.
			</p>
			{workday.tools.length === 0 ? (
				<>
					<NumberField
						label="on the trigger, share of the day"
						value={workday.triggerShare}
						standard={standard.triggerShare}
						least={0}
						most={1}
						step={0.05}
						onSet={(triggerShare) => changePart(session, "share on the trigger", "workday", { triggerShare })}
					/>
					<div class="acts">
						<button
							type="button"
							class="act"
							onClick={() =>
								put(
									STONE_TOOLS.slice(0, 1).map(({ name, ms2 }) => ({ tool: name, ms2, hours: 1 })),
									"plan a day's tools",
								)
							}
						>
							Plan a day's tools
						</button>
					</div>
				</>
			) : (
				<OwnDay put={put} />
			)}
		</>
	);
}

function OwnDay({ put }: { put(tools: Commission["workday"]["tools"], words: string): string | null }) {
	const session = useSession();
	const { tools } = (session.commission.value as Commission).workday;
	const known = (name: string): number | null => STONE_TOOLS.find((one) => one.name === name)?.ms2 ?? null;
	return (
		<>
			{tools.map((use, i) => {
				const set = (change: Partial<typeof use>, words: string) =>
					put(
						tools.map((one, k) => (k === i ? { ...one, ...change } : one)),
						words,
					);
				return (
					<div class="entry" key={`${i} ${use.tool}`}>
						<div class="field">
							<label for={`tool-${i}`}>tool</label>
							<select
								id={`tool-${i}`}
								value={use.tool}
								onChange={(event) =>
									set({ tool: event.currentTarget.value, ms2: known(event.currentTarget.value) }, "tool of the day")
								}
							>
								{STONE_TOOLS.map(({ name }) => (
									<option key={name}>{name}</option>
								))}
							</select>
						</div>
						<NumberField
							label="vibration"
							unit="m/s²"
							empty="ask its maker"
							value={use.ms2}
							least={0}
							most={100}
							onSet={(ms2) => set({ ms2 }, "vibration of a tool")}
						/>
						<NumberField
							label="on the trigger"
							unit="h"
							value={use.hours}
							least={0}
							most={24}
							step={0.25}
							onSet={(hours) => set({ hours }, "hours of a tool")}
						/>
						<p class="reason">{Math.round(vibrationOf([use]).points)} vibration points.</p>
						<button
							type="button"
							class="word"
							onClick={() =>
								put(
									tools.filter((_, k) => k !== i),
									`remove ${use.tool}`,
								)
							}
						>
							remove
						</button>
					</div>
				);
			})}
			<div class="acts">
				<button
					type="button"
					class="act"
					onClick={() => put([...tools, { tool: "hand tools", ms2: 0, hours: 1 }], "add a tool of the day")}
				>
					Add a tool
				</button>
			</div>
		</>
	);
}
