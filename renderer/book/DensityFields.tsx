/** How many points in all: one number over the rounds, in place of one for each. */

import type { Commission } from "../../core/plan/commission.ts";
import { shareOut } from "../../core/pointing/shareOut.ts";
import { shareText } from "../../core/text/format.ts";
import { NumberField } from "../fields/NumberField.tsx";
import { useSession } from "../state/context.ts";
import { usePlanInTurn } from "../state/inTurn.ts";
import { manyText } from "../words/health.ts";

/** More than a carver drills in a year; the rounds' own bound is the same for each. */
const MOST = 5000;

export function DensityFields() {
	const session = useSession();
	const { rounds } = session.commission.value as Commission;
	const plan = usePlanInTurn();
	const placed = plan?.rounds.length === rounds.length ? plan.rounds : null;
	const byNumber = rounds.some(({ count }) => count !== null);
	// As cover has shared them out; once by number, as the numbers stand.
	const weights = rounds.map(({ count }, i) => count ?? placed?.[i].points ?? null);
	const known = weights.every((weight) => weight !== null);
	const sum = known ? weights.reduce((all, weight) => all + weight, 0) : null;
	const held = placed?.filter(({ claimedShare }) => claimedShare !== null).at(-1)?.claimedShare ?? null;
	return (
		<>
			{sum !== null && (
				<NumberField
					label="about how many points in all"
					value={sum}
					least={rounds.length}
					most={MOST}
					whole
					step={10}
					onSet={(total) =>
						session.change(`about ${manyText(total, "point")} in all`, (c) => {
							const counts = shareOut(total, known ? weights : []);
							return { ...c, rounds: c.rounds.map((round, i) => ({ ...round, count: counts[i] })) };
						})
					}
				/>
			)}
			<p class="reason" data-density={byNumber ? "number" : "cover"}>
				{byNumber
					? "By number: each round has its own below, whatever its cover."
					: "As many as cover asks for. Type a number to take fewer or more."}
				{placed &&
					held !== null &&
					!session.stale.value &&
					` ${countWords(placed)}, ${shareText(held)} of the surface held at the last join.`}
			</p>
			{byNumber && (
				<div class="acts">
					<button
						type="button"
						class="word"
						onClick={() =>
							void session.change("points by cover", (c) => ({
								...c,
								rounds: c.rounds.map((round) => ({ ...round, count: null })),
							}))
						}
					>
						put back: by cover
					</button>
				</div>
			)}
			<details class="more">
				<summary>cover, eye factor, foreseen: what they mean</summary>
				<p class="reason">
					<b>Cover</b>: the stone that is sure to be left over the figure when the ground between the points is joined.
				</p>
				<p class="reason">
					<b>Eye factor</b>: 1 keeps that cover between flat joins; over 1 takes fewer points, and you read the curve
					between them from the model.
				</p>
				<p class="reason">
					<b>Foreseen</b>: an even net at the spacing that the sharpest bend asks for, earlier points counted in. Ridges
					and folds bend one way only, so fewer are placed; points that the check adds come on top.
				</p>
			</details>
		</>
	);
}

const countWords = (rounds: readonly { readonly points: number }[]): string =>
	`${manyText(
		rounds.reduce((all, { points }) => all + points, 0),
		"point",
	)} placed`;
