/** Whether a new scan stands as it was scanned: asked at the head of the page until it is said, and in nobody's way. */

import type { Commission } from "../../core/plan/commission.ts";
import { lengthText } from "../../core/text/format.ts";
import { useSession } from "../state/context.ts";
import { asScanned, turnedStance, withStance, withStanceSaid } from "../state/stance.ts";
import { setTrouble } from "../state/ui.ts";
import { standsOn } from "../words/resting.ts";
import { Card } from "./Card.tsx";
import { RestingActs, TURNS } from "./StanceCard.tsx";

/** The safest of the other faces; the rest stand in the card of the stance. */
const MOST_FACES = 3;

export function StanceQuestion() {
	const session = useSession();
	const commission = session.commission.value as Commission;
	if (commission.model.stanceSaid) return null;
	const { model, resting } = session.answers.value ?? {};
	const others = (resting?.faces ?? []).filter(({ normal }) => !standsOn(normal)).slice(0, MOST_FACES);
	return (
		<Card title="Does it stand like this?" shows={["resting"]}>
			<p class="trouble">
				{asScanned(commission) ? "A scan does not say which way is up" : "Turned, and not yet said to stand so"}
				{model && `: like this it is ${lengthText(model.size[2], session.units.value, 0)} high`}. Look at it from the
				front; the foot stands on the bed of the block.
			</p>
			<div class="acts">
				<button
					type="button"
					class="act main"
					onClick={() => session.change("it stands like this", (c) => withStanceSaid(c, true))}
				>
					Yes, like this
				</button>
			</div>
			<p class="reason">No, it stands otherwise:</p>
			<div class="acts">
				{TURNS.map(([turn, words]) => (
					<button
						type="button"
						class="act"
						key={turn}
						aria-label={`${words} a quarter turn`}
						onClick={() =>
							setTrouble(
								"stance",
								session.change(`${words} 90°`, (c) =>
									withStance(c, turnedStance(c.model.stance, turn, 90, c.scan.mirrored)),
								),
							)
						}
					>
						{words}
					</button>
				))}
			</div>
			{others.length > 0 && (
				<>
					<p class="reason">or stand it where it would rest by itself:</p>
					<RestingActs faces={others} />
				</>
			)}
		</Card>
	);
}
