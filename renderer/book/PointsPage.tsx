/** Page 3: datums and seats, lies, rounds, picked points, the list, and what no drill reaches. */

import type { Commission } from "../../core/plan/commission.ts";
import type { PlanPoint } from "../../core/plan/planFile.ts";
import { lengthText } from "../../core/text/format.ts";
import { refusalText } from "../../core/text/refusals.ts";
import { useSession } from "../state/context.ts";
import { removePick } from "../state/datums.ts";
import { held, listShown, picking } from "../state/ui.ts";
import { Card } from "./Card.tsx";
import { DatumCard } from "./DatumCard.tsx";
import { LieCard } from "./LieCard.tsx";
import { LineCard } from "./LineCard.tsx";
import { ListFilter } from "./ListFilter.tsx";
import { PointList } from "./PointList.tsx";
import { RoundCard } from "./RoundCard.tsx";

export function PointsPage() {
	const session = useSession();
	const waits = session.answers.value?.waits.filter((wait) => wait.page === "points") ?? [];
	return (
		<>
			{waits.map(({ issue }) => (
				<section class="card" key={issue.code}>
					<p class="trouble">{refusalText(issue)}</p>
				</section>
			))}
			<DatumCard />
			<LieCard />
			<RoundCard />
			<LineCard />
			<PickCard />
			<ListCard />
			<UndercutCard />
		</>
	);
}

function PickCard() {
	const session = useSession();
	const unit = session.units.value;
	const { picks } = session.commission.value as Commission;
	const active = picking.value?.kind === "point";
	return (
		<Card title="Points picked by you" place="picks">
			<p class="reason">
				{picks.length === 0
					? "A place picked here becomes a point, whatever the spacing."
					: `${picks.length} picked; they stay when the rest is spread anew.`}
			</p>
			<div class="acts">
				<button
					type="button"
					class="act"
					aria-pressed={active}
					disabled={!session.mesh.value}
					onClick={() => {
						picking.value = active ? null : { kind: "point" };
					}}
				>
					{active ? "Done picking" : "Pick points on the model"}
				</button>
			</div>
			{picks.map((pick, i) => (
				<div class="entry" key={`${i} ${pick.position_mm.join()}`}>
					<header>
						<h4>
							<button
								type="button"
								class="word"
								aria-pressed={held.value?.kind === "pick" && held.value.index === i}
								onClick={() => {
									held.value = { kind: "pick", index: i };
								}}
							>
								pick {i + 1}
							</button>
							<span class="reason"> {lengthText(pick.position_mm[2], unit)} over the foot</span>
						</h4>
						<button type="button" class="word" onClick={() => void removePick(session, i)}>
							remove
						</button>
					</header>
				</div>
			))}
		</Card>
	);
}

function ListCard() {
	const session = useSession();
	if (!session.plan.value) return null;
	return (
		<Card title="List">
			<ListFilter />
			<div class="acts">
				<button
					type="button"
					class="act"
					aria-pressed={listShown.value}
					onClick={() => {
						listShown.value = !listShown.value;
					}}
				>
					{listShown.value ? "Back to the model" : "Every column, in place of the model"}
				</button>
			</div>
			{!listShown.value && <PointList wide={false} />}
		</Card>
	);
}

/** Reasons are shared by many points: said once, with the numbers that they are about. */
function UndercutCard() {
	const session = useSession();
	const plan = session.plan.value;
	if (!plan) return null;
	const grouped = (which: (point: PlanPoint) => boolean): [string, number[]][] => {
		const groups = new Map<string, number[]>();
		for (const point of plan.points.filter(which))
			groups.set(point.reason, [...(groups.get(point.reason) ?? []), point.number]);
		return [...groups].sort((a, b) => b[1].length - a[1].length);
	};
	const undercuts = grouped((point) => point.undercut);
	const byEye = grouped((point) => point.byEye && !point.undercut);
	return (
		<Card title="Undercuts and by-eye ground">
			{undercuts.length === 0 && byEye.length === 0 && (
				<p class="reason">Every point has a drill line and every join its cover.</p>
			)}
			{undercuts.map(([reason, numbers]) => (
				<Reason key={reason} head="undercut" reason={reason} numbers={numbers} />
			))}
			{byEye.map(([reason, numbers]) => (
				<Reason key={reason} head="by eye" reason={reason} numbers={numbers} />
			))}
		</Card>
	);
}

const NUMBERS_SHOWN = 14;

function Reason({ head, reason, numbers }: { head: string; reason: string; numbers: readonly number[] }) {
	const shown = numbers.slice(0, NUMBERS_SHOWN).join(", ");
	return (
		<div class="entry">
			<p>
				<b>
					{numbers.length} {head}
				</b>
				{reason && `: ${reason}`}
			</p>
			<p class="reason" title={numbers.join(", ")}>
				{shown}
				{numbers.length > NUMBERS_SHOWN && ` and ${numbers.length - NUMBERS_SHOWN} more`}
			</p>
		</div>
	);
}
