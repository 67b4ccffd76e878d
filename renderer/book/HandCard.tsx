/** Moving the figure in its stone by hand, with what is left at every face as it moves. */

import type { Commission } from "../../core/plan/commission.ts";
import { lengthNumber, lengthText, sizeText } from "../../core/text/format.ts";
import type { Vec3 } from "../../core/vector.ts";
import { useSession } from "../state/context.ts";
import { gapsInHand, inHand, letItSettle, moveInHand, putDown, takeInHand, turnInHand } from "../state/hand.ts";
import { Card } from "./Card.tsx";
import { withStone } from "./withStone.ts";

const MOVES: readonly { readonly words: string; readonly by: Vec3 }[] = [
	{ words: "left", by: [-1, 0, 0] },
	{ words: "right", by: [1, 0, 0] },
	{ words: "forward", by: [0, -1, 0] },
	{ words: "back", by: [0, 1, 0] },
	{ words: "down", by: [0, 0, -1] },
	{ words: "up", by: [0, 0, 1] },
];
const DEGREE = Math.PI / 180;

export function HandCard() {
	const session = useSession();
	const { stone, drilled } = session.commission.value as Commission;
	const unit = session.units.value;
	const answer = session.answers.value?.stone;
	if (!answer) return null;
	const held = inHand.value;
	if (!held)
		return (
			<Card title="By hand" shows={["stone"]} place="hand">
				<p class="reason">
					{stone.byHand
						? `${drilled.length > 0 ? "It stays where it was drilled." : "You placed it."} Where most is to spare it would spare ${lengthText(answer.best.spare, unit)}.`
						: "It lies where most is to spare. You may move it in the stone yourself."}
				</p>
				<div class="acts">
					<button type="button" class="act" onClick={() => takeInHand(session)}>
						Take it in hand
					</button>
					{stone.byHand && (
						<button
							type="button"
							class="word"
							onClick={() =>
								session.change("place it where most is to spare", (c) => withStone(c, { byHand: null }), {
									places: true,
								})
							}
						>
							back to the best
						</button>
					)}
				</div>
			</Card>
		);
	const gaps = gapsInHand(session) ?? [];
	const least = Math.min(...gaps.map((gap) => gap.gap - gap.margin));
	return (
		<Card title="By hand" shows={["stone"]} place="hand">
			<p class={least < 0 ? "answer bad" : "answer"} data-answer="hand">
				{held.snapped
					? `It lies where most is to spare: ${lengthText(least, unit)}.`
					: least < 0
						? `${lengthText(-least, unit)} too little at the tightest face.`
						: `${lengthText(least, unit)} to spare as you hold it.`}
			</p>
			<table class="list">
				<caption class="unseen">Stone left at each face as it is held</caption>
				<tbody>
					{gaps.map(({ face, gap, margin }) => (
						<tr key={face} class={gap < margin ? "pointed" : ""}>
							<td class="words">{face}</td>
							<td>{lengthNumber(gap, unit)}</td>
						</tr>
					))}
				</tbody>
			</table>
			<p class="reason">
				Drag it on the banker; with Alt it turns about the vertical. Here by {sizeText(1, unit, 2)} and 1°:
			</p>
			<div class="acts">
				{MOVES.map(({ words, by }) => (
					<button type="button" class="word" key={words} onClick={() => moveInHand(session, by)}>
						{words}
					</button>
				))}
				<button type="button" class="word" onClick={() => turnInHand(session, [0, 0, 1], DEGREE)}>
					turn left
				</button>
				<button type="button" class="word" onClick={() => turnInHand(session, [0, 0, 1], -DEGREE)}>
					turn right
				</button>
			</div>
			<div class="acts">
				<button type="button" class="act" onClick={() => void letItSettle(session)}>
					Let it settle
				</button>
				<button type="button" class="act main" onClick={() => putDown(session)}>
					Leave it there
				</button>
				<button
					type="button"
					class="word"
					onClick={() => {
						inHand.value = null;
					}}
				>
					put it back
				</button>
			</div>
		</Card>
	);
}
