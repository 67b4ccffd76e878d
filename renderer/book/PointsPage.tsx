/** Page 3: datums and seats, lies, rounds, picked points, the list, and what no drill reaches. */

import { useSignal } from "@preact/signals";
import type { Commission } from "../../core/plan/commission.ts";
import type { PlanPoint } from "../../core/plan/planFile.ts";
import { lengthText } from "../../core/text/format.ts";
import { useSession } from "../state/context.ts";
import { removePick } from "../state/datums.ts";
import { usePlanInTurn } from "../state/inTurn.ts";
import { held, listShown, pointed } from "../state/ui.ts";
import { waitText } from "../words/waitWords.ts";
import { AreaCard } from "./AreaCard.tsx";
import { Card } from "./Card.tsx";
import { DatumCard } from "./DatumCard.tsx";
import { Gradually } from "./Gradually.tsx";
import { LieCard } from "./LieCard.tsx";
import { LineCard } from "./LineCard.tsx";
import { ListFilter } from "./ListFilter.tsx";
import { OrderCard } from "./OrderCard.tsx";
import { PickButton } from "./PickButton.tsx";
import { PointList } from "./PointList.tsx";
import { ProofMarkCard } from "./ProofMarkCard.tsx";
import { QuietCautions } from "./QuietCautions.tsx";
import { RoundCard } from "./RoundCard.tsx";

export function PointsPage() {
	const session = useSession();
	const waits = session.answers.value?.waits.filter((wait) => wait.page === "points") ?? [];
	return (
		<Gradually>
			{waits.map(({ issue }) => (
				<section class="card" key={issue.code}>
					<p class="trouble">{waitText(issue, session.units.value)}</p>
				</section>
			))}
			<DatumCard at="head" />
			<ProofMarkCard />
			<LieCard />
			<RoundCard />
			<AreaCard />
			<OrderCard />
			<LineCard />
			<PickCard />
			<ListCard />
			<UndercutCard />
			<DatumCard at="end" />
			<QuietCautions about={["Dust", "Vibration", "Noise", "Drilling", "Electricity and water"]} />
		</Gradually>
	);
}

function PickCard() {
	const session = useSession();
	const unit = session.units.value;
	const { picks } = session.commission.value as Commission;
	return (
		<Card title="Points picked by you" place="picks">
			<p class="reason">
				{picks.length === 0
					? "A place picked here becomes a point, whatever the spacing."
					: `${picks.length} picked; they stay when the rest is spread anew.`}
			</p>
			<div class="acts">
				<PickButton pick={{ kind: "point" }} words="Pick points on the model" />
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
	const plan = usePlanInTurn();
	if (!plan) return null;
	return (
		<Card title="List" shows={["plan"]}>
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
			<p class="reason">Click a point, here, on the model or on the tape, to see its hole cut open.</p>
			{!listShown.value && <PointList wide={false} />}
		</Card>
	);
}

/** Points by what bars them, which many share; what would open each stands with its number. */
interface Barred {
	readonly why: string;
	readonly points: { readonly number: number; readonly more: string }[];
}

function barredBy(points: readonly PlanPoint[]): Barred[] {
	const groups = new Map<string, Barred>();
	for (const { number, reason } of points) {
		const [, why, more] = /^(.*?[.!])\s+(.*)$/s.exec(reason) ?? ["", reason, ""];
		const group = groups.get(why) ?? { why, points: [] };
		group.points.push({ number, more });
		groups.set(why, group);
	}
	return [...groups.values()].sort((a, b) => b.points.length - a.points.length);
}

function UndercutCard() {
	const plan = usePlanInTurn();
	if (!plan) return null;
	const undercuts = barredBy(plan.points.filter((point) => point.undercut));
	const byEye = barredBy(plan.points.filter((point) => point.byEye && !point.undercut));
	return (
		<Card title="Undercuts and by-eye ground" shows={["plan"]}>
			{undercuts.length === 0 && byEye.length === 0 && (
				<p class="reason">Every point has a drill line and every join its cover.</p>
			)}
			{undercuts.map((group) => (
				<Reason key={group.why} head="undercut" {...group} />
			))}
			{byEye.map((group) => (
				<Reason key={group.why} head="by eye" {...group} />
			))}
		</Card>
	);
}

function Reason({ head, why, points }: Barred & { head: string }) {
	const open = useSignal(false);
	const words = why === "" || why === head ? "" : `: ${why}`;
	return (
		<div class="entry">
			<p>
				<b>
					{points.length} {head}
				</b>
				{words}
			</p>
			<details
				class="more"
				onToggle={(event) => {
					open.value = event.currentTarget.open;
				}}
			>
				<summary>{points.some((point) => point.more !== "") ? "which, and what would open them" : "which"}</summary>
				{open.value &&
					points.map(({ number, more }) => (
						<p class="reason" key={number}>
							<button
								type="button"
								class="word"
								onClick={() => {
									pointed.value = number;
								}}
							>
								{number}
							</button>{" "}
							{more}
						</p>
					))}
			</details>
		</div>
	);
}
