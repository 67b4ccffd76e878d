/** How a further set hangs on an earlier one: by points that both crosses read. */

import { useId } from "preact/hooks";
import type { Commission } from "../../core/plan/commission.ts";
import { useSession } from "../state/context.ts";
import { linkSet, suggestLinkPoints } from "../state/datumSets.ts";
import type { SetShown } from "./DatumSetEntry.tsx";
import { PickButton } from "./PickButton.tsx";

export function SetLinkEntry({ set, at }: { set: SetShown; at: number }) {
	const session = useSession();
	const id = useId();
	const commission = session.commission.value as Commission;
	const sets = session.plan.value?.datumSets ?? [];
	if (at === 0 || (commission.transfer !== "machine" && commission.transfer !== "callipers")) return null;
	const own = commission.datumSets[at]?.link?.points.length ?? 0;
	return (
		<>
			<div class="field">
				<label for={id}>its seats are set by</label>
				<select
					id={id}
					value={set.link ? String(set.link.to) : ""}
					onChange={(event) => {
						const to = event.currentTarget.value;
						linkSet(session, at, to === "" ? null : Number(to));
					}}
				>
					<option value="">the block's faces</option>
					{sets.slice(0, at).map((earlier, i) => (
						<option key={earlier.name} value={String(i)}>
							points read from set {earlier.name}
						</option>
					))}
				</select>
			</div>
			{set.link && (
				<>
					<p class="reason">
						{set.link.suggested
							? `${set.link.points.length} points are suggested that both crosses reach and face (L on the model).`
							: `${own} points picked by you.`}{" "}
						Sink and read them while the seats of set {sets[set.link.to]?.name} still stand; the link's error is counted
						in.
					</p>
					<div class="acts">
						<PickButton pick={{ kind: "link", set: at }} words="Pick the link's points" />
						{own > 0 && (
							<button type="button" class="word" onClick={() => void suggestLinkPoints(session, at)}>
								put back the suggestion
							</button>
						)}
					</div>
				</>
			)}
		</>
	);
}
