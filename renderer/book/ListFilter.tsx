/** Which points are shown, on the list, the tape and the banker alike. */

import { useId } from "preact/hooks";
import { usePlanInTurn } from "../state/inTurn.ts";
import { letThrough } from "../state/points.ts";
import { type PointFilter, pointFilter, run } from "../state/ui.ts";

const KINDS: readonly (readonly [PointFilter["kind"], string])[] = [
	["all", "all points"],
	["undercut", "undercuts"],
	["by eye", "on by-eye ground"],
	["picked", "picked by you"],
];

export function ListFilter() {
	const id = useId();
	const plan = usePlanInTurn();
	if (!plan) return null;
	const filter = pointFilter.value;
	const set = (part: Partial<PointFilter>): void => {
		pointFilter.value = { ...filter, ...part };
	};
	const shown = plan.points.filter((point) => letThrough(point, filter, plan)).length;
	const undercut = plan.points.filter((point) => point.undercut).length;
	return (
		<>
			<div class="field">
				<label for={`${id}text`}>look for</label>
				<span class="written text">
					<input
						id={`${id}text`}
						type="search"
						placeholder="12, 30–45, front"
						value={filter.text}
						onInput={(event) => set({ text: event.currentTarget.value })}
					/>
				</span>
			</div>
			<div class="field">
				<label for={`${id}round`}>round</label>
				<select
					id={`${id}round`}
					value={filter.round === null ? "" : String(filter.round)}
					onChange={(event) =>
						set({ round: event.currentTarget.value === "" ? null : Number(event.currentTarget.value) })
					}
				>
					<option value="">every round</option>
					{plan.rounds.map((round, i) => (
						<option key={round.name} value={i}>
							{round.name}
						</option>
					))}
				</select>
			</div>
			<div class="field">
				<label for={`${id}kind`}>which</label>
				<select
					id={`${id}kind`}
					value={filter.kind}
					onChange={(event) => set({ kind: event.currentTarget.value as PointFilter["kind"] })}
				>
					{KINDS.map(([value, words]) => (
						<option key={value} value={value}>
							{words}
						</option>
					))}
				</select>
			</div>
			<p class="reason" aria-live="polite">
				{shown} of {plan.points.length} points
				{undercut > 0 && `; ${undercut} of all are undercut, with no line to drill`}
				{run.value && `, of them the run ${run.value[0] + 1} to ${run.value[1] + 1} of the tape`}
			</p>
		</>
	);
}
